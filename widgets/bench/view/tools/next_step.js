// Beside what the leaf felt: the next leaf and the push in one, writing down what was bracketed, and the next place.
// Each is one press, so that a gap at one place costs three or four. Chooses nothing for the person.

import { button, make } from "../../../page/dom.js";
import { wrap } from "../drawing/angles.js";
import { mm } from "./readings.js";

const ON_DEG = 45; // from one marked place to the next

/**
 * Return the keys. `stack` is what is in the hand; `pushIn` pushes it in, `write` writes the bracket down,
 * `turnTo` takes the leaf to an angle. `felt` is told what the hand felt, `offered` what may be written,
 * `moved` that the leaf is held elsewhere.
 */
export function nextStep(stack, { angleNow, turnTo, pushIn, write }) {
  let by = 0; // to the next leaf: one thicker, one thinner, or none
  let words = "";

  const tryNext = () => {
    if (!by || stack.next(by) === null) return;
    stack.step(by);
    pushIn();
  };
  const on = () => {
    turnTo(wrap(angleNow() + ON_DEG));
    pushIn();
  };
  const writeKey = button("", () => words && write(), { class: "main", "aria-keyshortcuts": "W", hidden: true });
  const tryKey = button("", tryNext, { hidden: true });
  const onKey = button("", on, { "aria-keyshortcuts": "N", hidden: true });

  const show = () => {
    const leaf = by && !words ? stack.next(by) : null;
    tryKey.hidden = leaf === null;
    tryKey.textContent = leaf === null ? "" : `Try ${mm(leaf)}`;
    writeKey.hidden = !words;
    writeKey.textContent = words ? `Write down: ${words}` : "";
  };
  const felt = (feel) => {
    by = stack.leaves().length > 1 ? 0 : feel === "will not enter" ? -1 : 1;
    onKey.hidden = true;
    show();
  };
  const offered = (said, written = false) => {
    words = said;
    if (written) {
      by = 0;
      onKey.hidden = false;
      onKey.textContent = `On to ${wrap(angleNow() + ON_DEG)}°, push in`;
    }
    show();
  };
  const moved = () => {
    by = 0;
    onKey.hidden = true;
    show();
  };
  /** Take a key that was struck on the leaf or in its panel; say whether it was one of these. */
  const takeKey = (event) => {
    if (event.ctrlKey || event.metaKey || event.altKey || event.target.matches?.("input:not([type=radio]):not([type=checkbox]), select")) return false;
    const acts = {
      w: () => words && write(),
      n: () => !onKey.hidden && on(),
      pageup: () => { stack.step(1); pushIn(); },
      pagedown: () => { stack.step(-1); pushIn(); },
    };
    const act = acts[event.key.toLowerCase()];
    if (!act) return false;
    event.preventDefault();
    act();
    return true;
  };
  return { show, node: make("div", { class: "row next" }, writeKey, tryKey, onKey), felt, offered, moved, takeKey };
}
