// Lets a scene's keys move its sliders: evenly, one after another; at once for who asked for less motion. Sends nothing.

import { mayMove } from "../../../../page/dom.js";

/** Return a value some time nearer to its target, at so many units a second. Pure. */
export const nearer = (value, target, perSecond, frame_s) => {
  const step = perSecond * frame_s;
  return Math.abs(target - value) <= step ? target : value + Math.sign(target - value) * step;
};

/** Return the mover of controls by name; `rates` says how many units a second each slider goes. */
export function glider(by, rates) {
  let row = []; // sets of targets, one after another
  let exact = {}; // where a slider would be between its steps
  const values = (names) => Object.fromEntries(names.map((name) => [name, exact[name] ?? by.get(name).get()]));
  const put = (targets) => Object.entries(targets).forEach(([name, target]) => by.get(name).set(target, true));
  /** Move towards sets of targets, each once the one before is reached; `control` is the player's. */
  const to = (control, ...sets) => {
    exact = {};
    row = mayMove() ? sets : [];
    if (!mayMove()) sets.forEach(put);
    control.go(0); // wakes the page
  };
  /** Let a frame pass; returns whether anything still moves. */
  const advance = (frame_s) => {
    if (!row.length) return false;
    const [targets, ...later] = row;
    const from = values(Object.keys(targets));
    exact = Object.fromEntries(Object.entries(targets).map(([name, target]) => [name, rates[name] ? nearer(from[name], target, rates[name], frame_s) : target]));
    put(exact);
    if (Object.entries(targets).every(([name, target]) => exact[name] === target)) {
      row = later;
      exact = {};
    }
    return row.length > 0;
  };
  return { to, advance, moves: () => row.length > 0 };
}
