// The feeler gauge: a stack of one to three leaves, held at an angle, pushed in.
// Sends gauge_gap and shows what the hand felt; measures and judges nothing.

import { at, CENTRE, placeName, sector, snap, wrap } from "./angles.js";
import { button, choices, draw, make, mayMove, numberField } from "./dom.js";
import { mm, nextLeaf, split, total } from "./readings.js";
import { gapForm } from "./write_down.js";

const FULL_IN = 66; // how far a leaf that slides goes in, in units of the drawing
const AT_EDGE = 14; // from where the leaf is held to the edge of the gap
const MOST = 3;
const FREE_DEG = 5; // the hand's step along the rim
const KEYS_DEG = 15;

const leafShape = () => {
  const blade = draw("path", { d: "M-14 -313 h28 v66 q0 17 -14 17 q-14 0 -14 -17 z", class: "leaf" });
  const moving = draw("g", {}, blade, draw("path", { d: "M-14 -296 h28", class: "leaf-line" }));
  const turning = draw("g", { transform: "rotate(0)" }, moving);
  return { moving, turning };
};

/** Return the tool: its panel, its mark on the drawing, and what shows a scene and takes the pointer. */
export function leafTool(bench, drawing) {
  let angle = 0;
  let main = null;
  let marks = [];
  let added = [];
  let depth = 0;
  let push = null; // how the pointer that holds the leaf began

  const { moving, turning } = leafShape();
  const tag = draw("text", { class: "leaf-tag" });
  const plate = draw("rect", { class: "leaf-plate", width: 68, height: 34, rx: 3 });
  const handle = draw(
    "g", { role: "slider", tabindex: 0, class: "handle", "aria-label": "Leaf at the rim, angle", "aria-valuemin": 0, "aria-valuemax": 359 },
    draw("g", { transform: `translate(${CENTRE} ${CENTRE})` }, turning), plate, tag,
  );
  const rim = draw("path", { class: "rim", d: `${sector(128, 319, 0, 179.99)} ${sector(128, 319, 180, 359.99)}` });
  const mark = draw("g", {}, rim, handle);

  const stack = () => [main, ...added].filter((leaf) => leaf !== null);
  const thickness = make("output", { class: "big" });
  const parts = make("span", { class: "parts" });
  const felt = make("p", { class: "felt" });
  const [angleLabel, angleField] = numberField("Angle", { min: 0, max: 359, step: 1, value: 0, change: () => turnTo(Number(angleField.value)) }, "°");
  const form = gapForm(bench, () => angle);

  const slide = (to, ms) => {
    const from = depth;
    depth = to;
    moving.setAttribute("transform", `translate(0 ${to})`);
    if (ms && mayMove()) {
      const frames = [from, to].map((y) => ({ transform: `translateY(${y}px)` }));
      moving.animate(frames, { duration: ms, easing: "ease-out" });
    }
  };

  const spring = () => {
    slide(0, 0);
    if (!mayMove()) return;
    const frames = [AT_EDGE, AT_EDGE + 3, AT_EDGE, -6, 0].map((y) => ({ transform: `translateY(${y}px)` }));
    moving.animate(frames, { duration: 420, easing: "ease-out" });
  };

  const show = () => {
    const words = stack().length ? mm(total(stack())) : "–";
    thickness.textContent = `${words} mm`;
    parts.textContent = stack().length > 1 ? `= ${stack().map(mm).join(" + ")}` : "";
    turning.setAttribute("transform", `rotate(${angle})`);
    const [x, y] = at(291, angle);
    plate.setAttribute("x", x - 34);
    plate.setAttribute("y", y - 17);
    tag.setAttribute("x", x);
    tag.setAttribute("y", y);
    tag.textContent = words;
    handle.setAttribute("aria-valuenow", angle);
    handle.setAttribute("aria-valuetext", `${placeName(angle)}${NAMED(angle)}, ${words} millimetres`);
    angleField.value = angle;
  };

  const turnTo = (deg) => {
    if (!Number.isFinite(deg)) return show();
    const moved = wrap(deg) !== angle;
    angle = wrap(Math.round(deg * 10) / 10);
    if (moved && depth) slide(0, 0);
    if (moved) felt.textContent = "";
    show();
    if (moved) form.moved(angle);
  };

  const take = (leaf) => {
    main = leaf;
    common.set(leaf);
    added = added.filter((other) => other !== leaf);
    settle();
  };

  const settle = () => {
    thinBoxes.forEach((box, leaf) => (box.checked = added.includes(leaf)));
    more.value = String(added.find((leaf) => !thinBoxes.has(leaf)) ?? "");
    if (depth) slide(0, 0);
    felt.textContent = "";
    show();
  };

  const add = (leaf, wanted) => {
    if (wanted && leaf === main) bench.decline("Each leaf is in the set only once: choose different leaves.");
    else if (wanted && stack().length >= MOST) bench.decline("More than three leaves together act as a spring: put one back first.");
    else added = wanted ? [...added, leaf] : added.filter((other) => other !== leaf);
    settle();
  };

  const pushIn = () => {
    if (!stack().length) return bench.decline("Choose a leaf first.");
    slide(AT_EDGE, 120);
    bench.wish("gauge_gap", { angle_deg: angle, leaves_mm: stack() });
  };

  const common = choices("Leaf, mm", [], take, { rowClass: "keys leaves" });
  const thinRow = make("div", { class: "keys leaves thin" });
  const thinBoxes = new Map();
  const more = make("select", {
    change: () => {
      added = added.filter((leaf) => thinBoxes.has(leaf));
      if (more.value) add(Number(more.value), true);
      else settle();
    },
  });

  const setOut = (all) => {
    marks = split(all);
    const fresh = choices("Leaf, mm", marks.common.map((leaf) => [leaf, mm(leaf)]), take, { rowClass: "keys leaves" });
    common.node.replaceWith(fresh.node);
    Object.assign(common, fresh);
    for (const leaf of marks.thin) {
      const box = make("input", { type: "checkbox", change: () => add(leaf, box.checked) });
      thinBoxes.set(leaf, box);
      thinRow.append(make("label", { class: "key" }, box, make("span", {}, mm(leaf))));
    }
    more.append(make("option", { value: "" }, "none"));
    const thick = marks.common.filter((leaf) => !thinBoxes.has(leaf));
    thick.forEach((leaf) => more.append(make("option", { value: leaf }, mm(leaf))));
    take(marks.common[Math.min(7, marks.common.length - 1)]);
  };

  const step = (by) => take(nextLeaf(marks.common, main, by));

  handle.addEventListener("keydown", (event) => {
    const by = event.shiftKey ? 1 : KEYS_DEG;
    const acts = {
      ArrowRight: () => turnTo(angle + by), ArrowUp: () => turnTo(angle + by),
      ArrowLeft: () => turnTo(angle - by), ArrowDown: () => turnTo(angle - by),
      Home: () => turnTo(0), "+": () => step(1), "=": () => step(1), "-": () => step(-1), Enter: pushIn,
    };
    if (!acts[event.key] || event.ctrlKey || event.metaKey || event.altKey) return;
    event.preventDefault();
    acts[event.key]();
  });

  // Along the rim the leaf follows the hand; once the hand goes inwards, the angle stays and the leaf is pushed.
  const grip = (event) => {
    if (event.button) return;
    const seen = drawing.point(event);
    push = { out: seen.radius > 238 || event.target === rim, done: false, from: seen.radius };
    event.currentTarget.setPointerCapture(event.pointerId);
    if (event.target === rim) turnTo(snap(seen.deg, FREE_DEG));
    event.preventDefault();
    handle.focus({ preventScroll: true });
  };
  const drag = (event) => {
    if (!push || push.done) return;
    const seen = drawing.point(event);
    const inwards = push.from - seen.radius;
    push.from = Math.max(push.from, seen.radius);
    if (inwards < 12 && seen.radius > 150) return turnTo(snap(seen.deg, FREE_DEG));
    slide(Math.max(0, Math.min(AT_EDGE, inwards)), 0);
    if (inwards > 40) {
      push.done = true;
      pushIn();
    }
  };
  const release = () => {
    if (push && !push.done && depth) slide(0, 120);
    push = null;
  };
  for (const node of [rim, handle]) {
    node.addEventListener("pointerdown", grip);
    node.addEventListener("pointermove", drag);
    node.addEventListener("pointerup", release);
    node.addEventListener("pointercancel", release);
  }

  const feel = (reply) => {
    const { feel: word, drag: strength } = reply.seen;
    if (word === "slides") slide(FULL_IN, 220);
    else if (word === "drags") slide(FULL_IN * (0.8 - 0.4 * strength), 500 + 900 * strength);
    else spring();
    felt.replaceChildren(make("span", {}, `At ${reply.seen.angle_deg}°: ${mm(total(reply.seen.leaves_mm))} mm `), make("b", {}, word));
  };

  const panel = make(
    "div", { class: "tool" },
    make(
      "div", { class: "hold" },
      make("div", { class: "stepper" }, button("−", () => step(-1), { "aria-label": "One leaf thinner" }), make("span", { class: "stack" }, thickness, parts), button("+", () => step(1), { "aria-label": "One leaf thicker" })),
      make("div", { class: "stepper" }, button("−15°", () => turnTo(angle - KEYS_DEG), { "aria-label": "15° back" }), angleLabel, button("+15°", () => turnTo(angle + KEYS_DEG), { "aria-label": "15° on" })),
      button("Push in", pushIn, { class: "main" }),
    ),
    felt,
    common.node,
    make("fieldset", { class: "choice" }, make("legend", {}, "Thin leaves to add"), thinRow, make("label", { class: "field" }, make("span", {}, "Another leaf"), more)),
    form.node,
    make("p", { class: "hint" }, "On the drawing: tap or drag along the rim, then push inwards. Keys: arrows move by 15° (with Shift 1°), + and − change the leaf, Enter pushes it in."),
  );

  return {
    name: "Feeler leaves", panel, mark,
    show: (known, message) => {
      if (message.fixed && !thinBoxes.size) setOut(message.fixed.leaves_mm);
      const fresh = message.reply && !message.fixed;
      if (fresh && message.reply.seen?.feel) feel(message.reply);
      else if (fresh && !message.reply.done) spring();
      form.show(known, message);
    },
  };
}

const NAMED = (deg) => (placeName(deg).endsWith("°") ? "" : `, ${deg} degrees`);
