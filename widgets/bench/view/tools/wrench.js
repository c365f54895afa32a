// The wrench on a hollow screw, or what sets the gap in its place, and the key on its retaining screw.
// Shows how far the hand has turned; sends turn_screw once the hand lets go, and what the key does to a lock.

import { polar, SCREWS_DEG, shortest, turnWords } from "../drawing/angles.js";
import { button, choices, draw, keepFinger, make } from "../../../page/dom.js";
import { designOf } from "../drawing/designs.js";
import { screwPoint } from "../drawing/drawing.js";
import { checkRow } from "./own_check.js";
import { MOST_DEG, screwLines } from "./screw_lines.js";
import { otherSettings } from "./setting.js";

const KEYS_DEG = 5;
const FLAT_DEG = 60;
const LEAST_DEG = 1; // less than this is a hand that trembles
const SCREWS = [[1, "1, at 12\u00a0o’clock"], [2, "2, at 4\u00a0o’clock"], [3, "3, at 8\u00a0o’clock"]];
const HINT =
  "Drag the wrench round: it turns the screw when you let go. Keys: arrows turn by 5° (with Shift 1°), Enter carries it out, Escape puts it back. The hollow screw’s head faces the motor, so seen from the fan end clockwise is out.";
const SLACKENED = "To set the gap a retaining screw is slackened by a quarter turn;";
// What is loosened to set the gap, by design: a brake without hollow screws or shims keeps its retaining screws tight.
const LOOSENED = {
  hollow_screws: SLACKENED,
  shims: SLACKENED,
  adjusting_ring: "The retaining screws stay tight: to set the gap only the ring’s own set screw is loosened;",
  fixed: "Nothing here sets the gap, and the retaining screws stay tight;",
};

// An open-ended wrench, its jaw round the screw, its handle to 12 o'clock.
const SHAPE =
  "M-29 13 L-31 -9 Q-29 -35 -12 -48 L-12 -200 Q-12 -214 0 -214 Q12 -214 12 -200 L12 -48 Q29 -35 31 -9 L29 13 L18.6 17 L18.6 -11 L0 -22 L-18.6 -11 L-18.6 17 Z";

const within = (deg) => Math.max(-MOST_DEG, Math.min(MOST_DEG, deg));

/** Return the tool: its panel, its mark on the drawing, and what shows a scene. */
export function wrenchTool(bench, drawing) {
  let screw = 1;
  let pending = 0; // degrees turned on the drawing and not yet carried out; plus is out
  let scene = null;
  const mark = wrenchMark();
  const turned = make("output", { class: "big" });
  const caution = make("span");

  const show = () => {
    const before = scene?.turned_deg[screw - 1] ?? 0;
    mark.place(screw, before, pending);
    turned.textContent = pending ? turnWords(pending) : "0°";
    if (!scene) return;
    const screws = designOf(scene) === "hollow_screws";
    setting.hidden = !screws;
    mark.node.style.display = screws ? "" : "none";
    hint.hidden = !screws;
    caution.textContent = `The springs stay loaded behind the magnet body. ${LOOSENED[designOf(scene)]} none comes right out unless a sling has the body’s weight.`;
    others.show(scene);
    drawing.turnScrew(screw, before + pending);
    lines.show(scene, screws);
  };
  const turnTo = (deg) => {
    pending = Math.round(within(deg));
    show();
  };
  const drop = () => turnTo(0);
  const apply = () => {
    if (Math.abs(pending) < LEAST_DEG) return drop();
    bench.wish("turn_screw", { screw, turn_deg: pending });
  };
  const pick = (number) => {
    drop();
    screw = number;
    picks.set(number);
    show();
  };

  const picks = choices("Screw", SCREWS, pick, { rowClass: "keys screws" });
  picks.set(screw);
  const lines = screwLines(bench, picks.boxes, pick);
  const setting = settingGroup(turned, apply);
  const others = otherSettings(bench, () => screw);
  const key = (words, kind, fields = {}) => button(words, () => bench.wish(kind, { screw, ...fields }));
  const outOrIn = make("div", { class: "row" }, make("span", { class: "quiet" }, "The one in hand"), key("Take out", "draw_lock"), key("Start by hand", "start_lock", { by: "hand" }), key("Start with the wrench", "start_lock", { by: "wrench" }));
  const hint = make("p", { class: "hint" }, HINT);
  const panel = make(
    "div", { class: "tool" },
    lines.numbers,
    lines.allThree,
    picks.node,
    outOrIn,
    setting,
    ...others.nodes,
    checkRow(bench, "wrenchTool"),
    make("p", { class: "gal-danger" }, make("b", {}, "Danger. "), caution),
    hint,
  );
  takeKeys(mark.handle, { turnBy: (deg) => turnTo(pending + deg), drop, apply });
  takePointer(mark.handle, drawing, { screwNow: () => screw, pendingNow: () => pending, turnTo, drop, apply });
  const hear = (known, message) => {
    scene = known.scene ?? scene;
    if (message.reply) pending = 0;
    show();
  };
  return { name: "Wrench", panel, mark: mark.node, pick, show: hear, follow: (act) => pick(act.screw ?? screw) };
}

function wrenchMark() {
  const shape = draw(
    "g", {},
    draw("path", { d: SHAPE, class: "wrench" }),
    draw("path", { d: "M0 -200 V-66", class: "grip" }),
    draw("path", { d: "M0 -206 V-56", class: "reach" }),
  );
  const given = { role: "slider", tabindex: 0, class: "handle", "aria-valuemin": -MOST_DEG, "aria-valuemax": MOST_DEG };
  const handle = draw("g", given, shape);
  const flats = new Map(); // the flat on which the jaw was set, by screw: it stays on where the hand lets go
  const place = (screw, before, pending) => {
    // The jaw fits on the flats: the handle starts from the flat nearest to a place that lies on the drawing.
    if (!flats.has(screw)) flats.set(screw, FLAT_DEG * Math.round((SCREWS_DEG[screw - 1] + 2 * FLAT_DEG - before) / FLAT_DEG));
    const start = before + flats.get(screw);
    const [x, y] = screwPoint(screw);
    shape.setAttribute("transform", `translate(${x} ${y}) rotate(${start + pending})`);
    handle.setAttribute("aria-label", `Wrench on hollow screw ${screw}`);
    handle.setAttribute("aria-valuenow", pending);
    handle.setAttribute("aria-valuetext", turnWords(pending));
  };
  return { node: draw("g", {}, handle), handle, place };
}

function settingGroup(turned, apply) {
  return make(
    "div", { class: "group", role: "group", "aria-label": "Hollow screw, the setting" },
    make("div", { class: "row" }, make("span", {}, "Turned on the drawing: ", turned), button("Turn", apply, { class: "main" })),
  );
}

function takeKeys(handle, { turnBy, drop, apply }) {
  handle.addEventListener("keydown", (event) => {
    const by = event.shiftKey ? 1 : KEYS_DEG;
    const acts = {
      ArrowRight: () => turnBy(by), ArrowUp: () => turnBy(by),
      ArrowLeft: () => turnBy(-by), ArrowDown: () => turnBy(-by),
      Escape: drop, Enter: apply,
    };
    if (!acts[event.key] || event.ctrlKey || event.metaKey || event.altKey) return;
    event.preventDefault();
    acts[event.key]();
  });
}

function takePointer(handle, drawing, { screwNow, pendingNow, turnTo, drop, apply }) {
  let hold = null; // angle of the hand round the screw, and the turn so far, unrounded
  const handAt = (event) => {
    const { x, y } = drawing.point(event);
    return polar(x, y, ...screwPoint(screwNow())).deg;
  };
  const letGo = (then) => () => {
    if (hold) then();
    hold = null;
  };
  keepFinger(handle);
  handle.addEventListener("pointerdown", (event) => {
    if (event.button) return;
    handle.setPointerCapture(event.pointerId);
    hold = { deg: handAt(event), turn: pendingNow() };
    event.preventDefault();
    handle.focus({ preventScroll: true });
  });
  handle.addEventListener("pointermove", (event) => {
    if (!hold) return;
    const deg = handAt(event);
    hold = { deg, turn: within(hold.turn + shortest(hold.deg, deg)) };
    turnTo(hold.turn);
  });
  handle.addEventListener("pointerup", letGo(apply));
  handle.addEventListener("pointercancel", letGo(drop));
}
