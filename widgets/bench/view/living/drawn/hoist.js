// A drum, a rope and a load that sinks, beside a rule. Draws lengths it is told, in mm; works out none.

import { draw } from "../../../../page/dom.js";
import { write } from "../page/facts.js";

const DRUM = 20; // radius
const HANGS = 52; // units from the drum to the load as it stood at power-off
const STEPS_MM = [5, 10, 20, 50, 100, 200, 500];

/** Return the step between the marks of a rule that shows so many mm: about five of them. Pure. */
export const ruleStep = (most_mm) => STEPS_MM.find((step) => most_mm / step <= 4.5) ?? 1000;

/**
 * Return a hoist whose drum stands at `x`, `y`, with `room` units for the load to sink in, and `most_mm` at the foot.
 * The load's `kg` are written on it.
 */
export function hoist({ x, y, room, most_mm, kg, narrow = false }) {
  const scale = room / most_mm;
  const top = y + HANGS;
  const half = narrow ? 24 : 30;
  const spokes = draw("path", { class: "l", d: `M${x - DRUM} ${y} H${x + DRUM} M${x} ${y - DRUM} V${y + DRUM}` });
  const rope = draw("path", { class: "rope" });
  const sunk = draw("rect", { class: "sunk", x: x + DRUM - half, y: top, width: 2 * half });
  const block = draw("g", {}, draw("path", { class: "block", d: `M${x + DRUM - half} 0 h${2 * half} v30 h${-2 * half} Z M${x + DRUM - 8} 0 v-9 h16 v9` }),
    draw("text", { class: "block-word", x: x + DRUM, y: 16 }, narrow ? "" : `${kg} kg`));
  const step = ruleStep(most_mm);
  const marks = Array.from({ length: Math.floor(most_mm / step) + 1 }, (_, i) => i * step);
  const edge = x + DRUM + half + 8;
  const rule = draw("g", {},
    draw("path", { class: "l", d: `M${edge} ${top} V${top + room} ${marks.map((mm) => `M${edge} ${(top + mm * scale).toFixed(1)} h7`).join(" ")}` }),
    ...(narrow ? [] : marks.map((mm) => draw("text", { class: "mm", x: edge + 11, y: top + mm * scale + 1 }, String(mm)))),
  );
  const dropped = draw("text", { class: "dropped", x: x + DRUM });
  const node = draw("g", {},
    draw("path", { class: "from", d: `M${x - half} ${top} H${edge}` }), sunk, rule, rope,
    draw("circle", { cx: x, cy: y, r: DRUM, class: "f" }), spokes, draw("circle", { cx: x, cy: y, r: 4, class: "f" }), block, dropped,
  );
  const show = (travel_mm) => {
    const down = Math.min(travel_mm * scale, room + 30);
    spokes.setAttribute("transform", `rotate(${((down / DRUM) * 180) / Math.PI} ${x} ${y})`);
    rope.setAttribute("d", `M${x + DRUM} ${y} V${(top + down - 9).toFixed(2)}`);
    block.setAttribute("transform", `translate(0 ${(top + down).toFixed(2)})`);
    sunk.setAttribute("height", down.toFixed(2));
    dropped.setAttribute("y", (top + down + 44).toFixed(2));
    write(dropped, `${travel_mm.toFixed(0)} mm`);
  };
  return { node, show };
}
