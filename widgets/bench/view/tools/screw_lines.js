// The three screws, a line each beside the choice of the one in hand: how its retaining screw stands, and the keys
// that work it and turn the hollow screw. One press works one screw, or all three retaining screws in turn: each of
// them is an act of its own, with its own answer. The numbers for it stand over the lines.

import { turnWords } from "../drawing/angles.js";
import { button, make, numberField } from "../../../page/dom.js";
import { lockWords } from "../drawing/standing.js";

export const MOST_DEG = 720;
const numberIn = (field) => (field.value === "" ? NaN : Number(field.value));

/** Return the number fields, and what shows a scene; `boxes` are the choices of a screw, `pick` takes one in hand. */
export function screwLines(bench, boxes, pick) {
  const [torqueLabel, torque] = numberField("wrench set to", { min: 0.1, max: 500, step: 0.1 }, "N·m");
  const [turnLabel, turn] = numberField("hollow screw by", { min: 0, max: MOST_DEG, step: 1 }, "°");
  const tighten = (screw) => {
    const torque_nm = numberIn(torque);
    if (!(torque_nm > 0)) return bench.decline("Set the wrench first: to how many N·m?");
    bench.wish("tighten_lock", { screw, torque_nm });
  };
  const turnBy = (screw, sign) => {
    const deg = numberIn(turn);
    if (!(deg > 0 && deg <= MOST_DEG)) return bench.decline(`Give the turn in degrees, up to ${MOST_DEG}.`);
    bench.wish("turn_screw", { screw, turn_deg: sign * deg });
  };
  // In turn, as a hand goes round; whichever does not do what it should says so in its own answer.
  const inTurn = (act) => () => [...boxes].forEach(([screw]) => act(screw));
  const allThree = make(
    "div", { class: "row all-three", role: "group", "aria-label": "All three retaining screws, in turn" },
    make("span", { class: "quiet" }, "All three retaining screws, in turn"),
    make(
      "span", { class: "pair" },
      button("Try", inTurn((screw) => bench.wish("try_lock", { screw })), { "aria-label": "Try all three retaining screws" }),
      button("Loosen", inTurn((screw) => bench.wish("loosen_lock", { screw })), { "aria-label": "Loosen all three retaining screws" }),
      button("Tighten", () => numberIn(torque) > 0 ? inTurn(tighten)() : tighten(1), { "aria-label": "Tighten all three retaining screws" }),
    ),
  );
  const lines = new Map();
  for (const [screw, box] of boxes) {
    const key = (words, name, press) => button(words, () => (pick(screw), press()), { "aria-label": name });
    const stand = make("span", { class: "stand" });
    const turns = make("span", { class: "pair" }, key("In", `Turn in screw ${screw}`, () => turnBy(screw, -1)), key("Out", `Turn out screw ${screw}`, () => turnBy(screw, 1)));
    const locks = make(
      "span", { class: "pair" },
      key("Try", `Try retaining screw ${screw}`, () => bench.wish("try_lock", { screw })),
      key("Loosen", `Loosen retaining screw ${screw}`, () => bench.wish("loosen_lock", { screw })),
      key("Tighten", `Tighten retaining screw ${screw}`, () => tighten(screw)),
    );
    box.parentNode.after(make("div", { class: "of-screw", role: "group", "aria-label": `Screw ${screw}` }, stand, locks, turns));
    lines.set(screw, { stand, turns });
  }
  const show = (scene, hollow) => {
    turnLabel.hidden = !hollow;
    lines.forEach(({ stand, turns }, screw) => {
      const lock = `Retaining screw ${scene.body_on ? lockWords(scene.locks[screw - 1]) : "out, the body is off"}`;
      stand.textContent = hollow ? `${lock}; hollow screw ${turnWords(scene.turned_deg[screw - 1])}` : lock;
      turns.hidden = !hollow;
    });
  };
  return { numbers: make("div", { class: "row" }, torqueLabel, turnLabel), allThree, show };
}
