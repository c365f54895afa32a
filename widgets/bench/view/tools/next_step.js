// Beside what the leaf felt: the leaves next to it in the set, each with its push; writing down what was
// bracketed; and the next place. Each is one press, so that a gap at one place costs three or four.
// The places go on by the person's own last step. Chooses nothing for the person.

import { button, make } from "../../../page/dom.js";
import { shortest, wrap } from "../drawing/angles.js";
import { mm } from "./readings.js";

const ON_DEG = 45; // from one marked place to the next, until the person has taken a step of their own
const NEAR = [-2, -1, 1, 2]; // leaves of the set, from the one in the hand

/** Return the step from the place written last to the next: as that one lies from the one before it. */
export const stepOn = (before_deg, now_deg, step_deg = ON_DEG) => {
  const by = before_deg === null ? 0 : shortest(before_deg, now_deg);
  return by === 0 ? step_deg : by;
};

/**
 * Return the keys. `stack` is what is in the hand; `pushIn` pushes it in, `write` writes the bracket down,
 * `turnTo` takes the leaf to an angle. `offered` is told what may be written, `moved` that the leaf is
 * held elsewhere or pushed in again.
 */
export function nextStep(stack, { angleNow, turnTo, pushIn, write }) {
  let words = "";
  let last = null; // the place that was written last
  let step = ON_DEG;

  const tryLeaf = (by) => {
    if (stack.next(by) === null) return;
    stack.step(by);
    pushIn();
  };
  const on = () => {
    turnTo(wrap(angleNow() + step));
    pushIn();
  };
  const writeKey = button("", () => words && write(), { class: "main", "aria-keyshortcuts": "W", hidden: true });
  const onKey = button("", on, { "aria-keyshortcuts": "N", hidden: true });
  const keys = new Map(NEAR.map((by) => [by, button("", () => tryLeaf(by))]));

  const show = () => {
    keys.forEach((key, by) => {
      const leaf = stack.next(by);
      key.disabled = leaf === null;
      key.textContent = leaf === null ? "–" : mm(leaf);
      key.setAttribute("aria-label", leaf === null ? "No such leaf" : `Push in ${mm(leaf)} mm`);
    });
    writeKey.hidden = !words;
    writeKey.textContent = words ? `Write down: ${words}` : "";
  };
  const offered = (said, written = false) => {
    words = said;
    if (written) {
      step = stepOn(last, angleNow(), step);
      last = angleNow();
      onKey.hidden = false;
      onKey.textContent = `On to ${wrap(last + step)}°, push in`;
    }
    show();
  };
  const moved = () => {
    onKey.hidden = true;
    show();
  };
  /** Take a key that was struck on the leaf or in its panel; say whether it was one of these. */
  const takeKey = (event) => {
    if (event.ctrlKey || event.metaKey || event.altKey || event.target.matches?.("input:not([type=radio]):not([type=checkbox]), select")) return false;
    const acts = { w: () => words && write(), n: () => !onKey.hidden && on(), pageup: () => tryLeaf(1), pagedown: () => tryLeaf(-1) };
    const act = acts[event.key.toLowerCase()];
    if (!act) return false;
    event.preventDefault();
    act();
    return true;
  };
  const near = make("div", { class: "near", role: "group", "aria-label": "Push in a leaf next to it" }, make("span", { class: "quiet" }, "Push in"), ...keys.values());
  return { show, node: make("div", { class: "row next" }, writeKey, onKey, near), offered, moved, takeKey };
}
