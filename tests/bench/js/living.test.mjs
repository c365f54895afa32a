// The living drawing's pure parts: reading between points, where parts stand, how the plate decides, the clock.
import assert from "node:assert/strict";
import { test } from "node:test";

import { after, decided, RESTS } from "../../../widgets/bench/view/living/reading/clack_plate.js";
import { clock, frameTime, nextMoment, run, SLOW } from "../../../widgets/bench/view/living/page/clock.js";
import { loop, weight } from "../../../widgets/bench/view/living/drawn/field_lines.js";
import { keyed } from "../../../widgets/bench/view/living/page/grips.js";
import { ruleStep } from "../../../widgets/bench/view/living/drawn/hoist.js";
import { courseAt, place, value, whole } from "../../../widgets/bench/view/living/reading/interpolate.js";
import { onSlider, spoken } from "../../../widgets/bench/view/living/page/sliders.js";
import { stance, STANDARD_GAP, unitsPerMm } from "../../../widgets/bench/view/living/drawn/stance.js";
import { nearer } from "../../../widgets/bench/view/living/page/glide.js";
import { ringPath } from "../../../widgets/bench/view/living/drawn/round.js";
import { reach } from "../../../widgets/bench/view/living/reading/work_state.js";
import { events } from "../../../widgets/bench/view/living/scenes/wear_runs.js";

const near = (a, b, within = 1e-9) => assert.ok(Math.abs(a - b) <= within, `${a} is not ${b}`);
const axis = (...points) => ({ points });
const SIZE = { setting_mm: 0.3, widest_mm: 1.2 };

test("a number lies between the two points beside it, and never outside the row", () => {
  assert.deepEqual(place([0, 1, 3], 2), [1, 0.5]);
  assert.deepEqual(place([0, 1, 3], -5), [0, 0]);
  assert.deepEqual(place([0, 1, 3], 99), [1, 1]);
  assert.deepEqual(place([0, 1, 3], NaN), [0, 0]);
});

test("a point that stands twice is a step, and there the later value holds", () => {
  const table = { axes: [axis(0, 10, 10, 20)], columns: { gap: [0.3, 0.8, 0.3, 0.8] } };
  near(value(table, "gap", 9.9999999), 0.8, 1e-6);
  near(value(table, "gap", 10), 0.3);
  near(value(table, "gap", 15), 0.55);
});

test("a product is read exactly off a grid of two axes, row by row", () => {
  const rows = [0, 2, 5];
  const columns = [1, 4];
  const table = { axes: [axis(...rows), axis(...columns)], columns: { area: rows.flatMap((a) => columns.map((b) => a * b)) } };
  for (const a of [0, 1.3, 2, 4.9, 5]) for (const b of [1, 2.2, 4]) near(value(table, "area", a, b), a * b, 1e-12);
});

test("what is infinite in the model is infinite on the page, also half-way to it", () => {
  const table = { axes: [axis(0, 1, 2)], columns: { needed: [40, 90, null] } };
  near(value(table, "needed", 1), 90);
  assert.equal(value(table, "needed", 1.01), Infinity);
  assert.equal(value(table, "needed", 2), Infinity);
});

const COURSE = {
  axis: axis(0, 1),
  phases: [
    { name: "waits", duration_s: [1, 3], columns: { way: [[0, 0], [0, 0]] } },
    { name: "goes", duration_s: [2, 2], columns: { way: [[0, 1, 4], [0, 2, 8]] } },
  ],
};

test("a course goes through its phases by their own times, and rests at its end", () => {
  near(whole(COURSE, 0.5), 4);
  assert.equal(courseAt(COURSE, 0.5, 1.9).phase, "waits");
  const middle = courseAt(COURSE, 0.5, 3);
  assert.equal(middle.phase, "goes");
  near(middle.way, 1.5);
  const end = courseAt(COURSE, 0.5, 99);
  assert.ok(end.over);
  near(end.way, 6);
  assert.ok(!courseAt(COURSE, 0.5, 3).over);
});

test("at the setting gap every part stands where the bench draws it", () => {
  const scale = unitsPerMm(SIZE);
  near(SIZE.setting_mm * scale, STANDARD_GAP);
  const at = stance({ gap_mm: 0.3, open_mm: 0.3 }, scale, 13);
  for (const part of ["disc", "plate", "body", "lost"]) near(at[part], 0, 1e-9);
});

test("what the linings lose the gap gains, with the body where it stands", () => {
  const [scale, lining] = [20, 65];
  const before = stance({ gap_mm: 0.3, open_mm: 0.3, worn_mm: 0 }, scale, lining);
  const later = stance({ gap_mm: 0.7, open_mm: 0.7, worn_mm: 0.2 }, scale, lining);
  near(later.body, before.body);
  near(later.gap[1] - later.gap[0], 0.7 * scale);
  near(before.plate - later.plate, 0.4 * scale);
});

test("drawn in, the plate lies on the poles, and the springs are pressed by the gap", () => {
  const scale = unitsPerMm(SIZE);
  const shut = stance({ gap_mm: 0.8, open_mm: 0.8 }, scale, 13);
  const open = stance({ gap_mm: 0.8, open_mm: 0 }, scale, 13);
  near(open.gap[0], open.gap[1]);
  near(shut.springs[1] - shut.springs[0] - (open.springs[1] - open.springs[0]), 0.8 * scale);
});

test("the field is drawn heavier for more flux, not at all for none, and each line is closed", () => {
  for (const i of [0, 2, 4]) {
    assert.equal(weight(i, 0), 0);
    assert.ok(weight(i, 1.2) >= weight(i, 0.8));
    assert.match(loop(i, 200, 220), /^M.*Z$/);
    assert.doesNotMatch(loop(i, 200, 220), /NaN/);
  }
  assert.ok(weight(0, 1) > weight(4, 1));
});

test("the plate leaves the disc at the voltage it needs, and the magnet only far below it", () => {
  const limits = { release: 36, let_go: 16 };
  assert.equal(decided(RESTS, 35.9, limits).where, "disc");
  const crossing = decided(RESTS, 36, limits);
  assert.equal(crossing.where, "in");
  const there = after(after(crossing, 0.03, 0.07), 0.05, 0.07);
  assert.equal(there.where, "magnet");
  assert.equal(decided(there, 20, limits).where, "magnet");
  assert.equal(decided(there, 15.9, limits).where, "out");
  assert.equal(decided(RESTS, 120, { ...limits, release: Infinity }).where, "disc");
});

test("slow motion is a twentieth, and a page that slept does not jump", () => {
  near(frameTime(0.016, SLOW), 0.0008);
  near(frameTime(60, 1), 0.1);
  const slow = run({ ...clock(), running: true, end_s: 1 }, 0.02);
  near(slow.time_s, 0.001);
  const ended = run({ time_s: 0.99, end_s: 1, running: true, rate: 1 }, 0.05);
  assert.deepEqual([ended.time_s, ended.running], [1, false]);
  near(run({ ...clock(), end_s: 1 }, 0.02).time_s, 0);
});

test("the next moment is the first one later, and after the last comes the first", () => {
  const moments = [[0, "off"], [0.2, "leaves"], [0.5, "stands"]];
  assert.equal(nextMoment(moments, 0)[1], "leaves");
  assert.equal(nextMoment(moments, 0.3)[1], "stands");
  assert.equal(nextMoment(moments, 0.5)[1], "off");
});

test("a grip moves by its slider's steps and stays on it", () => {
  const range = [0.02, 1.2, 0.01];
  near(keyed("ArrowRight", range, 0.3), 0.31);
  near(keyed("PageDown", range, 0.3), 0.2);
  near(keyed("Home", range, 0.3), 0.02);
  assert.equal(keyed("Tab", range, 0.3), null);
  near(onSlider(range, 0.31499), 0.31);
  near(onSlider(range, 7), 1.2);
  assert.equal(spoken({ decimals: 2, unit: "mm" }, 0.3), "0.30 mm");
});

test("a rule has a handful of marks", () => {
  for (const most of [12, 45, 64, 324, 900]) assert.ok(most / ruleStep(most) >= 1.7 && most / ruleStep(most) <= 5, String(most));
});

test("the stills of a life are each setting back, the least disc and the end, in order", () => {
  const table = { axes: [axis(0, 10, 10, 20, 20, 30)], columns: { gap_mm: [0.3, 0.8, 0.3, 0.8, 0.3, 0.8], disc_mm: [11, 10, 10, 9, 9, 8] } };
  const found = events(table, { disc_least_mm: 9, max_mm: 0.8 });
  assert.deepEqual([...found].sort((a, b) => a - b), found);
  for (const stops of [0, 10, 20, 30]) assert.ok(found.includes(stops), String(stops));
});

test("a key moves its slider evenly and stops at the target, from either side", () => {
  near(nearer(0, 10, 4, 0.5), 2);
  near(nearer(0, -10, 4, 0.5), -2);
  assert.equal(nearer(9.9, 10, 4, 0.5), 10);
  assert.equal(nearer(10, 10, 4, 0.5), 10);
});

test("the ring is a closed path of numbers, and a gap of nothing lies on its inner edge", () => {
  const path = ringPath([0, 0, 0, 0], 100);
  assert.doesNotMatch(path, /NaN/);
  assert.match(path, /^M200.0 108.0/);
});

test("a leaf that is too thick stops in the broken edge, and one that fits goes all the way", () => {
  const flat = (column, value, points = [0, 360]) => ({ axes: [axis(...points)], columns: { [column]: points.map(() => value) } });
  const tables = {
    under: { axes: [axis(0, 360), axis(0, 1)], columns: { smallest: [0.3, 0.3, 0.3, 0.3] } },
    skew: flat("lost_mm", 0, [0, 10]),
    depth: { axes: [axis(0, 1, 15)], columns: { won_mm: [1, 0, 0] } },
  };
  const at = (leaf_mm) => reach(tables, { angle_deg: 0, tilt_mm: 0, skew_deg: 0, leaf_mm }, 15);
  near(at(0.3), 15);
  near(at(0.5), 0.8, 1e-4);
});
