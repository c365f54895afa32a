// The steel rule against the edge of the disc: marks at each half millimetre, numbers at each ten.
// Draws the scale for the eye and says the same in words; writes no reading anywhere.

import { draw, make } from "../../../page/dom.js";
import { hatch } from "./hatching.js";
import { marks, ruleWords, setRule } from "./vernier.js";

const UNITS = 30; // of the drawing, a millimetre
const SEEN_MM = 20;
const AFTER_MM = 6; // of the rule beyond the edge that is read
const EDGE = 96; // height of the rule's edge on the drawing
const HEIGHT = 200;
const LONG = [52, 42, 32, 20]; // length of a mark by rank, units
const at = (x) => x.toFixed(1);

const parts = ({ edge_mm }) => {
  const from = Math.max(-1.5, edge_mm - (SEEN_MM - AFTER_MM));
  const width = SEEN_MM * UNITS;
  const x = (mm) => (mm - from) * UNITS;
  const left = Math.max(0, x(0));
  const scale = marks(from, from + SEEN_MM, 0.5).map(({ at: mm, rank }) => {
    const mark = draw("path", { d: `M${at(x(mm))} ${EDGE} V${EDGE + LONG[rank]}`, class: "mark" });
    return rank ? mark : draw("g", {}, mark, draw("text", { x: at(x(mm) + (mm ? 0 : 14)), y: EDGE + LONG[0] + 20 }, String(mm)));
  });
  return [
    draw("rect", { x: at(left), y: 6, width: at(x(edge_mm) - left), height: EDGE - 6, class: "disc" }),
    draw("path", { d: hatch([left, 6, x(edge_mm) - left, EDGE - 6], 9), class: "hatch" }),
    draw("path", { d: `M${at(left)} ${EDGE} H${width} V${HEIGHT - 6} H${at(left)} Z`, class: "part" }),
    ...scale,
    draw("path", { d: `M${at(x(edge_mm))} 0 V${EDGE}`, class: "edge" }),
  ];
};

/** Return the scale: its node, what sets it to a length and what takes it off. */
export function ruleScale() {
  const picture = draw("svg", { class: "scale-rule", role: "img", viewBox: `0 0 ${SEEN_MM * UNITS} ${HEIGHT}` });
  const node = make("div", { class: "gal-scale", hidden: true }, picture);
  const close = (shown_mm) => {
    const set = setRule(shown_mm);
    picture.replaceChildren(...parts(set));
    picture.setAttribute("aria-label", ruleWords(set));
    node.hidden = false;
  };
  return { node, close, open: () => (node.hidden = true) };
}
