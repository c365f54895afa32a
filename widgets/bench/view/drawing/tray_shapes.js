// Small drawings of the parts in the tray, 96 by 64 each. Pure shapes: they say nothing of wear.

import { at, hexagon } from "./angles.js";
import { draw } from "../../../page/dom.js";
import { crossed, hatch } from "./hatching.js";

const X = 48;
const Y = 32;
const path = (d, kind = "f") => draw("path", { d, class: kind });
const circle = (r, kind = "f", x = X, y = Y) => draw("circle", { cx: x, cy: y, r, class: kind });
const place = (r, deg) => at(r, deg, X, Y).map((value) => value.toFixed(1)).join(" ");
const round = (count, make) => Array.from({ length: count }, (_, i) => make((360 * i) / count));

const SHAPES = {
  cover: () => [path("M22 8 H66 Q76 8 76 18 V46 Q76 56 66 56 H22 Z"), path("M68 16 h8 M68 24 h8 M68 32 h8 M68 40 h8 M68 48 h8 M22 14 h-6 M22 50 h-6", "l")],
  ring: () => [path(`M${place(20, 25)} A20 20 0 1 1 ${place(20, -25)} L${place(14, -30)} A14 14 0 1 0 ${place(14, 30)} Z`)],
  fan: () => [circle(27), ...round(7, (deg) => path(`M${place(9, deg)} Q${place(20, deg + 14)} ${place(26, deg + 12)}`, "l")), circle(9), circle(4, "l")],
  "seal band": () => [circle(27), circle(21), ...round(30, (deg) => path(`M${place(21, deg)} L${place(27, deg + 9)}`, "l"))],
  "hand release": () => [path("M30 20 Q48 6 66 20 V52 H58 V26 Q48 18 38 26 V52 H30 Z"), path("M45 13 L50 2 H56 L51 14"), path("M34 44 h-14 M62 44 h14", "o")],
  "magnet body": () => [circle(28), circle(19, "l"), circle(9), ...[0, 120, 240].map((deg) => path(hexagon(5, ...at(23, deg, X, Y))))],
  disc: () => [circle(28), circle(15), circle(8), ...round(12, (deg) => path(`M${place(8, deg)} L${place(10.5, deg)}`, "l")), ...round(36, (deg) => path(`M${place(16, deg)} L${place(27, deg + 6)}`, "l"))],
  "wear plate": () => [circle(28), circle(17), ...[30, 150, 270].map((deg) => circle(2.2, "l", ...at(22.5, deg, X, Y)))],
};

/** Return the small drawing of a part by its name in the tray; a plain hatched block if unknown. */
export const trayShape = (name) => {
  const block = () => [path("M28 16 H68 V48 H28 Z"), path(hatch([28, 16, 40, 32], 8), "l"), path(crossed([28, 40, 40, 8], 8), "l")];
  return draw("svg", { viewBox: "0 0 96 64", "aria-hidden": "true" }, ...(SHAPES[name] ?? block)());
};
