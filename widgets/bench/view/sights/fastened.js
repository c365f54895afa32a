// What holds and presses: retaining screws, springs, the hand release.

import { path } from "../drawing/sign_pictures.js";
import { arc, circle, dice, hexagon, polar, rect, ring, scratch, splinter, strewn, WIDE, words } from "./strokes.js";

const [CX, CY] = [120, 82];
const SCREWS = [1, 2, 3];
const placeOf = (screw) => polar(CX, CY, 52, (screw - 1) * 120);

const screwHead = (screw, out) => {
  const [x, y] = placeOf(screw);
  if (out) return [path(hexagon(x, y, 17, 8), "sign-band sight-hub"), circle(x, y, 8, "sign-band sight-dark")];
  return [path(hexagon(x, y, 17, 8), "sign-band sight-hub"), path(hexagon(x, y, 11, 20 * screw), "sign-band sign-steel"), circle(x, y, 3, "sight-dark")];
};
const fretted = (screw) => {
  const [x, y] = placeOf(screw);
  return [circle(x, y, 26, "sign-rust"), path(`${arc(x, y, 23, 20, 110)} ${arc(x, y, 21, 200, 300)}`, "sign-bright")];
};
const paint = (screw, fresh) => {
  const [x, y] = placeOf(screw);
  return fresh
    ? [path(`M${x + 4} ${y - 5} q16 -10 20 2 q2 8 -4 12 v9 q-3 4 -5 0 v-10 q-12 2 -11 -13Z`, "sight-paint-fresh"), path(`M${x + 10} ${y - 4} q8 -5 11 0`, "sign-glint")]
    : [path(`M${x + 8} ${y} l15 5`, "sight-paint-old")];
};

/** Return the three retaining screws in what sets the gap. */
export const screws = ({ symptoms, shade, out = [], fretted: where = [] }) => {
  const next = dice(shade);
  const fresh = symptoms.includes("fresh-paint");
  const [x, y] = placeOf(1 + (shade % 3));
  return [
    circle(CX, CY, 92, "sign-band sight-face"), strewn(next, 60, [30, 4, 180, 144], 3, "sight-turned"),
    ...(symptoms.includes("fretting-at-a-screw") ? where.flatMap(fretted) : []),
    ...(shade % 3 === 1 ? [circle(x, y, 21, "sight-print")] : []),
    ...SCREWS.flatMap((screw) => screwHead(screw, out.includes(screw))),
    ...(shade % 3 === 2 ? [scratch(x - 10, y - 4, 6, 8)] : []),
    ...SCREWS.flatMap((screw) => paint(screw, fresh)),
    circle(CX, CY, 22, "sign-band sight-dark"),
    ...SCREWS.map((screw) => words(...polar(CX, CY + 4, 31, (screw - 1) * 120), screw)),
  ];
};

const zigzag = (x, wide, top, foot, turns) => `M${x} ${foot} ` + Array.from({ length: turns }, (_, i) => `L${x + (i % 2 ? 0 : wide)} ${(foot - ((foot - top) * (i + 1)) / turns).toFixed(1)}`).join(" ");
const spring = (x, wide, whole, kind) => {
  const top = whole ? 44 : 86;
  const coil = path(zigzag(x, wide, top, 122, whole ? 8 : 4), `sight-spring ${kind}`);
  return whole ? [coil, path(`M${x - 1} ${top} h${wide + 2}`, `sight-spring ${kind}`)] : [coil, path(`M${x + wide * 0.1} ${top} l4 -7 l2 5`, `sight-spring ${kind}`)];
};
const bore = (x, kind, scratched) => [circle(x, 70, 30, "sign-band sight-dark"), ring(x, 70, 25, 17, `sign-band ${kind}`), path(arc(x, 70, 21, 30, 330), "sight-end"), ...(scratched ? [scratch(x - 12, 52, 12, 3)] : [])];

/** Return the springs: their ends in the bores, or all of them standing once the body is off. */
export const springs = ({ symptoms, shade, springs: count, springs_whole: whole }) => {
  const next = dice(shade);
  const kind = (i) => (symptoms.includes("springs-of-two-colours") && (i + shade) % 3 === 0 ? "sight-brass" : "sight-blued");
  const loose = symptoms.includes("spring-splinter") ? [splinter(176, 142)] : [];
  if (count === undefined) return [
    rect(0, 0, WIDE, 150, "sight-face"), ...[44, 120, 196].flatMap((x, i) => bore(x, kind(i), shade % 3 === 2 && i === 1)),
    ...(shade % 3 === 1 ? [[44, 70], [120, 70], [196, 70]].map(([x, y]) => strewn(next, 40, [x - 34, y - 34, 64, 68], 2.6, "sight-speck")) : []), ...loose,
  ];
  const apart = 216 / count;
  const wide = Math.min(18, apart * 0.7);
  const broken = new Set(Array.from({ length: count - whole }, (_, i) => (shade + i * 3) % count));
  return [
    rect(0, 0, WIDE, 150, "sight-paper"), rect(0, 122, WIDE, 28, "sign-band sign-steel"),
    ...Array.from({ length: count }, (_, i) => spring(12 + i * apart + (apart - wide) / 2, wide, !broken.has(i), kind(i))).flat(), ...loose,
  ];
};

/** Return the hand release beside its bracket, at rest, drawn, or off. */
export const lever = ({ symptoms, shade, off = false }) => {
  const drawn = symptoms.includes("lever-drawn");
  const [tipX, tipY] = drawn ? [196, 34] : [104, 10];
  return [
    rect(0, 0, WIDE, 150, "sight-paper"), rect(0, 118, WIDE, 32, "sign-band sight-body"), path("M84 118 V84 h36 v34Z", "sign-band sign-steel"),
    ...(shade % 3 === 2 ? [path("M88 96 l8 -4 l6 6 l-4 8Z", "sight-bare")] : []),
    path("M84 30 h-22 v52 h-8", "sight-rest"),
    ...(off ? [] : [
      path(`M102 98 L${tipX} ${tipY}`, "sight-lever"), path(`M102 98 L${tipX} ${tipY}`, "sight-lever-in"),
      circle(tipX, tipY, 9, `sign-band ${shade % 3 === 1 ? "sight-worn" : "sight-grip"}`),
      path(drawn ? "M140 70 q14 26 4 40 l10 8" : "M104 60 l14 6 l-6 8 l16 4 l-6 8 l16 4 l-6 8 l14 12", "sight-wire"),
    ]),
    circle(102, 98, 7, "sign-band sight-hub"), circle(102, 98, 2.5, "sight-dark"), path(hexagon(148, 112, 7), "sign-band sign-steel"),
  ];
};
