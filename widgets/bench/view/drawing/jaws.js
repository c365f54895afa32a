// The caliper on the end view, seen from its end: the near jaw over the edge of the disc, the beam outside.
// A tap on the rim holds it there; it shows no reading.

import { at, sector, snap } from "./angles.js";
import { draw } from "../../../page/dom.js";

const SHAPE = "M-22 -316 H22 V-272 H11 L7 -198 H-7 L-11 -272 H-22 Z M-22 -294 H22 M-4 -316 V-294 M4 -316 V-294";
const HAND_DEG = 5; // the hand's step along the rim

/** Return the mark: its node and what holds it at an angle. `turnTo` is told where the rim was tapped. */
export function jawsMark(drawing, turnTo) {
  const jaws = draw("path", { d: SHAPE, class: "jaws" });
  const rim = draw("path", { class: "rim", d: `${sector(128, 319, 0, 179.99)} ${sector(128, 319, 180, 359.99)}` });
  rim.addEventListener("click", (event) => turnTo(snap(drawing.point(event).deg, HAND_DEG)));
  const place = (deg) => {
    const [x, y] = at(0, 0);
    jaws.setAttribute("transform", `translate(${x} ${y}) rotate(${deg})`);
  };
  return { node: draw("g", {}, rim, jaws), place };
}
