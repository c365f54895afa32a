// The places read in one round: where the person's own step leads next, and what comes once all of them are read.

import { goTo } from "../../../page/dom.js";
import { wrap } from "../drawing/angles.js";

/** Return whether two places are one for the hand. */
export const samePlace = (a, b) => Math.abs(wrap(a - b + 180) - 180) < 0.5;

/** Return the next place by a step, within one turn, that is not read yet; null once all of them are. Pure. */
export const nextPlace = (read, from_deg, step_deg) => {
  for (let by = step_deg; step_deg !== 0 && Math.abs(by) < 359.5; by += step_deg) {
    const deg = wrap(from_deg + by);
    if (!read.some((one) => samePlace(one, deg))) return deg;
  }
  return null;
};

const noted = (notes) => notes.some((note) => !note.struck);

/** Return what comes after a round of gap or disc: the words of a key, and a tool or a place of the page. Pure. */
export const afterRound = (scene, own) => {
  if (scene.decision) return null;
  if (own === "gap" && !noted(scene.disc_notes)) return { words: "On to the disc: take the caliper", tool: "caliper" };
  if (own === "disc" && !noted(scene.gap_notes)) return { words: "On to the gap: take the leaves", tool: "leaf" };
  return { words: "On to the decision", place: ".gal-report" };
};

/** Return the memory of a round; `take` puts another tool in the hand, `node` is where the keys stand. */
export function wentRound(own, take, node) {
  let read = [];
  let setting = null;
  let scene = null;
  /** Begin again where something was set or moved since; `notes` are what a page that opens finds written. */
  const see = (now, setting_now, notes = []) => {
    scene = now;
    if (setting_now === setting) return;
    setting = setting_now;
    read = notes.filter((note) => !note.struck).map((note) => note.angle_deg);
  };
  const add = (deg) => read.push(deg);
  const next = (from_deg, step_deg) => nextPlace([...read, from_deg], from_deg, step_deg);
  const after = () => {
    const then = scene && afterRound(scene, own);
    if (!then || (then.tool ? !take : !node().closest(".gal-page")?.querySelector(then.place))) return null;
    return { words: then.words, act: () => (then.tool ? take(then.tool) : goTo(node(), then.place)) };
  };
  return { see, add, next, after };
}
