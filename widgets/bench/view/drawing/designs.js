// What sets the gap, as each design has it: what is at the three screws, and a ring where there is one.
// Draws what anybody at the brake can see; holds no gap.

import { at, CENTRE, hexagon, spoke } from "./angles.js";
import { AXIS } from "./section_parts.js";
import { draw } from "../../../page/dom.js";

/** What sets the gap of each design, in words. */
export const SET_WITH = {
  hollow_screws: "three hollow screws",
  shims: "shims under three spacers",
  adjusting_ring: "an adjusting ring",
  fixed: "nothing, it cannot be adjusted",
};

/** Return the design as far as it is known: until it is seen, three hollow screws, as most brakes have. */
export const designOf = (scene) => scene.design ?? "hollow_screws";

const HEX = 21; // half across corners of a hollow screw
const NOTCHES = 24;
const RING = [86, 100]; // radii of the adjusting ring, in units of the drawing
const circle = (cx, cy, r, kind) => draw("circle", { cx, cy, r, class: kind });
const path = (d, kind) => draw("path", { d, class: kind });
const seen = (node, is) => (node.style.display = is ? "" : "none");

/** Return what is at one screw, about its middle: a hollow screw, or a spacer with its shims. */
export function setterAt() {
  const hollow = draw("g", {}, path(hexagon(HEX, 0, 0), "f"), path(`M0 ${-HEX} V-13`, "o"));
  const spacer = draw("g", {}, circle(0, 0, 18, "f"));
  // Slotted shims: their tongues stand out from under the spacer.
  const shims = draw("g", {}, ...[-5, 0, 5].map((y) => path(`M16 ${y} H27`, "o")), path("M27 -8 V8", "l"));
  const show = (design) => {
    seen(hollow, design === "hollow_screws");
    seen(spacer, design !== "hollow_screws");
    seen(shims, design === "shims");
  };
  return { node: draw("g", {}, shims, spacer, hollow), hollow, show };
}

/** Return the adjusting ring on the magnet body with its notches and its set screw, and what shows it. */
export function adjustingRing() {
  const [inner, outer] = RING;
  const notch = (i) => path(spoke(outer - 5, outer, (360 * i) / NOTCHES), "l");
  const turns = draw("g", {}, ...Array.from({ length: NOTCHES }, (_, i) => notch(i)), path(spoke(inner, outer, 0), "o"));
  const [x, y] = at(outer + 9, 60);
  const lock = draw("g", {}, circle(x, y, 9, "f"), path(`M${x - 6} ${y} h12`, "l"));
  const band = [inner, outer].map((r) => circle(CENTRE, CENTRE, r, "o"));
  const node = draw("g", { class: "adjusting-ring" }, ...band, turns, lock);
  const show = (scene) => {
    seen(node, scene.design === "adjusting_ring");
    lock.setAttribute("transform", scene.ring_loose ? `rotate(-40 ${x} ${y})` : "");
  };
  return { node, show };
}

const rect = ([x, y, width, height], kind) => draw("rect", { x, y, width, height, class: kind });

/** Return, for the section, the pack of shims at the foot of the upper and of the lower spacer. */
export const packs = () =>
  [120, 2 * AXIS - 120].map((y) => draw("g", { class: "piece" }, ...[0, 5, 10].map((x) => rect([120 + x, y - 19, 5, 38], "f"))));

/** Return the adjusting ring of the section, cut above and below the axis. */
export const ringSection = () =>
  draw("g", { class: "piece" }, ...[150, 2 * AXIS - 180].flatMap((y) => [rect([380, y, 12, 30], "f"), path(`M386 ${y} v30`, "l")]));
