// Faces and what turns: lining and counter-face, wear plate, hub and spline, the new disc.

import { blot, path } from "../drawing/sign_pictures.js";
import { arc, circle, dice, drop, HIGH, polar, polygon, profile, rect, ring, scratch, strewn, strewnRound, WIDE, words } from "./strokes.js";

const [LEFT, RIGHT, MID] = [62, 178, 72];
const [INNER, OUTER] = [27, 56];
const runs = (cx, from, to) => path(Array.from({ length: 7 }, (_, i) => arc(cx, MID, from + ((to - from) * i) / 6, 0, 359)).join(" "), "sight-turned");
const shine = (cx, list) => list.map(([r, from, to]) => path(arc(cx, MID, r, from, to), "sign-glint"));
const lined = (next, cx, inner = INNER, outer = OUTER) => [ring(cx, MID, outer, inner, "sign-band sign-lining"), strewnRound(next, 210, [cx, MID, inner + 3, outer - 4], 3.4, "sign-grain")];

const LINING = {
  "glassy-brown-edge": () => [ring(LEFT, MID, OUTER, INNER, "sign-band sign-glaze"), ...shine(LEFT, [[48, -60, 20], [38, 30, 100], [44, 150, 230]])],
  "dark-shiny-edge": (next) => [...lined(next, LEFT), path(`${arc(LEFT, MID, 50, 60, 250)} `, "sight-oil-band"), ...shine(LEFT, [[51, 80, 120], [49, 150, 190]]), drop(40, 108, 7, "sign-oil"), drop(70, 118, 7, "sign-oil")],
  "narrow-ring": (next) => [ring(LEFT, MID, OUTER, INNER, "sign-band sight-iron"), ...lined(next, LEFT, 35, 47)],
};
const crack = (deg, from, to) => polar(RIGHT, MID, from, deg).concat(polar(RIGHT, MID, (from + to) / 2, deg + 3), polar(RIGHT, MID, to, deg - 1)).map((one) => one.toFixed(1));
const STEEL = {
  "blue-patches": () => [blot(146, 60, 12, "sign-blue"), blot(196, 38, 13, "sign-blue"), blot(200, 104, 14, "sign-blue")],
  "radial-cracks": () => [[12, 30, 50], [58, 34, 55], [97, 29, 47], [141, 33, 54], [188, 30, 50], [226, 36, 55], [274, 29, 48], [322, 33, 54]].map((one) => { const [a, b, c, d, e, f] = crack(...one); return path(`M${a} ${b} L${c} ${d} L${e} ${f}`, "sign-crack"); }),
};

/** Return the lining's face beside the steel face that it rubs on. */
export const faces = ({ symptoms, shade }) => {
  const next = dice(shade);
  const lining = Object.keys(LINING).find((code) => symptoms.includes(code));
  return [
    ...(lining ? LINING[lining](next) : lined(next, LEFT)),
    ...(shade % 3 === 1 ? [scratch(76, 34, 16, 14), scratch(30, 82, 10, 18)] : []),
    ...(shade % 3 === 2 ? [36, 44, 52].map((r) => path(arc(LEFT, MID, r, 30, 130), "sight-wash-arc")) : []),
    circle(LEFT, MID, 20, "sign-band sight-dark"),
    ring(RIGHT, MID, OUTER, INNER, "sign-band sign-steel"), runs(RIGHT, 31, 53), circle(RIGHT, MID, 20, "sign-band sight-dark"),
    ...symptoms.flatMap((code) => STEEL[code]?.() ?? []),
    words(LEFT, 144, "lining"), words(RIGHT, 144, "counter-face"),
  ];
};

const [HUB_X, TEETH] = [98, 20];
const gear = (cx, root, tip) => polygon(Array.from({ length: TEETH * 4 }, (_, i) => polar(cx, MID, [root, tip, tip, root][i % 4], (i * 90) / TEETH + [0, 1.2, -1.2, 0][i % 4])));

/** Return the hub in the spline of the disc, and both from the side. */
export const hub = ({ symptoms, shade, off = false }) => {
  const next = dice(shade);
  const rusty = symptoms.includes("rust-red-dust");
  return [
    rect(0, 0, WIDE, HIGH, "sight-iron"), ...(off ? [] : [circle(HUB_X, MID, 70, "sign-band sign-steel"), path(gear(HUB_X, 46, 54), "sign-band sight-dark")]),
    ...(rusty ? [ring(HUB_X, MID, 56, 42, "sign-rust"), strewnRound(next, 150, [HUB_X, MID, 42, 66], 3, "sign-red-grain"), strewn(next, 50, [60, 126, 80, 22], 3, "sign-red-grain")] : []),
    path(gear(HUB_X, 44, 52), `sign-band ${rusty ? "sign-rust" : "sight-hub"}`),
    ...(shade % 3 === 1 && !rusty ? [path(Array.from({ length: TEETH }, (_, i) => { const [a, b] = [polar(HUB_X, MID, 46, i * 18 + 4), polar(HUB_X, MID, 51, i * 18 + 6)]; return `M${a[0].toFixed(1)} ${a[1].toFixed(1)} L${b[0].toFixed(1)} ${b[1].toFixed(1)}`; }).join(" "), "sight-bright")] : []),
    ...(shade % 3 === 2 ? [scratch(128, 38, 8, 5)] : []),
    circle(HUB_X, MID, 26, "sign-band sign-steel"), rect(HUB_X - 5, MID - 32, 10, 12, "sign-band sight-iron"),
    ...(symptoms.includes("wet-trace") ? [path("M84 100 q10 26 2 50 h24 q4 -24 -6 -50Z", "sight-trace"), path("M94 112 v26", "sign-glint")] : []),
    ...profile(188, symptoms.includes("hub-stands-out"), off),
  ];
};

const PLATE_X = 120;
const bolts = (r, kind) => [0, 120, 240].map((deg) => circle(...polar(PLATE_X, MID, 50, deg), r, kind));

/** Return the wear plate, or the bare end of the motor where none is. */
export const wearPlate = ({ symptoms, shade, smooth_to_disc: smooth }) => {
  const next = dice(shade);
  const rings = symptoms.includes("bright-rings") ? [36, 44, 53, 61].flatMap((r) => [path(arc(PLATE_X, MID, r, 0, 359), "sign-bright"), path(arc(PLATE_X, MID, r + 2.5, 0, 359), "sign-score")]) : [];
  const motorEnd = [rect(28, 4, 184, 142, "sign-band sight-body"), circle(PLATE_X, MID, 69, "sign-band sight-face")];
  if (smooth === undefined) return [...motorEnd, ...rings, ...bolts(5, "sign-band sight-dark"), circle(PLATE_X, MID, 24, "sign-band sight-dark")];
  return [
    ...motorEnd, ring(PLATE_X, MID, 66, 27, "sign-band sign-steel"),
    ...(smooth ? [runs(PLATE_X, 32, 62)] : [strewnRound(next, 420, [PLATE_X, MID, 31, 62], 5, "sight-rough"), path(Array.from({ length: 150 }, () => `M${polar(PLATE_X, MID, 31 + next() * 31, next() * 360).map((one) => one.toFixed(1)).join(" ")} v${(2 + 3 * next()).toFixed(1)}`).join(" "), "sight-rough")]),
    ...(shade % 3 === 1 ? [path("M66 52 l30 -18 M70 66 l20 -12 M150 118 l26 -16 M152 104 l30 -18", "sight-wipe")] : []),
    ...bolts(7, "sign-band sight-hub"), ...bolts(3, "sight-dark"),
    ...(shade % 3 === 2 ? [scratch(PLATE_X - 6, MID - 54, 12, 6)] : []),
    circle(PLATE_X, MID, 24, "sign-band sight-dark"), ...rings,
  ];
};

/** Return the new disc with its label, as it lies in its wrapping. */
export const newDisc = ({ shade, size, disc_mm }) => {
  const next = dice(shade);
  return [
    ring(78, MID, 68, 30, "sign-band sign-lining"), strewnRound(next, 300, [78, MID, 34, 64], 3.4, "sign-grain"),
    circle(78, MID, 34, "sign-band sight-iron"), path(gear(78, 17, 23), "sign-band sight-paper"),
    rect(158, 30, 76, 86, "sign-band sight-paper"), circle(166, 38, 3, "sign-band sight-dark"),
    words(196, 60, size), words(196, 80, `${disc_mm}\u00a0mm`), words(196, 104, "motor side"),
  ];
};
