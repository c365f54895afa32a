// Beside what the leaf felt: the leaves next to it in the set, and stacks thicker or thinner by hundredths, each
// with its push; writing down what was bracketed; and the next place. Each is one press, so that a gap at one
// place costs three or four.
// The places go on by the person's own last step, once round; then to what comes next. Chooses nothing for the person.

import { button, make } from "../../../page/dom.js";
import { shortest } from "../drawing/angles.js";
import { mm, total } from "./readings.js";

const ON_DEG = 45; // from one marked place to the next, until the person has taken a step of their own
const NEAR = [-2, -1, 1, 2]; // leaves of the set, from what is in the hand
const KEY_MM = 0.02; // with Shift and Page Up or Page Down
const FINE_MM = [-0.04, -0.02, -0.01, 0.01, 0.02, 0.04]; // between two leaves of the set, which lie 0.05 apart

/** Return the step from the place written last to the next: as that one lies from the one before it. */
export const stepOn = (before_deg, now_deg, step_deg = ON_DEG) => {
  const by = before_deg === null ? 0 : shortest(before_deg, now_deg);
  return by === 0 ? step_deg : by;
};

/**
 * Return the keys. `stack` is what is in the hand; `pushIn` pushes it in, `write` writes the bracket down
 * and says whether it was sent, `turnTo` takes the leaf to an angle. `offered` is told what may be written
 * down now, `wrote` what was written last, `moved` that the leaf is held elsewhere or pushed in again. `round`
 * knows the places that are read.
 */
export function nextStep(stack, { angleNow, turnTo, pushIn, write, round }) {
  let offer = null; // the bracket that may be written down: words, go_mm
  let here = null; // the note that was written last, while the leaf is still there
  let last = null; // the place that was written last
  let step = ON_DEG;

  const leafBy = (by) => {
    const leaf = stack.next(by);
    return leaf === null ? null : [leaf];
  };
  const finerBy = (by_mm) => stack.of(total(stack.leaves()) + by_mm);
  const tryOut = (leaves) => {
    if (leaves === null) return;
    stack.hold(leaves);
    pushIn();
  };
  // The next place, and the leaf that went here, where it is one of the set.
  const plan = () => {
    const from = offer ? angleNow() : here?.angle_deg;
    if (from === undefined) return null;
    const { go_mm } = offer ?? here;
    const deg = round.next(from, offer ? stepOn(last, from, step) : step);
    return deg === null ? null : { deg, leaves: stack.of(go_mm) };
  };
  const then = () => (here && !offer && !plan() ? round.after() : null);
  const on = () => {
    const to = plan();
    if (!to) return then()?.act();
    if (offer && !write()) return;
    if (to.leaves) stack.hold(to.leaves);
    turnTo(to.deg);
    pushIn();
  };
  const writeKey = button("", () => offer && write(), { class: "main", "aria-keyshortcuts": "W", hidden: true });
  const onKey = button("", on, { "aria-keyshortcuts": "N", hidden: true });
  const keyOf = (leavesNow) => ({ leavesNow, key: button("", () => tryOut(leavesNow())) });
  const near = NEAR.map((by) => keyOf(() => leafBy(by)));
  const fine = FINE_MM.map((by_mm) => keyOf(() => finerBy(by_mm)));

  const show = () => {
    const offered_mm = new Set();
    for (const { key, leavesNow } of [...near, ...fine]) {
      const leaves = leavesNow();
      const words = leaves === null ? "" : mm(total(leaves));
      key.disabled = !words || offered_mm.has(words); // one of the leaves is offered once
      key.textContent = key.disabled ? "–" : words;
      key.setAttribute("aria-label", key.disabled ? "Nothing more here" : `Push in ${words} mm`);
      offered_mm.add(words);
    }
    writeKey.hidden = !offer;
    writeKey.textContent = offer ? `Write down: ${offer.words}` : "";
    const to = plan();
    const after = then();
    onKey.hidden = !to && !after;
    onKey.textContent = after ? after.words : to ? `${offer ? "Write down, on" : "On"} to ${to.deg}°: push in${to.leaves ? ` ${mm(total(to.leaves))}` : ""}` : "";
  };
  const offered = (found) => {
    offer = found;
    show();
  };
  const wrote = (note) => {
    step = stepOn(last, note.angle_deg, step);
    last = note.angle_deg;
    here = note;
    round.add(note.angle_deg);
    offered(null);
  };
  const moved = () => {
    here = null;
    show();
  };
  const up = (event, sign) => (event.shiftKey ? finerBy(sign * KEY_MM) : leafBy(sign));
  /** Take a key that was struck on the leaf or in its panel; say whether it was one of these. */
  const takeKey = (event) => {
    if (event.ctrlKey || event.metaKey || event.altKey || event.target.matches?.("input:not([type=radio]):not([type=checkbox]), select")) return false;
    const acts = { w: () => offer && write(), n: on, pageup: () => tryOut(up(event, 1)), pagedown: () => tryOut(up(event, -1)) };
    const act = acts[event.key.toLowerCase()];
    if (!act) return false;
    event.preventDefault();
    act();
    return true;
  };
  const row = (words, name, list) => make("div", { class: "near", role: "group", "aria-label": name }, make("span", { class: "quiet" }, words), ...list.map(({ key }) => key));
  const rows = [row("Push in", "Push in a leaf next to it", near), row("Finer", "Push in a stack finer by hundredths", fine)];
  // Keys that come and go stand last and keep their room: a second press of a nervous hand meets no other key.
  const go = make("div", { class: "row go" }, writeKey, onKey);
  return { show, node: make("div", { class: "row next" }, ...rows, go), offered, wrote, moved, takeKey };
}
