// The bench's own section, moving: springs stretch and press, the field comes and goes, plate and disc shift, the shaft turns.
// Shows what it is told; works out where lines go and nothing else.

import { draw } from "../../../../page/dom.js";
import { AXIS, LINING, shapes, springPath } from "../../drawing/section_parts.js";
import { LINES, loop, weight } from "./field_lines.js";
import { stance } from "./stance.js";

const SHAFT = 15; // radius of its marks
const LONGER = 46; // units of thread, so that the widest gap still stands on it
const MARKS = [0, 120, 240];
const BLUR_REV_S = 12; // faster than this on the screen, single marks cannot be told apart

const moved = (node, x, y = 0) => node.setAttribute("transform", `translate(${x.toFixed(2)} ${y.toFixed(2)})`);
const visible = (node, is) => (node.style.display = is ? "" : "none");

const fieldLines = () => {
  const paths = Array.from({ length: LINES }, () => draw("path", { class: "field" }));
  const node = draw("g", { class: "field-lines" }, ...paths);
  const show = ([plateFace, bodyFace], flux_t) =>
    paths.forEach((one, i) => {
      const heavy = weight(i, flux_t);
      visible(one, heavy > 0.05);
      if (heavy <= 0.05) return;
      one.setAttribute("d", loop(i, plateFace, bodyFace));
      one.setAttribute("stroke-width", heavy.toFixed(2));
    });
  return { node, show };
};

// Three marks along the shaft: on a cylinder seen from the side they rise and fall, and are hidden half of the time.
const shaftMarks = () => {
  const marks = MARKS.map(() => draw("path", { class: "turning" }));
  const node = draw("g", {}, ...marks);
  const show = (turns_rev, speed_rev_s = 0) => {
    const blurred = Math.abs(speed_rev_s) > BLUR_REV_S;
    marks.forEach((mark, i) => {
      const angle = 2 * Math.PI * (turns_rev + MARKS[i] / 360);
      const y = (AXIS - SHAFT * Math.cos(angle)).toFixed(1);
      mark.setAttribute("d", blurred ? `M30 ${AXIS + (i - 1) * 9} H620` : `M30 ${y} H118 M208 ${y} H620`);
      mark.classList.toggle("is-blurred", blurred);
      visible(mark, blurred || Math.sin(angle) > 0);
    });
  };
  return { node, show };
};

const clip = (x, width) => {
  const id = `gal-clip-${Math.random().toString(36).slice(2)}`;
  return { url: `url(#${id})`, shape: draw("clipPath", { id }, draw("rect", { x, y: 60, width, height: 218 })) };
};
// The upper half and the whole shaft: the lower half is its mirror, and the page is small.
const upperHalf = (right) => {
  return { ...clip(56, right - 56), ends: draw("path", { class: "l", d: `M${right} 240 q7 10 0 20 q-7 10 0 20 M58 242 q7 9 0 18 q-7 9 0 18` }) };
};

/** Return the moving section: its group, and what shows a state. `lining` is how thick a new lining is drawn, `right` where the shaft is cut off. */
export function livingBrake({ scale, lining = LINING, right = 470 }) {
  const { made, screws, heads, collars, pads, bores, coil } = shapes(lining, 2 * (lining - LINING) + LONGER);
  for (const node of [...heads, ...collars.brake]) visible(node, false);
  const field = fieldLines();
  const marks = shaftMarks();
  const gap = draw("rect", { class: "gap", y: 134, height: 84 });
  const retaining = screws.map((one) => one.retaining);
  const half = upperHalf(right);
  // A worn lining ends at its carrier: what it has lost must not come out on the other side.
  const ends = [clip(147 - 400, 400), clip(165, 400)];
  pads.forEach((pad, i) => {
    const frame = draw("g", { "clip-path": ends[i].url });
    pad.replaceWith(frame);
    frame.append(pad);
  });
  const inside = draw(
    "g", { "clip-path": half.url },
    made.end, marks.node, made.hub, made.wear, made.disc, gap, made.plate, made.body, made.springs, field.node, made.screws,
  );
  const node = draw("g", { class: "living-brake" }, half.shape, ...ends.map((one) => one.shape), inside, half.ends);
  /** Show a state: gap, plate and wear in mm, flux in T, the shaft in turns. Returns where the parts stand. */
  const show = ({ gap_mm, open_mm, worn_mm = 0, flux_t = 0, turns_rev = 0, speed_rev_s = 0 }) => {
    const at = stance({ gap_mm, open_mm, worn_mm }, scale, lining);
    moved(made.disc, at.disc);
    moved(pads[0], at.lost);
    moved(pads[1], -at.lost);
    moved(made.plate, at.plate);
    moved(made.body, at.body);
    moved(bores, at.body);
    retaining.forEach((one) => moved(one, at.body));
    coil.setAttribute("d", springPath(...at.springs));
    gap.setAttribute("x", at.gap[0].toFixed(2));
    gap.setAttribute("width", Math.max(0, at.gap[1] - at.gap[0]).toFixed(2));
    field.show(at.gap, flux_t);
    marks.show(turns_rev, speed_rev_s);
    return at;
  };
  return { node, show };
}
