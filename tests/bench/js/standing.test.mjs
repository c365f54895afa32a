// How the parts stand, in words, from what can be seen and nothing else.
import assert from "node:assert/strict";
import { test } from "node:test";

import { IN_TRAY, lockWords, ownRow, PARTS, sideWords, standing } from "../../../widgets/bench/view/drawing/standing.js";

const CLOSED = {
  cover_on: true, ring_on: true, fan_on: true, seal_on: true, seal_seated: true, lever_on: true, lever_drawn: false, leads: "dc",
  body_on: true, body_held: false, body_cocked: false, disc_on: true, disc_part: "old", disc_reversed: null, wear_plate_on: null,
  plate_smooth_to_disc: null, spline_cleaned: false, locks: ["untried", "tight", "slack"], released: false, shaft_deg: 0, tray: [],
};
const is = (scene, row) => Object.fromEntries(Object.entries(standing({ ...CLOSED, ...scene }, row)).map(([part, stand]) => [part, stand.is]));

test("every part of the drawing has a place in words", () => {
  assert.deepEqual(Object.keys(standing(CLOSED)).sort(), PARTS.map(([part]) => part).sort());
});

test("behind the closed cover neither fan, ring nor seal are seen", () => {
  const { fan, ring, seal } = is({});
  assert.deepEqual([fan, ring, seal], Array(3).fill("covered"));
});

test("the leads end in a box of their own: its cover hides them, the brake's does not", () => {
  assert.equal(is({ box_on: true, cover_on: false }).leads, "covered");
  assert.equal(is({ box_on: false, cover_on: true }).leads, "on");
});

test("which way round a disc sits is said only of one whose fitting was seen", () => {
  assert.doesNotMatch(standing(CLOSED).disc.words, /collar/);
  assert.match(standing({ ...CLOSED, disc_reversed: true }).disc.words, /collar to the brake/);
  assert.match(standing({ ...CLOSED, disc_reversed: false }).disc.words, /collar to the motor/);
});

test("a wear plate behind the disc is neither on nor missing", () => {
  assert.equal(is({}).wear, "covered");
  assert.equal(is({ wear_plate_on: false, disc_on: false }).wear, "off");
  assert.equal(is({ wear_plate_on: true, plate_smooth_to_disc: false, disc_on: false }).wear, "on");
});

test("a size without a wear plate has none, once the plate was read", () => {
  const known = { fixed: { sheet: { rows: [{ name: "Fir-1", wear_plate_mm: 0 }] } }, scene: { ...CLOSED, size: "Fir-1" } };
  assert.equal(standing(known.scene, ownRow(known)).wear.words, "this size has none");
  assert.equal(ownRow({ ...known, scene: { ...CLOSED, size: null } }), null);
});

test("what lies in the tray is told from what was never there", () => {
  const open = { cover_on: false, fan_on: false, ring_on: false };
  assert.match(standing({ ...CLOSED, ...open, tray: ["fan"] }).fan.words, /tray/);
  assert.match(standing({ ...CLOSED, ...open }).fan.words, /none/);
});

test("everything the tray can hold has its part on the drawing", () => {
  const parts = new Set(PARTS.map(([part]) => part));
  for (const part of IN_TRAY.values()) assert.ok(parts.has(part));
});

test("every state of a retaining screw has a word of its own", () => {
  const words = ["untried", "tight", "slack", "out", "started"].map(lockWords);
  assert.equal(new Set(words).size, 5);
});

test("the sentence names each part once", () => {
  const words = sideWords(standing(CLOSED)).toLowerCase();
  for (const [, name] of PARTS) assert.equal(words.split(new RegExp(`(?<=[:,] )${name.toLowerCase()}(?=[,.])`)).length, 2, name);
});

test("a plate that was not drawn in by the person is not said to be shut", () => {
  assert.equal(standing(CLOSED).plate.words, "not seen to move");
  assert.match(standing({ ...CLOSED, released: true }).plate.words, /open/);
});
