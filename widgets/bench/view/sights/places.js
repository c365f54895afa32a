// The picture of a place that was looked at: drawn from what was seen there, sound or not, and from nothing else.

import { draw } from "../../../page/dom.js";
import { hub, faces, newDisc, wearPlate } from "./faces.js";
import { lever, screws, springs } from "./fastened.js";
import { fan, leads, outside } from "./outside.js";
import { dust, edge, seal } from "./rim.js";
import { HIGH, WIDE } from "./strokes.js";

const DRAWN = { outside, fan, seal, dust, edge, screws, lever, leads, springs, faces, hub, wear_plate: wearPlate, new_disc: newDisc };

/** Return the picture of a place as it was seen, with words for who cannot see it; null for a place that has none. */
export const pictureOf = (seen, words) => {
  const drawn = DRAWN[seen.at];
  if (!drawn) return null;
  const shade = Number.isInteger(seen.shade) ? seen.shade : 0;
  const told = words ? { role: "img", "aria-label": words } : { "aria-hidden": "true" };
  return draw("svg", { viewBox: `0 0 ${WIDE} ${HIGH}`, class: "sign sight", ...told }, ...drawn({ ...seen, symptoms: seen.symptoms ?? [], shade }));
};
