// Caliper jaws over a disc that is clamped in the brake: through the notch at the rim, over both linings, square or not.
// Reads the kernel's tables; sends nothing.

import { draw, mayMove } from "../../../../page/dom.js";
import { hatch, crossed } from "../../drawing/hatching.js";
import { glider, nearer } from "../page/glide.js";
import { grip } from "../page/grips.js";
import { living } from "../page/living.js";
import { jawState } from "../reading/work_state.js";

const SCALE = 17; // units for a millimetre
const RIM = 150; // where the disc begins
const MIDDLE = 220; // of the disc
const OPEN = 40; // units that the jaws are apart beyond the disc before they close
const CARRIER_MM = 3; // drawn: how thick a carrier is, nobody asks here

const box = ([x, y, width, height], path) => [draw("rect", { x, y, width, height, class: "f" }), draw("path", { class: "l", d: path })];

function jaws({ size, tables }, { by }) {
  const disc = draw("g", {});
  const steel = draw("g", {});
  const left = draw("path", { class: "f" });
  const right = draw("path", { class: "f" });
  const beam = draw("path", { class: "f" });
  const display = draw("text", { class: "clack-word", x: MIDDLE, y: 38 });
  const caliper = draw("g", {}, beam, left, right, display);
  const rest = draw("text", { class: "mm is-middle", x: MIDDLE, y: 292 });
  const ringC = { x: 520, y: 170, r: 84 };
  const spot = draw("path", { class: "now" });
  const rim = draw("g", {}, draw("circle", { cx: ringC.x, cy: ringC.y, r: ringC.r, class: "f" }), draw("circle", { cx: ringC.x, cy: ringC.y, r: 34, class: "f" }), spot, draw("text", { class: "mm is-middle", x: ringC.x, y: ringC.y }, "disc"));
  const picture = draw("g", { role: "img" }, steel, disc, rim, caliper, rest);
  const hand = grip({ control: by.get("angle_deg"), along: "x", perUnit: () => 1, label: "Place on the rim" });
  const glide = glider(by, { angle_deg: 45, square_deg: 4 });
  let open = 1; // 1 apart, 0 closed
  let closing = false;
  let drawn = "";

  const drawDisc = (wide) => {
    const half = wide / 2;
    const core = (CARRIER_MM * SCALE) / 2;
    disc.replaceChildren(
      ...box([MIDDLE - half, RIM, half - core, 130], crossed([MIDDLE - half, RIM, half - core, 130], 8)),
      ...box([MIDDLE + core, RIM, half - core, 130], crossed([MIDDLE + core, RIM, half - core, 130], 8)),
      ...box([MIDDLE - core, RIM, 2 * core, 130], hatch([MIDDLE - core, RIM, 2 * core, 130], 9, 1)),
    );
    // Wear plate and pressure plate hold it; at the notch they stand back from the rim.
    const [a, b] = [[MIDDLE - half - 40, RIM + 46, 40, 84], [MIDDLE + half, RIM + 46, 40, 84]];
    steel.replaceChildren(...box(a, hatch(a, 9, -1)), ...box(b, hatch(b, 9, -1)));
  };
  const advance = (_, story_s) => {
    const moves = glide.advance(story_s);
    if (closing) open = mayMove() ? nearer(open, 0, 1.1, story_s) : 0;
    if (open === 0) closing = false;
    return moves || closing;
  };
  const show = (values) => {
    const now = jawState(tables, values);
    const key = now.thickness_mm.toFixed(3);
    if (key !== drawn) drawDisc(now.thickness_mm * SCALE);
    drawn = key;
    const reach = (now.span_mm * SCALE) / 2 + open * OPEN;
    const jaw = (x, way) => `M${x} 62 V${RIM + 40} l${way * 12} -6 V${RIM - 8} l${way * 12} -14 V62Z`;
    left.setAttribute("d", jaw(MIDDLE - reach, -1));
    right.setAttribute("d", jaw(MIDDLE + reach, 1));
    beam.setAttribute("d", `M${MIDDLE - reach - 30} 52 H${MIDDLE + 190} V66 H${MIDDLE - reach - 30}Z`);
    caliper.setAttribute("transform", `rotate(${values.square_deg.toFixed(2)} ${MIDDLE} ${RIM + 20})`);
    display.textContent = open === 0 ? `${now.span_mm.toFixed(2)} mm` : "– –";
    const angle = (values.angle_deg * Math.PI) / 180;
    const [sin, cos] = [Math.sin(angle), -Math.cos(angle)];
    spot.setAttribute("d", `M${(ringC.x + 70 * sin).toFixed(1)} ${(ringC.y + 70 * cos).toFixed(1)} L${(ringC.x + 104 * sin).toFixed(1)} ${(ringC.y + 104 * cos).toFixed(1)}`);
    hand.show(ringC.x + 96 * sin, ringC.y + 96 * cos);
    rest.textContent = `least ${size.disc_least_mm} mm`;
    const below = now.thinnest_mm < size.disc_least_mm;
    const facts = [
      ["The display says", open === 0 ? `${now.span_mm.toFixed(2)} mm` : "nothing yet", open === 0 ? `least allowed ${size.disc_least_mm} mm` : "close the jaws"],
      ["The disc is, here", `${now.thickness_mm.toFixed(2)} mm`, `thinnest all round ${now.thinnest_mm.toFixed(2)} mm`, below],
      ["Out of square", `${values.square_deg.toFixed(1)}°`, "the jaws touch by their corners"],
      ["Reads too thick by", `${now.too_much_mm.toFixed(2)} mm`, "a tilted caliper never reads too thin"],
    ];
    const words = `${facts.map(([name, is, note]) => `${name}: ${is}, ${note}`).join(". ")}.`;
    picture.setAttribute("aria-label", words);
    return { facts, words };
  };
  const stills = [{ square_deg: 6 }, { square_deg: 0 }, { angle_deg: 90 }, { angle_deg: 270 }];
  let at = -1;
  const story = {
    begin: [
      ["Close the jaws", (control) => { open = 1; closing = true; glide.to(control, { square_deg: by.get("square_deg").get() }); }],
      ["Hold it square", (control) => glide.to(control, { square_deg: 0 })],
      ["Go round the rim", (control) => glide.to(control, { angle_deg: by.get("angle_deg").get() >= 355 ? 0 : 355 })],
    ],
    step: () => {
      at = (at + 1) % stills.length;
      open = 0; // a still with the jaws closed
      Object.entries(stills[at]).forEach(([name, target]) => by.get(name).set(target, true));
    },
    pace: false,
  };
  const svg = draw("svg", { viewBox: "60 4 570 302", role: "group", "aria-label": "A caliper over the clamped disc" }, picture, hand.node);
  return { views: [svg], story, advance, show, courses: () => {} };
}

export default living(jaws);
