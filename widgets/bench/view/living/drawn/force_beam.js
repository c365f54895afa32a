// Two arrows from the plate: what the springs push it away with, and what the magnet draws it with. Lengths are forces.

import { draw } from "../../../../page/dom.js";

const LONGEST = 330; // units; a longer one is drawn with an open end
const THICK = 12;

const arrow = (x, y, length, way) => {
  const end = x + way * length;
  const neck = x + way * Math.max(0, length - 12);
  return `M${x} ${y - THICK / 2} H${neck} V${y - THICK} L${end} ${y} L${neck} ${y + THICK} V${y + THICK / 2} H${x} Z`;
};

/** Return the beam: `perNewton` is units of the drawing for a newton. */
export function forceBeam({ y, perNewton }) {
  const springs = draw("path", { class: "f force-springs" });
  const magnet = draw("path", { class: "f force-magnet" });
  const post = draw("path", { class: "l" });
  const [left, right] = ["springs", "magnet"].map((word, i) => draw("text", { class: i ? "force-word" : "force-word is-left" }, word));
  const node = draw("g", {}, springs, magnet, post, left, right);
  const show = (x, spring_n, pull_n) => {
    const at = Number(x.toFixed(1));
    const push = Math.min(spring_n * perNewton, at - 20);
    const pull = Math.min(pull_n * perNewton, LONGEST);
    springs.setAttribute("d", arrow(at, y, push, -1));
    magnet.setAttribute("d", arrow(at, y, pull, 1));
    magnet.classList.toggle("is-cut", pull >= LONGEST);
    post.setAttribute("d", `M${at} ${y - 22} V${y + 22}`);
    left.setAttribute("x", at - 8);
    left.setAttribute("y", y + 24);
    right.setAttribute("x", at + 8);
    right.setAttribute("y", y + 24);
  };
  return { node, show };
}
