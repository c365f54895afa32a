// An upright gauge beside the section, with a grip on its column: voltage at the coil, temperature of the winding.

import { draw } from "../../../../page/dom.js";
import { grip } from "../page/grips.js";

/** Return a gauge at `x` from `foot` up to `top`; `ticks` are values with a mark. */
export function gauge({ control, x, foot, top, ticks, sign, label }) {
  const [low, high] = control.told.range;
  const perUnit = (high - low) / (foot - top);
  const height = (value) => foot - (value - low) / perUnit;
  const column = draw("rect", { x: x - 5, width: 10, class: "column" });
  const handle = grip({ control, along: "y", perUnit: () => perUnit, label });
  const node = draw(
    "g", {},
    draw("rect", { x: x - 9, y: top - 6, width: 18, height: foot - top + 12, rx: 9, class: "f" }),
    column,
    ...ticks.flatMap((value) => [
      draw("path", { d: `M${x + 9} ${height(value)} h8`, class: "l" }),
      draw("text", { x: x + 21, y: height(value) + 1, class: "tick" }, String(value)),
    ]),
    draw("text", { x, y: top - 20, class: "sign" }, sign),
  );
  const show = () => {
    const y = height(control.get());
    column.setAttribute("y", y.toFixed(1));
    column.setAttribute("height", (foot - y).toFixed(1));
    handle.show(x, y);
  };
  return { node, handle: handle.node, show };
}
