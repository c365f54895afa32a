// The leaf on the drawing: held at the rim at an angle, slid in, stopped at the edge.
// Moves only where the reader has not asked for less movement; knows no gap.

import { at, CENTRE, sector } from "./angles.js";
import { draw, mayMove } from "../../../page/dom.js";

export const FULL_IN = 66; // how far a leaf that slides goes in, in units of the drawing
export const AT_EDGE = 14; // from where the leaf is held to the edge of the gap
const TAG = { width: 68, height: 34, radius: 291 };

const shape = () => {
  // The tail stays in the hand while the tip goes in, so the leaf is drawn in two pieces.
  const tail = draw("path", { d: "M-14 -244 V-313 H14 V-244", class: "leaf" });
  const tip = draw("path", { d: "M-14 -313 V-247 Q-14 -230 0 -230 Q14 -230 14 -247 V-313", class: "leaf" });
  const moving = draw("g", {}, tip);
  return { moving, turning: draw("g", {}, tail, moving) };
};

const frames = (places) => places.map((y) => ({ transform: `translateY(${y}px)` }));

/** Return the mark: its node, the parts that take the pointer, and what places and moves it. */
export function leafMark() {
  let depth = 0;
  const { moving, turning } = shape();
  const tag = draw("text", { class: "leaf-tag" });
  const plate = draw("rect", { class: "leaf-plate", width: TAG.width, height: TAG.height, rx: 3 });
  const handle = draw(
    "g",
    { role: "slider", tabindex: 0, class: "handle", "aria-label": "Leaf at the rim, angle", "aria-valuemin": 0, "aria-valuemax": 359 },
    draw("g", { transform: `translate(${CENTRE} ${CENTRE})` }, turning), plate, tag,
  );
  const rim = draw("path", { class: "rim", d: `${sector(128, 319, 0, 179.99)} ${sector(128, 319, 180, 359.99)}` });

  const place = (deg, words, spoken) => {
    turning.setAttribute("transform", `rotate(${deg})`);
    const [x, y] = at(TAG.radius, deg);
    plate.setAttribute("x", x - TAG.width / 2);
    plate.setAttribute("y", y - TAG.height / 2);
    tag.setAttribute("x", x);
    tag.setAttribute("y", y);
    tag.textContent = words;
    handle.setAttribute("aria-valuenow", deg);
    handle.setAttribute("aria-valuetext", spoken);
  };

  const slide = (to, ms = 0) => {
    const from = depth;
    depth = to;
    moving.setAttribute("transform", `translate(0 ${to})`);
    if (ms && mayMove()) moving.animate(frames([from, to]), { duration: ms, easing: "ease-out" });
  };

  const spring = () => {
    slide(0);
    if (!mayMove()) return;
    moving.animate(frames([AT_EDGE, AT_EDGE + 3, AT_EDGE, -6, 0]), { duration: 420, easing: "ease-out" });
  };

  return { node: draw("g", {}, rim, handle), rim, handle, place, slide, spring, isIn: () => depth > 0 };
}
