// The end view against the limits sheet: on every sheet the screws stand outside the circle on which the gap is gauged.
import assert from "node:assert/strict";
import { test } from "node:test";

import { GAUGED, SCREW_CIRCLE } from "../../../widgets/bench/view/drawing/angles.js";
import { designOf, SET_WITH } from "../../../widgets/bench/view/drawing/designs.js";

const HEX = 21; // half across corners of the largest thing that stands at a screw, as drawn
const RIM = 216; // of the magnet body
// Circle of the screws over the gauging circle, of the invented sizes: 116/100 to 238/214 (limits sheet).
const [LEAST, MOST] = [238 / 214, 116 / 100];

test("the screws stand outside the ring of the readings, and on the magnet body", () => {
  assert.ok(SCREW_CIRCLE - HEX >= GAUGED);
  assert.ok(SCREW_CIRCLE + HEX <= RIM);
});

test("they stand as far outside as the sheet says", () => {
  const drawn = SCREW_CIRCLE / GAUGED;
  assert.ok(drawn >= LEAST && drawn <= MOST, String(drawn));
});

test("every design has its words", () => {
  assert.deepEqual(Object.keys(SET_WITH), ["hollow_screws", "shims", "adjusting_ring", "fixed"]);
  for (const words of Object.values(SET_WITH)) assert.ok(words.length > 10);
});

test("until the kernel tells the design, a brake is drawn with hollow screws", () => {
  assert.equal(designOf({ design: null }), "hollow_screws");
  for (const design of Object.keys(SET_WITH)) assert.equal(designOf({ design }), design);
});
