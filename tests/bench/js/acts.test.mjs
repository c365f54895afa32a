// The lines of the hands: each named where it is used, each with words for any scene.
import assert from "node:assert/strict";
import { test } from "node:test";

import { LINES, PART_LINES, STAGE_LINES } from "../../../widgets/bench/view/tools/acts.js";
import { STAGES } from "../../../widgets/bench/view/panels/stages.js";
import { PARTS } from "../../../widgets/bench/view/drawing/standing.js";

const groups = [...Object.values(STAGE_LINES), ...Object.values(PART_LINES)];

test("every stage and every part of the drawing has its group", () => {
  assert.deepEqual(Object.keys(STAGE_LINES).sort(), STAGES.map(([name]) => name).sort());
  assert.deepEqual(Object.keys(PART_LINES).sort(), PARTS.map(([part]) => part).sort());
});

test("every line of a group exists, and every line is in a stage", () => {
  for (const { lines } of groups) for (const line of lines) assert.ok(LINES[line], line);
  const staged = new Set(Object.values(STAGE_LINES).flatMap(({ lines }) => lines));
  assert.deepEqual(Object.keys(LINES).filter((line) => !staged.has(line)), []);
});

test("a screw keeps its number in every wish", () => {
  for (const number of [1, 2, 3]) for (const [, , fields] of LINES[`screw${number}`][2]) assert.equal(fields.screw, number);
});

test("no wish is offered twice on one line", () => {
  for (const [name, , acts] of Object.values(LINES)) {
    const wishes = acts.map(([, kind, fields]) => JSON.stringify([kind, fields]));
    assert.equal(new Set(wishes).size, wishes.length, name);
  }
});

const standOf = (line, scene) => LINES[line][1]({ tested: [], locks: ["tight", "tight", "tight"], ...scene });

test("a second feed looked for and not there is done, and says so", () => {
  assert.deepEqual(standOf("second", { second_isolated: false, second_sought: false }), [false, "not looked for"]);
  assert.deepEqual(standOf("second", { second_isolated: false, second_sought: true }), [true, "looked for: there is none"]);
});

test("a test that was carried out shows as done", () => {
  for (const [line, kind] of [["bed", "bed_in"], ["run", "test_run"], ["hold", "test_hold"]]) {
    assert.equal(standOf(line, {})[0], false, line);
    assert.equal(standOf(line, { tested: [kind] })[0], true, line);
  }
});

test("a test on one of two brakes is offered where the hoist has two, and nowhere else", () => {
  const there = LINES.holdOne[4];
  assert.deepEqual([there({ fixed: { brakes: 2 } }), there({ fixed: { brakes: 1 } }), there({})], [true, false, false]);
  assert.deepEqual(LINES.holdOne[2].map(([, , { on }]) => on), ["this", "other"]);
});
