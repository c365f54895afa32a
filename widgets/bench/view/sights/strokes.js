// What the pictures of places are drawn with: shapes, grains and marks, and dice that fall the same for one brake.
// A sound place is drawn with the same strokes as a bad one; `shade` moves only what means nothing.

import { draw } from "../../../page/dom.js";
import { blot, path } from "../drawing/sign_pictures.js";

export const WIDE = 240;
export const HIGH = 150;

/** Return dice from 0 to 1 that fall the same way for the same shade. */
export const dice = (shade = 0) => {
  let state = (shade * 7919 + 12345) % 2147483646 || 1;
  return () => (state = (state * 16807) % 2147483647) / 2147483647;
};
export const rect = (x, y, width, height, kind) => draw("rect", { x, y, width, height, class: kind });
export const circle = (cx, cy, r, kind) => draw("circle", { cx, cy, r, class: kind });
export const words = (x, y, text) => draw("text", { x, y, class: "sight-word" }, text);
const round = (value) => value.toFixed(1);

/** Return a point at a radius and an angle, degrees clockwise from the top. Pure. */
export const polar = (cx, cy, r, deg) => [cx + r * Math.sin((deg * Math.PI) / 180), cy - r * Math.cos((deg * Math.PI) / 180)];
export const arc = (cx, cy, r, from, to) =>
  `M${polar(cx, cy, r, from).map(round).join(" ")} A${r} ${r} 0 ${to - from > 180 ? 1 : 0} 1 ${polar(cx, cy, r, to).map(round).join(" ")}`;
export const polygon = (points) => `M${points.map((point) => point.map(round).join(" ")).join(" L")}Z`;
export const hexagon = (cx, cy, r, turn = 0) => polygon(Array.from({ length: 6 }, (_, i) => polar(cx, cy, r, turn + i * 60)));
/** Return a ring with a hole, as one path. */
export const ring = (cx, cy, outer, inner, kind) =>
  draw("path", { d: [outer, inner].map((r) => `M${cx - r} ${cy} a${r} ${r} 0 1 1 ${2 * r} 0 a${r} ${r} 0 1 1 ${-2 * r} 0Z`).join(" "), class: kind, "fill-rule": "evenodd" });

/** Return short strokes scattered over a box. */
export const strewn = (next, count, [x, y, width, height], size, kind) =>
  path(Array.from({ length: count }, () => `M${round(x + next() * width)} ${round(y + next() * height)} h${round(size * (0.4 + next()))}`).join(" "), kind);
/** Return short strokes scattered over a ring. */
export const strewnRound = (next, count, [cx, cy, inner, outer], size, kind) =>
  path(Array.from({ length: count }, () => `M${polar(cx, cy, inner + next() * (outer - inner), next() * 360).map(round).join(" ")} h${round(size * (0.4 + next()))}`).join(" "), kind);
export const scratch = (x, y, dx, dy) => path(`M${x} ${y} l${dx} ${dy}`, "sight-scratch");
export const drop = (x, y, size, kind) => path(`M${x} ${y} q${-size * 0.75} ${size * 1.5} 0 ${size * 2} q${size * 0.75} ${-size * 0.5} 0 ${-size * 2}Z`, kind);
/** Return drops of water over a box, the last of them falling. */
export const wet = (next, [x, y, width, height]) => [
  ...Array.from({ length: 16 }, () => drop(x + next() * width, y + next() * (height - 14), 3 + 2.5 * next(), "sight-water")),
  drop(x + width * 0.4, y + height - 13, 6, "sight-water"),
];
export const lumps = (next, count, [x, y, width, height]) =>
  Array.from({ length: count }, () => blot(x + next() * width, y + next() * height, 7 + next() * 6, "sign-dust"));
export const splinter = (x, y) => path(`M${x} ${y} q6 -12 12 0 q6 12 12 0 q5 -10 9 -2 l5 -5`, "sight-wire");
/** Return a darker wash over a box, deeper towards its right end, without an edge to it. */
export const wash = (x, y, width, height) => Array.from({ length: 5 }, (_, i) => rect(x + (i * width) / 5, y, width - (i * width) / 5, height, "sight-wash"));
/** Return the light shading of a round body that fills the picture's width. */
export const rounded = (width, y = 0, height = HIGH) => [8, 18, 30].flatMap((by) => [rect(0, y, by, height, "sight-wash"), rect(width - by, y, by, height, "sight-wash")]);
/** Return hub and disc from the side: the hub within the disc, or standing out on one side. */
export const profile = (x, standsOut, discOff = false) => [
  rect(x, 0, WIDE - x, HIGH, "sight-paper"),
  rect(x + 6, 68, 40, 14, "sign-band sign-steel"),
  ...(discOff ? [] : [rect(x + 16, 16, 5, 118, "sign-band sign-lining"), rect(x + 21, 12, 8, 126, "sign-band sight-iron"), rect(x + 29, 16, 5, 118, "sign-band sign-lining")]),
  rect(x + 17, 54, standsOut ? 27 : 16, 42, "sign-band sight-hub"),
];
