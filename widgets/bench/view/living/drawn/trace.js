// A strip under the drawing: curves over the time of the story, and a line where it stands now.

import { draw, make } from "../../../../page/dom.js";

const WIDTH = 800;
const HEIGHT = 90;
const FOOT = 6; // units left free above and below the curves
const SAMPLES = 120;

const text = (value) => Number(value.toFixed(1));

/** Return the path of a curve over equal steps of time: `read(time_s)` in 0 to 1. Pure. */
export const curvePath = (read, end_s) =>
  Array.from({ length: SAMPLES + 1 }, (_, i) => {
    const share = i / SAMPLES;
    const y = HEIGHT - FOOT - Math.min(1, Math.max(0, read(share * end_s))) * (HEIGHT - 2 * FOOT);
    return `${i ? "L" : "M"}${text(share * WIDTH)} ${text(y)}`;
  }).join("");

const swatch = (i) => draw("svg", { viewBox: "0 0 30 10", class: "swatch", "aria-hidden": "true" }, draw("path", { class: `curve curve-${i}`, d: "M0 5 H30" }));

/** Return the strip: `names` of the curves, each drawn in a dash of its own. */
export function trace(names) {
  const curves = names.map((_, i) => draw("path", { class: `curve curve-${i}` }));
  const now = draw("path", { class: "now", d: `M0 0 V${HEIGHT}` });
  const picture = draw("svg", { viewBox: `0 0 ${WIDTH} ${HEIGHT}`, preserveAspectRatio: "none", "aria-hidden": "true" }, draw("path", { class: "l", d: `M0 0 V${HEIGHT - FOOT} H${WIDTH}` }), ...curves, now);
  const legend = make("p", { class: "living-legend quiet" }, "Over the time: ", ...names.map((name, i) => make("span", {}, swatch(i), name)));
  const node = make("div", { class: "living-trace" }, picture, legend);
  let drawn = "";
  /** Redraw the curves if `key` is another, and move the line of the time. */
  const show = (key, reads, time_s, end_s) => {
    if (key !== drawn) {
      drawn = key;
      reads.forEach((read, i) => curves[i].setAttribute("d", curvePath(read, end_s)));
    }
    now.setAttribute("transform", `translate(${text((end_s > 0 ? Math.min(1, time_s / end_s) : 0) * WIDTH)} 0)`);
  };
  return { node, show };
}
