// Which stage a scene is in, how long the work has taken, what is done.
import assert from "node:assert/strict";
import { test } from "node:test";

import { doneLines, stageOf, STAGES, startWords, timeWords } from "../../../widgets/bench/view/panels/stages.js";

const CLOSED = {
  start: "work order", load_landed: false, isolated: false, second_isolated: false, proved_dead: false, cover_on: true, fan_on: true,
  seal_on: true, body_on: true, body_held: false, disc_on: true, locks: ["untried", "untried", "untried"], turned_deg: [0, 0, 0],
  dusty: false, energised: false, size: null, gap_notes: [], disc_notes: [], value_notes: [], decision: null, handed_over: false,
};
const SAFE = { ...CLOSED, load_landed: true, isolated: true, proved_dead: true };
const OPEN = { ...SAFE, cover_on: false, fan_on: false, seal_on: false };
const READ = { ...OPEN, size: "Cedar-47" };

test("the job goes through its stages in the order of a work order", () => {
  const note = { struck: false };
  const found = [
    CLOSED, SAFE, { ...OPEN, dusty: true }, READ, { ...READ, gap_notes: [note], disc_notes: [note] },
    { ...READ, decision: "adjust" }, { ...READ, body_held: true }, { ...CLOSED, decision: "adjust" }, { ...CLOSED, handed_over: true },
  ].map(stageOf);
  assert.deepEqual(found, STAGES.map(([name]) => name));
});

test("every scene has a stage, whatever is on or off", () => {
  const names = new Set(STAGES.map(([name]) => name));
  for (let bits = 0; bits < 1024; bits += 1) {
    const is = (place) => Boolean(bits & (1 << place));
    const scene = {
      ...CLOSED, isolated: is(0), proved_dead: is(1), cover_on: is(2), fan_on: is(3), seal_on: is(4), body_on: is(5), disc_on: is(6),
      energised: is(7), decision: is(8) ? "replace" : null, handed_over: is(9),
    };
    assert.ok(names.has(stageOf(scene)));
  }
});

test("a magnet body that is off is being taken apart, also before any decision", () => {
  assert.equal(stageOf({ ...OPEN, body_on: false }), "apart");
  assert.equal(stageOf({ ...READ, locks: ["out", "slack", "slack"] }), "apart");
});

test("a brake that was measured and closed again is not made safe anew", () => {
  assert.equal(stageOf({ ...CLOSED, gap_notes: [{ struck: false }] }), "prove");
  assert.equal(stageOf({ ...SAFE, disc_notes: [{ struck: false }] }), "decide");
});

test("a slackened screw is adjusting", () => {
  assert.equal(stageOf({ ...READ, locks: ["slack", "untried", "untried"] }), "adjust");
});

test("time is told as a person tells it", () => {
  assert.equal(timeWords(0), "no work yet");
  assert.equal(timeWords(8), "about 1 min of work");
  assert.equal(timeWords(14 * 60), "about 14 min of work");
  assert.equal(timeWords(60 * 60), "about 1 h of work");
  assert.equal(timeWords(80 * 60), "about 1 h 20 min of work");
});

test("what is done is listed, what is not done is not hinted at", () => {
  assert.deepEqual(doneLines(CLOSED), []);
  assert.deepEqual(doneLines({ ...SAFE, gap_notes: [{ struck: false }, { struck: true }] }), ["load landed", "locked off", "proved dead", "1 gap reading written"]);
});

test("each start has its sentence", () => {
  for (const start of ["work order", "open", "body off", "notes"]) assert.match(startWords(start), /\.$/);
});
