// The brake from its rim: edge of disc and lining, dust in the gap, seal band.

import { blot, path } from "../drawing/sign_pictures.js";
import { dice, drop, HIGH, lumps, profile, rect, rounded, scratch, splinter, strewn, wash, wet, WIDE } from "./strokes.js";

const RIM = 184; // beside it hub and disc from the side
const LININGS = [[26, 22], [64, 22]];
const [END, CARRIER, PLATE, GAP] = [[0, 26], [48, 16], [86, 30], [116, 5]];
const across = ([y, height], kind, width = RIM) => rect(0, y, width, height, `sign-band ${kind}`);

const grey = (next) => LININGS.map(([y, height]) => strewn(next, 110, [2, y + 3, RIM - 8, height - 5], 4, "sign-grain"));
const glints = (y) => [[16, 40], [70, 34], [118, 46]].map(([x, long]) => path(`M${x} ${y} h${long}`, "sign-glint"));

const LINING = {
  "glassy-brown-edge": () => LININGS.flatMap(([y, height]) => [across([y, height], "sign-glaze"), ...glints(y + 8)]),
  "dark-shiny-edge": (next) => [
    ...grey(next),
    ...LININGS.flatMap(([y, height]) => [path(`M12 ${y} H156 q-14 ${height / 2} 4 ${height} H22 q-16 ${-height / 2} -10 ${-height}Z`, "sign-oil"), ...glints(y + 9).slice(0, 2)]),
    drop(62, 88, 7, "sign-oil"), drop(104, 94, 8, "sign-oil"),
  ],
  "polished-on-one-side": (next) => [...grey(next), ...LININGS.flatMap(([y, height]) => [rect(96, y, RIM - 96, height, "sign-band sight-polish"), path(`M104 ${y + 8} h60 M124 ${y + 14} h44`, "sign-glint")])],
  "narrow-ring": (next) => [...grey(next), ...LININGS.map(([y, height]) => rect(0, y, RIM, height, "sight-recess")), ...LININGS.map(([y]) => rect(0, y, RIM, 6, "sight-recess"))],
};
const MORE = {
  "blue-patches": () => [blot(40, 100, 17, "sign-blue"), blot(92, 102, 14, "sign-blue"), blot(146, 100, 18, "sign-blue"), blot(118, 12, 13, "sign-blue")],
  "bright-rings": () => [path("M0 7 H184 M0 18 H184", "sign-bright"), path("M0 10 H184 M0 21 H184", "sign-score")],
  "rust-on-the-rim": (next) => [across(CARRIER, "sight-rust-thin"), strewn(next, 70, [2, 50, RIM - 8, 12], 4, "sign-red-grain")],
  "wet-inside": (next) => wet(next, [6, 6, RIM - 12, HIGH - 8]),
  "wet-trace": () => [path("M84 66 q8 40 2 84 h18 q6 -40 -6 -84Z", "sight-trace"), path("M92 92 v30", "sign-glint")],
  "dust-caked": (next) => lumps(next, 9, [12, 88, RIM - 30, 34]),
  "spring-splinter": () => [splinter(118, 136)],
  "rust-red-dust": (next) => [strewn(next, 80, [2, 44, RIM - 8, 24], 3, "sign-red-grain"), strewn(next, 40, [RIM + 12, 50, 36, 50], 2.5, "sign-red-grain"), strewn(next, 30, [20, 120, 130, 28], 3, "sign-red-grain")],
};

/** Return the edge of the disc between motor end and magnet body, and hub and disc from the side. */
export const edge = ({ symptoms, shade }) => {
  const next = dice(shade);
  const lining = Object.keys(LINING).find((code) => symptoms.includes(code));
  return [
    across(END, "sign-steel"), ...LININGS.map((band) => across(band, "sign-lining")), across(CARRIER, "sight-iron"), across(PLATE, "sign-steel"), across(GAP, "sight-dark"), across([121, 29], "sight-body"),
    ...(lining ? LINING[lining](next) : grey(next)),
    ...(shade % 3 === 1 ? [scratch(48, 30, 26, 12), scratch(132, 68, 22, 9)] : []),
    ...(shade % 3 === 2 ? LININGS.flatMap(([y, height]) => wash(90, y, RIM - 90, height)) : []),
    ...profile(RIM, symptoms.includes("hub-stands-out")),
    ...symptoms.flatMap((code) => MORE[code]?.(next) ?? []),
    ...rounded(RIM),
  ];
};

/** Return the gap close to, between plate and magnet body. */
export const dust = ({ symptoms, shade }) => {
  const next = dice(shade);
  const grains = (box, count) => strewn(next, count, box, 3.4, "sight-speck");
  return [
    rect(0, 0, WIDE, 62, "sign-band sign-steel"), rect(0, 62, WIDE, 20, "sight-dark"), rect(0, 82, WIDE, 68, "sign-band sight-body"),
    path(Array.from({ length: 9 }, (_, i) => `M0 ${6 + i * 6.4} H240`).join(" "), "sight-turned"),
    ...(shade % 3 === 1 ? [path("M20 20 q60 26 130 4 M40 104 q70 24 160 2 M30 116 q80 22 150 4", "sight-wipe")] : []),
    ...(shade % 3 === 2 ? [path("M52 98 q30 -18 54 4 t52 2", "sight-hair")] : []),
    ...(symptoms.includes("dust") ? [rect(0, 50, WIDE, 14, "sight-dusty"), rect(0, 80, WIDE, 16, "sight-dusty"), grains([0, 46, 236, 20], 190), grains([0, 78, 236, 22], 210), grains([0, 64, 236, 16], 60)] : []),
    ...(symptoms.includes("dust-caked") ? [grains([0, 40, 236, 64], 160), ...lumps(next, 15, [16, 52, 200, 40])] : []),
    ...(symptoms.includes("spring-splinter") ? [splinter(150, 126)] : []),
  ];
};

const ellipse = (x, y, rx, ry, kind = "sight-faded") => path(`M${x - rx} ${y} a${rx} ${ry} 0 1 1 ${2 * rx} 0 a${rx} ${ry} 0 1 1 ${-2 * rx} 0Z`, kind);
const thumb = () => [[14, 9], [10, 6], [6, 3]].map(([rx, ry]) => ellipse(150, 76, rx, ry, "sight-wipe"));
const band = (lip) => [path(`M0 34 H240 V116 ${lip} H0Z`, "sign-band sight-rubber"), path("M0 46 H240 M0 104 H240", "sight-rib")];
const SHUT = "H240";
const OUT = "H228 q-40 -22 -92 2 q-12 6 -20 -2";
const bareRim = (next) => [...[[40, 16, "sign-lining"], [56, 12, "sight-iron"], [68, 16, "sign-lining"], [84, 18, "sign-steel"], [102, 4, "sight-dark"]].map(([y, height, kind]) => rect(0, y, WIDE, height, `sign-band ${kind}`)), strewn(next, 60, [2, 42, 232, 12], 4, "sign-grain"), strewn(next, 60, [2, 70, 232, 12], 4, "sign-grain")];

/** Return the seal band over the gap, rolled back, or not there. */
export const seal = ({ symptoms, shade, off = false, seated = true }) => {
  const next = dice(shade);
  const missing = symptoms.includes("seal-missing");
  return [
    rect(0, 0, WIDE, 40, "sign-band sight-body"), rect(0, 106, WIDE, 44, "sign-band sight-body"),
    ...bareRim(next), rect(0, 36, WIDE, 4, "sight-dark"), rect(0, 108, WIDE, 4, "sight-dark"),
    ...(missing ? [strewn(next, 120, [0, 84, 236, 26], 3.4, "sight-speck")] : []),
    ...(off && !missing ? [rect(-4, 122, WIDE + 8, 18, "sign-band sight-rubber"), path("M0 128 H240 M0 134 H240", "sight-rib")] : []),
    ...(off || missing ? [] : [
      ...band(seated ? SHUT : OUT),
      ...(shade % 3 === 1 ? [ellipse(70, 72, 44, 16), ellipse(70, 72, 30, 9), ellipse(168, 80, 36, 14)] : []),
      ...(shade % 3 === 2 ? [strewn(next, 70, [120, 60, 70, 34], 3, "sight-speck"), ...thumb()] : []),
    ]),
    ...rounded(WIDE),
  ];
};
