// The closed brake from the side, its fan from the end, and its terminals.

import { path } from "../drawing/sign_pictures.js";
import { arc, circle, dice, HIGH, polar, rect, scratch, strewn, wet, WIDE } from "./strokes.js";

const FLOOR = 138;
const SEEN = {
  "track-of-water": () => [path("M128 0 q8 18 -2 34 q-6 14 4 26 l10 0 q-8 -14 0 -28 q8 -16 2 -32Z", "sight-water")],
  "wet-inside": (next) => [...wet(next, [120, 52, 44, 62]), path("M112 140 q24 -8 56 0 q-20 8 -56 0Z", "sight-water")],
  "wet-trace": () => [path("M134 84 q6 24 0 54 h14 q2 -28 -4 -54Z", "sight-trace"), path("M116 140 q24 -7 50 0 q-24 7 -50 0Z", "sight-trace")],
};

const cover = (shade) => [
  path("M166 42 h44 q20 0 20 36 q0 36 -20 36 h-44Z", "sign-band sight-cover"), path("M222 58 v40 M214 54 v48", "sight-rib"),
  ...(shade % 3 === 1 ? [scratch(178, 60, 24, 12)] : []),
  ...(shade % 3 === 2 ? [path("M186 84 q-3 16 0 18 q4 -2 0 -18Z", "sight-run")] : []),
];

/** Return the closed brake between motor and fan cover, with slipping clutch and hand release. */
export const outside = ({ symptoms, shade, off = false, fan_off: fanOff = false }) => {
  const next = dice(shade);
  const drawn = symptoms.includes("lever-drawn");
  const apart = symptoms.includes("clutch-marks-apart");
  return [
    rect(0, 0, WIDE, HIGH, "sight-paper"), path(`M0 ${FLOOR} H240`, "sign-edge"),
    rect(6, 58, 14, 42, "sign-band sight-hub"), rect(20, 58, 14, 42, "sign-band sign-steel"), path("M8 72 h12", "sight-paint-mark"), path(apart ? "M20 90 h12" : "M20 72 h12", "sight-paint-mark"),
    rect(34, 40, 82, 76, "sign-band sight-body"), path(Array.from({ length: 8 }, (_, i) => `M34 ${48 + i * 8.6} H116`).join(" "), "sight-rib"), path("M44 116 v22 h14 v-22 M92 116 v22 h14 v-22", "sign-edge"),
    rect(116, 46, 50, 64, "sign-band sight-face"), rect(128, 46, 8, 64, "sight-rubber"),
    ...(off ? [rect(166, 72, 52, 12, "sign-band sign-steel"), ...(fanOff ? [] : [rect(178, 46, 24, 64, "sign-band sight-cover"), path("M184 46 q6 16 0 32 M194 46 q6 16 0 32 M184 78 q6 16 0 32 M194 78 q6 16 0 32", "sight-rib")])] : cover(shade)),
    path("M148 46 v-8 h8 v8", "sign-edge"),
    path(drawn ? "M152 42 L196 18" : "M152 42 L152 6", "sight-lever"), path(drawn ? "M152 42 L196 18" : "M152 42 L152 6", "sight-lever-in"), path("M143 12 v14 h5", "sight-rest"),
    ...symptoms.flatMap((code) => SEEN[code]?.(next) ?? []),
  ];
};

const [CX, CY, BLADES] = [120, 75, 9];
const blade = (i) => {
  const [from, to] = [i * (360 / BLADES), i * (360 / BLADES) + 22];
  const [a, b, c, d] = [polar(CX, CY, 26, from), polar(CX, CY, 70, from + 10), polar(CX, CY, 70, to + 10), polar(CX, CY, 26, to)].map((one) => one.map((value) => value.toFixed(1)).join(" "));
  return path(`M${a} Q${b} ${b} L${c} Q${d} ${d}Z`, "sign-band sight-cover");
};

/** Return the fan on the shaft with key and ring, or the end of the shaft without it. */
export const fan = ({ symptoms, shade, off = false, keyed = true, ring_off: ringOff = false }) => {
  const next = dice(shade);
  return [
    rect(0, 0, WIDE, HIGH, "sight-body"), circle(CX, CY, 73, "sign-band sight-face"),
    ...(off ? [] : [...Array.from({ length: BLADES }, (_, i) => blade(i)), circle(CX, CY, 30, "sign-band sight-cover")]),
    ...(!off && shade % 3 === 1 ? [strewn(next, 90, [62, 22, 116, 106], 2.6, "sight-speck")] : []),
    ...(!off && shade % 3 === 2 ? [scratch(96, 66, 5, 6), scratch(140, 84, 5, 6)] : []),
    circle(CX, CY, 18, "sign-band sign-steel"), rect(CX - 5, CY - 24, 10, 14, `sign-band ${off || !keyed ? "sight-dark" : "sight-brass-key"}`),
    ...(off || ringOff ? [] : [path(arc(CX, CY, 13, 25, 335), "sight-circlip")]),
    ...(symptoms.includes("wet-inside") ? wet(next, [50, 10, 140, 134]) : []),
  ];
};

const TERMINALS = [[70, "~"], [100, "~"], [132, "+"], [162, "−"]];
const poleSign = (x, sign) => path({ "~": `M${x - 6} 90 q3 -6 6 0 t6 0`, "+": `M${x - 5} 90 h10 M${x} 85 v10`, "−": `M${x - 5} 90 h10` }[sign], "sign-edge");
const contact = (x, y) => [rect(x - 17, y - 12, 34, 24, "sign-band sight-paper"), circle(x - 9, y, 2.5, "sight-dark"), circle(x + 9, y, 2.5, "sight-dark"), path(`M${x - 9} ${y} l17 -7`, "sign-edge")];
const wire = (d, kind = "") => path(d, `sight-lead ${kind}`);

/** Return the rectifier with supply, contact of the brake and leads of the coil. */
export const leads = ({ symptoms, shade, leads: on = "dc" }) => {
  const next = dice(shade);
  const torn = symptoms.includes("lead-torn");
  const brown = symptoms.includes("discoloured-terminal");
  const screw = (x, i) => [
    circle(x, 60, 10, `sign-band ${brown && i === 2 ? "sight-burnt" : shade % 3 === 1 ? "sight-dull" : "sight-shiny"}`),
    path(shade % 3 === 2 && i === 1 ? `M${x - 6} 57 l5 4 l2 -3 l5 4` : `M${x - 6} 57 l12 6`, "sign-edge"),
  ];
  const [plus, minus] = on === "ac" ? [70, 100] : [132, 162];
  const coilLeads = on === "off"
    ? [wire("M240 128 H178 q-10 0 -12 -10", "sight-red"), wire("M240 140 H146 q-10 0 -12 -10"), rect(160, 104, 12, 15, "sign-band sight-paper"), rect(128, 116, 12, 15, "sign-band sight-paper")]
    : [wire(`M${plus} 68 V128 H240`, "sight-red"), ...(torn ? [wire("M240 140 H188 q-16 0 -18 -26"), path("M170 114 l-6 -8 M170 114 l0 -10 M170 114 l6 -8", "sight-strand"), path("M162 70 l-3 7 M162 70 l3 8", "sight-strand")] : [wire(`M${minus} 68 V140 H240`)])];
  const acSide = symptoms.includes("contact-on-the-ac-side");
  return [
    rect(0, 0, WIDE, HIGH, "sight-paper"),
    wire("M0 16 H70 V52", "sight-supply"), wire("M0 28 H88 Q100 28 100 40 V52", "sight-supply"),
    ...coilLeads,
    rect(52, 40, 128, 40, "sign-band sight-block"), ...(brown ? [circle(132, 60, 15, "sight-scorch")] : []), ...TERMINALS.flatMap(([x], i) => screw(x, i)),
    ...TERMINALS.map(([x, sign]) => poleSign(x, sign)),
    ...(acSide ? contact(32, 16) : contact(206, 128)),
    ...(brown ? [strewn(next, 20, [122, 70, 20, 8], 3, "sign-red-grain")] : []),
  ];
};
