// Pictures of what one must recognise at a brake: a piece of the lining's face, of a steel face, of hub or screw.
// Each shows one sign and no brake of its own; which one is shown is said by its code.

import { draw } from "../../../page/dom.js";

const [X, Y] = [100, 214]; // middle of the faces, below the picture
const [INNER, OUTER] = [96, 182];
const [FROM, TO] = [-42, 42]; // degrees from the top

const at = (r, deg) => {
  const angle = (deg * Math.PI) / 180;
  return `${(X + r * Math.sin(angle)).toFixed(1)} ${(Y - r * Math.cos(angle)).toFixed(1)}`;
};
/** Return the path of a piece of a ring between two radii and two angles. Pure. */
export const piece = (inner, outer, from, to) =>
  `M${at(inner, from)} L${at(outer, from)} A${outer} ${outer} 0 0 1 ${at(outer, to)} L${at(inner, to)} A${inner} ${inner} 0 0 0 ${at(inner, from)}Z`;
const line = (r, from, to) => `M${at(r, from)} A${r} ${r} 0 0 1 ${at(r, to)}`;
// The same grains each time: a picture is not dice.
const grains = (count, size) => {
  let state = 7;
  const next = () => (state = (state * 16807) % 2147483647) / 2147483647;
  return Array.from({ length: count }, () => `M${at(INNER + 4 + next() * (OUTER - INNER - 8), FROM + 2 + next() * (TO - FROM - 4))} h${(size * (0.4 + next())).toFixed(1)}`).join(" ");
};
export const path = (d, kind) => draw("path", { d, class: kind });
const band = (kind) => path(piece(INNER, OUTER, FROM, TO), `sign-band ${kind}`);
const dull = () => [band("sign-lining"), path(grains(150, 4), "sign-grain")];
const steel = () => [band("sign-steel")];
const crack = (deg, from, to) => path(`M${at(from, deg)} L${at(from + (to - from) * 0.35, deg + 1.2)} L${at(from + (to - from) * 0.7, deg - 0.8)} L${at(to, deg + 0.6)}`, "sign-crack");
const teeth = () => path(Array.from({ length: 13 }, (_, i) => `M${at(112, -40 + i * 6.4)} L${at(128, -39 + i * 6.4)} L${at(128, -36.4 + i * 6.4)} L${at(112, -35.4 + i * 6.4)}`).join(" "), "sign-edge");
export const blot = (x, y, size, kind) => path(`M${x - size} ${y} q${size * 0.2} ${-size * 0.9} ${size} ${-size * 0.7} q${size * 0.9} ${-size * 0.1} ${size} ${size * 0.6} q${-size * 0.1} ${size * 0.8} ${-size * 0.9} ${size * 0.8} q${-size} 0 ${-size * 1.1} ${-size * 0.7}Z`, kind);

const DRAWN = {
  sound: () => dull(),
  "glassy-brown-edge": () => [band("sign-glaze"), ...[[170, -30, -8], [158, -22, 10], [132, 2, 30], [116, -28, -14]].map(([r, from, to]) => path(line(r, from, to), "sign-glint"))],
  "dark-shiny-edge": () => [...dull(), path(`${piece(138, OUTER, -42, 20)}`, "sign-oil"), path(line(170, -30, -6), "sign-glint"), path(line(160, -12, 8), "sign-glint"), path("M60 64 q-6 12 0 16 q6 -4 0 -16Z M132 72 q-6 12 0 16 q6 -4 0 -16Z", "sign-oil")],
  "radial-cracks": () => [...steel(), ...[[-34, 104, 150], [-22, 120, 178], [-9, 100, 142], [4, 116, 176], [18, 102, 158], [31, 124, 176]].map((one) => crack(...one))],
  "blue-patches": () => [...steel(), blot(64, 92, 20, "sign-blue"), blot(112, 66, 24, "sign-blue"), blot(150, 108, 17, "sign-blue")],
  "bright-rings": () => [...steel(), ...[108, 122, 135, 150, 166].flatMap((r) => [path(line(r, FROM, TO), "sign-bright"), path(line(r + 3, FROM, TO), "sign-score")])],
  "narrow-ring": () => [...dull(), path(piece(146, 158, FROM, TO), "sign-glaze")],
  "rust-red-dust": () => [...steel(), path(piece(INNER, 128, FROM, TO), "sign-rust"), teeth(), path(grains(70, 3), "sign-red-grain")],
  "fretting-at-a-screw": () => [
    path("M0 26 H200 V150 H0Z", "sign-band sign-steel"), draw("circle", { cx: 100, cy: 90, r: 54, class: "sign-rust" }),
    path(Array.from({ length: 6 }, (_, i) => `${i ? "L" : "M"}${(100 + 34 * Math.sin((i * Math.PI) / 3)).toFixed(1)} ${(90 - 34 * Math.cos((i * Math.PI) / 3)).toFixed(1)}`).join("") + "Z", "sign-band sign-lining"),
    path("M100 90 m-40 0 a40 40 0 0 1 18 -34 M100 90 m44 6 a44 44 0 0 1 -22 32", "sign-score"),
  ],
  "dust-caked": () => [...steel(), ...[[40, 76, 18], [72, 54, 22], [108, 46, 26], [146, 62, 21], [168, 84, 15], [92, 70, 17], [126, 76, 16]].map(([x, y, size]) => blot(x, y, size, "sign-dust"))],
};

/** Whether there is a picture of a sign. */
export const isDrawn = (code) => code in DRAWN;

/** Return the picture of a sign; its words stand beside it. */
export const sign = (code) => draw("svg", { viewBox: "0 20 200 132", class: "sign", "aria-hidden": "true" }, ...DRAWN[code]());
