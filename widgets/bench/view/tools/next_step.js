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
 * Return the keys. `stack` is what is in the hand; `pushIn` pushes it in, `write` writes the bracket down
 * and says whether it was sent, `turnTo` takes the leaf to an angle. `offered` is told what may be written
 * down now, `wrote` what was written last, `moved` that the leaf is held elsewhere or pushed in again.
 */
export function nextStep(stack, { angleNow, turnTo, pushIn, write }) {
  let offer = null; // the bracket that may be written down: words, go_mm
  let here = null; // the note that was written last, while the leaf is still there
  let last = null; // the place that was written last
  let step = ON_DEG;

  const tryLeaf = (by) => {
    if (stack.next(by) === null) return;
    stack.step(by);
    pushIn();
  };
  // The next place, and the leaf that went here, where it is one of the set.
  const plan = () => {
    const from = offer ? angleNow() : here?.angle_deg;
    if (from === undefined) return null;
    const { go_mm } = offer ?? here;
    return { deg: wrap(from + (offer ? stepOn(last, from, step) : step)), leaf: stack.has(go_mm) ? go_mm : null };
  };
  const on = () => {
    const to = plan();
    if (!to || (offer && !write())) return;
    if (to.leaf !== null) stack.hold([to.leaf]);
    turnTo(to.deg);
    pushIn();
  };
  const writeKey = button("", () => offer && write(), { class: "main", "aria-keyshortcuts": "W", hidden: true });
  const onKey = button("", on, { "aria-keyshortcuts": "N", hidden: true });
  const keys = new Map(NEAR.map((by) => [by, button("", () => tryLeaf(by))]));

  const show = () => {
    keys.forEach((key, by) => {
      const leaf = stack.next(by);
      key.disabled = leaf === null;
      key.textContent = leaf === null ? "–" : mm(leaf);
      key.setAttribute("aria-label", leaf === null ? "No such leaf" : `Push in ${mm(leaf)} mm`);
    });
    writeKey.hidden = !offer;
    writeKey.textContent = offer ? `Write down: ${offer.words}` : "";
    const to = plan();
    onKey.hidden = !to;
    onKey.textContent = to ? `${offer ? "Write down, on" : "On"} to ${to.deg}°: push in${to.leaf === null ? "" : ` ${mm(to.leaf)}`}` : "";
  };
  const offered = (found) => {
    offer = found;
    show();
  };
  const wrote = (note) => {
    step = stepOn(last, note.angle_deg, step);
    last = note.angle_deg;
    here = note;
    offered(null);
  };
  const moved = () => {
    here = null;
    show();
  };
  /** Take a key that was struck on the leaf or in its panel; say whether it was one of these. */
  const takeKey = (event) => {
    if (event.ctrlKey || event.metaKey || event.altKey || event.target.matches?.("input:not([type=radio]):not([type=checkbox]), select")) return false;
    const acts = { w: () => offer && write(), n: on, pageup: () => tryLeaf(1), pagedown: () => tryLeaf(-1) };
    const act = acts[event.key.toLowerCase()];
    if (!act) return false;
    event.preventDefault();
    act();
    return true;
  };
  const near = make("div", { class: "near", role: "group", "aria-label": "Push in a leaf next to it" }, make("span", { class: "quiet" }, "Push in"), ...keys.values());
  return { show, node: make("div", { class: "row next" }, writeKey, onKey, near), offered, wrote, moved, takeKey };
}
