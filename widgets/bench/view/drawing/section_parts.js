// The shapes of the side view, part by part, at fixed places: a schematic section, to no scale.
// Nothing here follows from a gap or a thickness: `living/` moves these shapes, the bench shows and hides them. Hatching tells materials apart.

import { draw } from "../../../page/dom.js";
import { coils, crossed, hatch, mirrored } from "./hatching.js";

export const AXIS = 260; // of the shaft, in a drawing 720 by 520
export const LINING = 13; // units that each lining is thick, where nothing else is asked for

const path = (d, kind) => draw("path", { d, class: kind });
const rect = ([x, y, width, height], kind) => draw("rect", { x, y, width, height, class: kind });
const both = (box) => [box, mirrored(box, AXIS)];

// A piece cut by the section: outline and hatching, above the axis and below.
const METAL = { way: 1, step: 9 };
const cut = (box, { way, step } = METAL) => both(box).flatMap((one) => [rect(one, "f"), path(hatch(one, step, way), "l")]);
const lined = (box, step = 5) => both(box).flatMap((one) => [rect(one, "f"), path(crossed(one, step), "l")]);

const end = () => [
  ...cut([30, 110, 90, 134], { way: 1, step: 14 }),
  rect([20, 244, 610, 32], "f"), path("M24 244 q-8 16 0 32", "l"),
  path("M14 260 H648", "c"),
];
const hub = () => [...cut([130, 226, 66, 18], { way: -1, step: 5 }), path("M130 231 H196 M130 289 H196", "l"), rect([150, 238, 24, 12], "f")];
const wear = () => [...cut([120, 142, 14, 78], { way: -1, step: 6 })];
const wearHeads = (x) => both([x, 174, 6, 12]).map((one) => rect(one, "f"));
// The linings lie behind their carrier, so that a worn one can sink into it.
const linings = (width) => [[147 - width, 142, width, 58], [165, 142, width, 58]].map((box) => draw("g", {}, ...lined(box)));
const disc = (pads) => [...pads, ...cut([147, 142, 18, 84], { way: 1, step: 6 })];
const collar = (x) => both([x, 214, 12, 12]).flatMap((one) => [rect(one, "f"), path(hatch(one, 5, 1), "l")]);
const plate = () => cut([179, 134, 24, 84], { way: -1, step: 8 });
const body = () => [
  ...cut([220, 110, 160, 36], { way: 1, step: 11 }), ...cut([320, 146, 60, 68], { way: 1, step: 11 }),
  ...cut([220, 192, 100, 22], { way: 1, step: 11 }),
  ...both([222, 148, 96, 42]).flatMap((one) => [rect(one, "f"), path(crossed(one, 8), "l")]),
];
/** The path of the springs from the plate to the end of their holes. */
export const springPath = (from, to) => both([from, 196, to - from, 14]).map((box) => coils(box, 7)).join(" ");
const holes = () => both([220, 196, 76, 14]).map((one) => rect(one, "f"));
const hollow = (y, more) => draw("g", {}, rect([120, y - 15, 20, 30], "f"), path(`M120 ${y - 5} H140 M120 ${y + 5} H140`, "l"), rect([140, y - 9, 130 + more, 18], "f"),
  path(Array.from({ length: 16 + Math.floor(more / 8) }, (_, i) => `M${146 + i * 8} ${y - 9} l-4 18`).join(" "), "l"));
const retaining = (y, more) => draw("g", {}, rect([66 - more, y - 4, 320 + more, 8], "f"), rect([380, y - 11, 6, 22], "f"), rect([386, y - 9, 16, 18], "f"), path(`M386 ${y} H402`, "l"));
const seal = () => both([110, 98, 122, 9]).flatMap((one) => [rect(one, "f"), path(crossed(one, 4), "l")]);
const lever = () => [
  ...both([190, 139, 222, 5]).map((one) => rect(one, "f")),
  ...both([408, 114, 12, 104]).map((one) => rect(one, "f")),
  path("M408 114 L424 78 H436 L420 122 Z", "f"),
  ...both([420, 114, 7, 15]).map((one) => rect(one, "f")),
];
const leads = () => draw("path", { class: "lead" });
// The terminals: in a box of their own, outside the brake's cover, with a cover of its own.
const terminals = () => [
  rect([440, 430, 92, 34], "f"), path("M486 430 V464", "l"),
  ...[454, 472, 500, 518].map((x) => draw("circle", { cx: x, cy: 447, r: 5, class: "f" })),
];
const boxCover = () => draw("g", {}, rect([436, 427, 100, 40], "f"), path("M444 435 h8 M444 459 h8 M520 435 h8 M520 459 h8", "l"));
const fan = () => [
  ...cut([452, 222, 70, 22], { way: 1, step: 8 }), rect([466, 238, 36, 8], "f"),
  ...both([452, 166, 70, 56]).flatMap((one) => [rect(one, "f"), path(`M464 ${one[1]} q14 28 0 56 M486 ${one[1]} q14 28 0 56 M508 ${one[1]} q14 28 0 56`, "l")]),
];
const ring = () => both([530, 234, 8, 14]).map((one) => rect(one, "solid"));
const cover = () => [
  path("M384 96 H612 Q626 96 626 110 V410 Q626 424 612 424 H384 V418 H610 Q620 418 620 408 V112 Q620 102 610 102 H384 Z", "f"),
  path("M620 130 h6 M620 150 h6 M620 170 h6 M620 190 h6 M620 210 h6 M620 310 h6 M620 330 h6 M620 350 h6 M620 370 h6 M620 390 h6", "l"),
];
const sling = () => [path("M304 66 V104 M304 104 L292 112 M304 104 L316 112", "o"), rect([292, 106, 24, 308], "sling"), path("M296 66 q8 -12 16 0", "o")];

/** Where the balloon's leader of each part ends. */
export const POINTS = {
  wear: [127, 142], disc: [156, 142], plate: [191, 134], seal: [206, 98], body: [350, 122], lever: [430, 86], cover: [604, 424],
  end: [62, 404], hub: [184, 290], springs: [262, 314], screws: [392, 404], leads: [460, 464], fan: [512, 352], ring: [536, 234],
};

/** Where each lead ends: on the DC side, on the AC side, loose, torn. */
export const LEAD_PATHS = {
  dc: "M352 410 V457 H454 V452 M362 410 V437 H472 V442",
  ac: "M352 410 V457 H500 V452 M362 410 V437 H518 V442",
  off: "M352 410 V450 H412 l6 -6 M362 410 V438 H404 l6 -6",
  torn: "M352 410 V457 H454 V452 M362 410 V438 H392 l4 -6 l4 6 l4 -6",
};

/** Return every part's group of shapes; `lining` is how thick each lining is drawn, `more` how much longer the screws are. */
export const shapes = (lining = LINING, more = 0) => {
  const of = (kind, nodes) => draw("g", { class: `piece piece-${kind}` }, ...nodes);
  const screws = [140 - 20, 2 * AXIS - 120].map((y) => ({ hollow: hollow(y, more), retaining: retaining(y, more) }));
  const lead = leads();
  const lid = boxCover();
  const pads = linings(lining);
  const bores = draw("g", {}, ...holes());
  const coil = path(springPath(204, 296), "o");
  const made = {
    end: of("end", end()), hub: of("hub", hub()), wear: of("wear", wear()), disc: of("disc", disc(pads)), plate: of("plate", plate()),
    body: of("body", body()), springs: of("springs", [bores, coil]), seal: of("seal", seal()), lever: of("lever", lever()),
    screws: of("screws", screws.flatMap((one) => [one.hollow, one.retaining])), leads: of("leads", [...terminals(), lead, lid]),
    fan: of("fan", fan()), ring: of("ring", ring()), cover: of("cover", cover()),
  };
  const heads = wearHeads(134);
  const collars = { motor: collar(134), brake: collar(166) };
  made.wear.append(...heads);
  made.disc.append(...collars.motor, ...collars.brake);
  return { made, lead, lid, screws, heads, collars, pads, bores, coil, sling: of("sling", sling()) };
};
