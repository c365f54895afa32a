// The gap all round, unfolded into a ring, and the same gap cut at the top and the bottom. Draws lengths that it is told.

import { draw } from "../../../../page/dom.js";

const C = 200; // middle of the ring
const INNER = 92; // radius where there is no gap
const at = (r, deg) => {
  const angle = (deg * Math.PI) / 180;
  return [C + r * Math.sin(angle), C - r * Math.cos(angle)];
};
const text = ([x, y]) => `${x.toFixed(1)} ${y.toFixed(1)}`;

/** Return the path of a gap round the rim: places in even steps from the top, clockwise. Pure. */
export const ringPath = (gaps, scale) => {
  const step = 360 / gaps.length;
  const outer = gaps.map((gap, i) => `${i ? "L" : "M"}${text(at(INNER + gap * scale, i * step))}`).join("");
  return `${outer}Z M${text(at(INNER, 0))} A${INNER} ${INNER} 0 1 0 ${text(at(INNER, 180))} A${INNER} ${INNER} 0 1 0 ${text(at(INNER, 0))}Z`;
};

const hexagon = (r) => `${Array.from({ length: 6 }, (_, i) => `${i ? "L" : "M"}${(r * Math.sin((i * Math.PI) / 3)).toFixed(1)} ${(-r * Math.cos((i * Math.PI) / 3)).toFixed(1)}`).join("")}Z M0 0 V${-r}`;

/** Return the ring: its node, where the screws stand, and what shows a gap. `most_mm` fills the room. */
export function ring({ most_mm, setting_mm, max_mm, places }) {
  const scale = 78 / most_mm;
  const gap = draw("path", { class: "gap", "fill-rule": "evenodd" });
  const circle = (mm, kind) => draw("circle", { cx: C, cy: C, r: (INNER + mm * scale).toFixed(1), class: kind });
  const spots = places.map((deg) => at(186, deg));
  const screws = spots.map(([x, y], i) => {
    const hex = draw("path", { d: hexagon(17), class: "f" });
    return { hex, node: draw("g", { transform: `translate(${x.toFixed(1)} ${y.toFixed(1)})` }, hex, draw("text", { class: "under", x: i === 1 ? 32 : -32 }, String(i + 1))) };
  });
  const node = draw("g", {}, gap, circle(0, "f"), circle(setting_mm, "from"), circle(max_mm, "least"),
    draw("text", { class: "mm is-middle", x: C, y: C - 16 }, "gap all round"), draw("text", { class: "mm is-middle", x: C, y: C + 8 }, `– – setting ${setting_mm}`), draw("text", { class: "mm is-middle", x: C, y: C + 30 }, `- - largest ${max_mm}`),
    ...screws.map((one) => one.node));
  const show = (gaps, turns) => {
    gap.setAttribute("d", ringPath(gaps, scale));
    screws.forEach(({ hex }, i) => hex.setAttribute("transform", `rotate(${turns[i].toFixed(1)})`));
  };
  return { node, spots, show };
}

/** Return plate and body cut through the shaft: the gap at the top and at the bottom. */
export function tiltedBody(scale) {
  const [top, foot, face] = [40, 360, 92];
  const gap = draw("path", { class: "gap" });
  const body = draw("path", { class: "f" });
  const words = [top - 14, foot + 18].map((y) => draw("text", { class: "dropped", y }));
  const screws = [66, 334].map((y) => ({ y, node: draw("path", { class: "f" }) }));
  const node = draw("g", {}, gap, draw("path", { class: "f", d: `M${face - 26} ${top} H${face} V${foot} H${face - 26}Z` }), draw("path", { class: "f", d: `M20 ${top} H54 V${foot} H20Z` }),
    draw("text", { class: "mm is-middle", x: face - 13, y: C - 40, transform: `rotate(-90 ${face - 13} ${C})` }, ""), ...screws.map((one) => one.node), body, ...words);
  const show = (above_mm, below_mm) => {
    const [a, b] = [face + above_mm * scale, face + below_mm * scale];
    gap.setAttribute("d", `M${face} ${top} L${a.toFixed(1)} ${top} L${b.toFixed(1)} ${foot} L${face} ${foot}Z`);
    body.setAttribute("d", `M${a.toFixed(1)} ${top} L${(a + 96).toFixed(1)} ${top} L${(b + 96).toFixed(1)} ${foot} L${b.toFixed(1)} ${foot}Z`);
    screws.forEach(({ y, node: one }) => {
      const x = a + ((b - a) * (y - top)) / (foot - top) + 110;
      one.setAttribute("d", `M54 ${y - 7} H${x.toFixed(1)} V${y - 14} h14 v28 h-14 V${y + 7} H54`);
    });
    [[above_mm, a], [below_mm, b]].forEach(([mm, x], i) => {
      words[i].setAttribute("x", ((face + x) / 2).toFixed(1));
      words[i].textContent = `${mm.toFixed(2)} mm`;
    });
  };
  return { node, show };
}
