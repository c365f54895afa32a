// A leaf in a gap that is not parallel: along the rim it rides on the narrow side; out of line or not fully in, it lies.
// Reads the kernel's tables; sends nothing.

import { draw } from "../../../../page/dom.js";
import { hatch } from "../../drawing/hatching.js";
import { glider } from "../page/glide.js";
import { living } from "../page/living.js";
import { leafState } from "../reading/work_state.js";

const SCALE = 200; // units for a millimetre of gap or leaf: thickness is drawn much larger than width
const FLOOR = 190;
const IN = 11; // units for a millimetre along the leaf
const EDGE = 120; // where the rim is, seen from the side

const block = (box, way) => [draw("rect", { x: box[0], y: box[1], width: box[2], height: box[3], class: "f" }), draw("path", { class: "l", d: hatch(box, 11, way) })];

function leaf({ size, tables }, { by }) {
  // Along the rim: the leaf's width, with the body's face over it.
  const roof = draw("path", { class: "f" });
  const blade = draw("path", { class: "solid" });
  const wedge = draw("path", { class: "gap" });
  const along = draw("g", { role: "img" }, draw("text", { class: "name", x: 8, y: 22 }, "Along the rim"), ...block([10, FLOOR, 320, 40], -1), wedge, roof, blade,
    draw("text", { class: "mm is-middle", x: 170, y: 251 }, "plate"));
  const sides = ["left", "right"].map((_, i) => draw("text", { class: "mm is-middle", x: i ? 300 : 40, y: 72 }));
  along.append(...sides);
  // From the side: how far in, and at what angle.
  const ceiling = draw("path", { class: "f" });
  const stick = draw("path", { class: "solid" });
  const depth = draw("g", { role: "img" }, draw("text", { class: "name", x: 8, y: 22 }, "From the side"), ...block([EDGE, FLOOR, 210, 40], -1), ceiling, stick, draw("text", { class: "mm is-middle", x: 225, y: 251 }, "plate"));
  const glide = glider(by, { depth_mm: 9, angle_deg: 40, skew_deg: 5 });

  const show = (values) => {
    const now = leafState(tables, values, size);
    const y = (mm) => (FLOOR - mm * SCALE).toFixed(1);
    // The wedge across one leaf is hundredths: its slope is drawn over the leaf's width as it is, to scale with the gap.
    const [x1, x2, w] = [60, 280, 50];
    const slope = (now.right_mm - now.left_mm) / (x2 - x1);
    const [far, near] = [now.left_mm - slope * w, now.right_mm + slope * w];
    roof.setAttribute("d", `M10 50 H330 V${y(near)} L10 ${y(far)}Z`);
    wedge.setAttribute("d", `M10 ${y(far)} L330 ${y(near)} V${FLOOR} H10Z`);
    const inside = now.feel !== "will not enter";
    blade.setAttribute("d", `M${x1} ${FLOOR} H${x2} V${y(values.leaf_mm)} H${x1}Z`);
    blade.classList.toggle("is-out", !inside);
    [now.left_mm, now.right_mm].forEach((mm, i) => (sides[i].textContent = mm.toFixed(3)));
    const gap = now.smallest_mm;
    const chamfer = size.chamfer_mm;
    ceiling.setAttribute("d", `M${EDGE} 50 H330 V${y(gap)} H${EDGE + chamfer * IN} L${EDGE} ${y(gap + chamfer / 4)}Z`);
    const tip = EDGE + now.depth_mm * IN;
    const rise = Math.tan((values.skew_deg * Math.PI) / 180) * 60;
    stick.setAttribute("d", `M${tip.toFixed(1)} ${FLOOR - 1} L${EDGE - 10} ${FLOOR - 1} L8 ${(FLOOR - 1 - rise).toFixed(1)} V${(FLOOR - 1 - rise - values.leaf_mm * SCALE).toFixed(1)} L${EDGE - 10} ${y(values.leaf_mm)} H${tip.toFixed(1)}Z`);
    const off = 1000 * now.error_mm;
    const stopped = now.feel === "will not enter";
    const room = stopped ? `${(-now.room_mm).toFixed(3)} mm too thick` : `room ${now.room_mm.toFixed(3)} mm`;
    const reads = Math.abs(off) < 0.5 ? "true" : `${Math.abs(off).toFixed(0)} µm too ${off > 0 ? "large" : "small"}`;
    const facts = [
      ["Smallest gap under the leaf", `${now.smallest_mm.toFixed(3)} mm`, `middle ${now.middle_mm.toFixed(3)} mm: it rides on the narrow side`],
      ["The hand feels", now.feel, `leaf ${values.leaf_mm.toFixed(2)} mm, ${room}`, false],
      ["It is in", `${now.depth_mm.toFixed(1)} mm`, now.fully ? "fully" : "not fully: the broken edge gives room"],
      ["So it reads", stopped ? "nothing: take a thinner one" : reads, stopped ? "a leaf that stopped at the edge is no reading" : "by how the hand holds it"],
    ];
    const words = `${facts.map(([name, is, note]) => `${name}: ${is}, ${note}`).join(". ")}.`;
    along.setAttribute("aria-label", `Along the rim: ${now.left_mm.toFixed(3)} mm at one edge of the leaf, ${now.right_mm.toFixed(3)} mm at the other.`);
    depth.setAttribute("aria-label", `From the side: the leaf is ${now.depth_mm.toFixed(1)} mm in and ${values.skew_deg.toFixed(0)}° out of line; it ${now.feel}.`);
    return { facts, words };
  };
  const stills = [{ depth_mm: 0.3, skew_deg: 0 }, { depth_mm: size.full_mm }, { skew_deg: 5 }, { skew_deg: 0, angle_deg: 90 }];
  let at = 0;
  const story = {
    begin: [
      ["Push it in", (control) => { by.get("depth_mm").set(0.1, true); glide.to(control, { depth_mm: size.full_mm }); }],
      ["Go round the rim", (control) => glide.to(control, { angle_deg: by.get("angle_deg").get() >= 355 ? 0 : 355 })],
      ["Hold it askew", (control) => glide.to(control, { skew_deg: by.get("skew_deg").get() > 0 ? 0 : 5 })],
    ],
    step: () => {
      at = (at + 1) % stills.length;
      Object.entries(stills[at]).forEach(([name, target]) => by.get(name).set(target, true));
    },
    pace: false,
  };
  const view = (picture, label) => draw("svg", { viewBox: "0 6 340 256", role: "group", "aria-label": label }, picture);
  return { views: [view(along, "The leaf along the rim"), view(depth, "The leaf from the side")], story, advance: (_, story_s) => glide.advance(story_s), show, courses: () => {} };
}

export default living(leaf);
