// The feeler gauge: a stack of leaves, held at an angle, pushed in.
// Sends gauge_gap and shows what the hand felt; measures and judges nothing.

import { snap, spokenPlace, wrap } from "../drawing/angles.js";
import { button, choices, keepFinger, make, numberField } from "../../../page/dom.js";
import { AT_EDGE, FULL_IN, leafMark } from "../drawing/leaf_mark.js";
import { leafStack } from "./leaf_stack.js";
import { nextStep } from "./next_step.js";
import { checkRow } from "./own_check.js";
import { mm, total } from "./readings.js";
import { wentRound } from "./went_round.js";
import { gapForm, settingOf } from "./write_down.js";

const FREE_DEG = 5; // the hand's step along the rim
const KEYS_DEG = 15;
const TURNED_IN = 12; // units inwards from which the hand no longer goes along the rim
const PUSHED = 40; // units inwards that count as a push
const HANDS = [["soft", "Lightly"], ["forced", "With force"]];
const NOT_YET = "Nothing felt here yet.";
const HINT =
  "On the drawing: tap or drag along the rim, then push inwards. Keys: arrows move by 15° (with Shift 1°), + and − change the leaf, Enter pushes it in; Page Up and Page Down push in the next leaf (with Shift a stack of two hundredths more or less), W writes down, N writes down and goes on to the next place.";

/** Return the tool: its panel, its mark on the drawing, and what shows a scene. */
export function leafTool(bench, drawing, takeUpTool = null) {
  let angle = 0;
  let waiting = false; // the leaf is at the edge and the hand has not felt it yet
  const mark = leafMark();
  const felt = make("p", { class: "felt" }, NOT_YET);
  const form = gapForm(bench, () => angle, { offered: (found) => next.offered(found), wrote: (note) => next.wrote(note) });

  const show = () => {
    mark.place(angle, stack.words(), `${spokenPlace(angle)}, ${stack.words()} millimetres`);
    angleField.value = angle;
  };
  const drawBack = () => {
    if (mark.isIn()) mark.slide(0);
    felt.textContent = NOT_YET;
    show();
    next.show();
  };
  const stack = leafStack(bench, drawBack);

  const turnTo = (deg) => {
    const wanted = wrap(Math.round(deg * 10) / 10);
    if (!Number.isFinite(deg) || wanted === angle) return show();
    angle = wanted;
    drawBack();
    next.moved();
    form.moved(angle);
  };

  const pushIn = () => {
    if (!stack.leaves().length) return bench.decline("Choose a leaf first.");
    mark.slide(AT_EDGE, 120);
    waiting = true;
    bench.wish("gauge_gap", { angle_deg: angle, leaves_mm: stack.leaves(), hand: hand.get() });
  };

  const feel = ({ feel: word, drag, angle_deg, leaves_mm }) => {
    if (word === "slides") mark.slide(FULL_IN, 220);
    else if (word === "drags") mark.slide(FULL_IN * (0.8 - 0.4 * drag), 500 + 900 * drag);
    else mark.spring();
    felt.replaceChildren(make("span", {}, `At ${angle_deg}°: ${mm(total(leaves_mm))} mm `), make("b", {}, word));
    next.moved();
  };

  // A page that was loaded again: the leaf is where it was.
  const takeUp = ({ angle_deg, leaves_mm }) => {
    stack.hold(leaves_mm);
    turnTo(angle_deg);
  };

  const hear = (known, { reply, fixed }) => {
    if (fixed && !stack.isSetOut()) {
      stack.setOut(fixed.leaves_mm);
      const last = known.scene.gap_notes.at(-1);
      if (reply?.seen?.feel) {
        takeUp(reply.seen);
        feel(reply.seen);
      }
      else if (last) takeUp({ angle_deg: last.angle_deg, leaves_mm: [last.go_mm] });
    }
    // Where no answer line speaks for this bench, this line does.
    if (bench.isAnswered()) felt.removeAttribute("role");
    else felt.setAttribute("role", "status");
    if (reply && !fixed) {
      if (reply.seen?.feel) feel(reply.seen);
      else if (waiting && !reply.done) mark.spring();
      if (reply.seen?.feel || !reply.done) waiting = false;
    }
    if (known.scene) {
      round.see(known.scene, settingOf(known.scene), fixed ? known.scene.gap_notes : []);
      form.show(known, { reply, fixed });
    }
  };

  const hand = choices("How it is pushed", HANDS, () => {}, { class: "choice force" });
  hand.set("soft");
  const change = () => angleField.value !== "" && turnTo(Number(angleField.value));
  const [angleLabel, angleField] = numberField("Angle", { min: 0, max: 359, step: 1, value: 0, change }, "°");
  const turner = make(
    "div", { class: "stepper" },
    button("−15°", () => turnTo(angle - KEYS_DEG), { "aria-label": "15° back" }),
    angleLabel,
    button("+15°", () => turnTo(angle + KEYS_DEG), { "aria-label": "15° on" }),
  );
  const round = wentRound("gap", takeUpTool, () => panel);
  const next = nextStep(stack, { angleNow: () => angle, turnTo, pushIn, write: form.write, round });
  const panel = make(
    "div", { class: "tool", keydown: next.takeKey },
    make("div", { class: "hold" }, stack.stepper, turner, button("Push in", pushIn, { class: "main" })),
    felt, next.node, stack.mainRow, make("div", { class: "row" }, stack.thinChoice, hand.node), form.node, checkRow(bench, "leafSet"), make("p", { class: "hint" }, HINT),
  );

  mark.handle.addEventListener("keydown", next.takeKey);
  takeKeys(mark.handle, { turnBy: (deg) => turnTo(angle + deg), turnTo, step: stack.step, pushIn });
  takePointer(mark, drawing, { turnTo, pushIn });
  const follow = ({ angle_deg, leaves_mm }) => {
    if (leaves_mm && stack.isSetOut()) stack.hold(leaves_mm);
    turnTo(angle_deg);
  };
  return { name: "Leaves", panel, mark: mark.node, show: hear, follow };
}

function takeKeys(handle, { turnBy, turnTo, step, pushIn }) {
  handle.addEventListener("keydown", (event) => {
    const by = event.shiftKey ? 1 : KEYS_DEG;
    const acts = {
      ArrowRight: () => turnBy(by), ArrowUp: () => turnBy(by),
      ArrowLeft: () => turnBy(-by), ArrowDown: () => turnBy(-by), Home: () => turnTo(0),
      "+": () => step(1), "=": () => step(1), "-": () => step(-1), Enter: pushIn,
    };
    if (!acts[event.key] || event.ctrlKey || event.metaKey || event.altKey) return;
    event.preventDefault();
    acts[event.key]();
  });
}

// Along the rim the leaf follows the hand; once the hand goes inwards, the angle stays and the leaf is pushed.
function takePointer(mark, drawing, { turnTo, pushIn }) {
  let grip = null; // outermost radius of the hand so far, and whether it has pushed
  const down = (event) => {
    if (event.button) return;
    const { radius, deg } = drawing.point(event);
    grip = { outermost: radius, done: false };
    event.currentTarget.setPointerCapture(event.pointerId);
    if (event.target === mark.rim) turnTo(snap(deg, FREE_DEG));
    event.preventDefault();
    mark.handle.focus({ preventScroll: true });
  };
  const move = (event) => {
    if (!grip || grip.done) return;
    const { radius, deg } = drawing.point(event);
    grip.outermost = Math.max(grip.outermost, radius);
    const inwards = grip.outermost - radius;
    if (inwards < TURNED_IN) return turnTo(snap(deg, FREE_DEG));
    mark.slide(Math.min(AT_EDGE, inwards));
    if (inwards < PUSHED) return;
    grip.done = true;
    pushIn();
  };
  const up = () => {
    if (grip && !grip.done && mark.isIn()) mark.slide(0, 120);
    grip = null;
  };
  for (const node of [mark.rim, mark.handle]) {
    keepFinger(node);
    node.addEventListener("pointerdown", down);
    node.addEventListener("pointermove", move);
    node.addEventListener("pointerup", up);
    node.addEventListener("pointercancel", up);
  }
}
