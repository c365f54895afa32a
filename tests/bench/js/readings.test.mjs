// What is said of the person's own readings.
import assert from "node:assert/strict";
import { test } from "node:test";

import { bracket, byDecision, byPlace, decisionStep, nextLeaf, split, stackOf, total, withLatest, withLine, withTry } from "../../../widgets/bench/view/tools/readings.js";
import { settingOf } from "../../../widgets/bench/view/tools/write_down.js";

const felt = (leaves_mm, feel, angle_deg = 45) => ({ angle_deg, leaves_mm, feel });
const note = (angle_deg, go_mm) => ({ angle_deg, go_mm, no_go_mm: go_mm + 0.05 });

test("a stack is as thick as the marks of its leaves, without stray decimals", () => {
  assert.equal(total([0.1, 0.2]), 0.3);
  assert.equal(total([0.4, 0.05, 0.03]), 0.48);
});

test("the thickest that goes and the thinnest that will not bracket the gap", () => {
  const tries = [felt([0.4], "slides"), felt([0.5], "drags"), felt([0.6], "will not enter"), felt([0.55], "will not enter")].reduce(withTry, []);
  assert.deepEqual(bracket(tries), { go_mm: 0.5, no_go_mm: 0.55 });
});

test("nothing is offered before one leaf went and another did not", () => {
  assert.equal(bracket([]), null);
  assert.equal(bracket([felt([0.4], "slides")].reduce(withTry, [])), null);
  assert.equal(bracket([felt([0.4], "will not enter")].reduce(withTry, [])), null);
});

test("tries at another place start afresh", () => {
  const tries = [felt([0.4], "slides", 45), felt([0.5], "will not enter", 90)].reduce(withTry, []);
  assert.equal(bracket(tries), null);
});

test("the same stack tried twice counts as it was felt last", () => {
  const tries = [felt([0.4], "slides"), felt([0.5], "drags"), felt([0.5], "will not enter")].reduce(withTry, []);
  assert.deepEqual(bracket(tries), { go_mm: 0.4, no_go_mm: 0.5 });
});

test("the last note at an angle counts, the earlier ones do not", () => {
  const marked = withLatest([note(0, 0.5), note(45, 0.6), note(0, 0.3)]);
  assert.deepEqual(marked.map((one) => one.latest), [false, true, true]);
});

test("a note that is struck out never counts, and the one before it counts again", () => {
  const marked = withLatest([note(0, 0.5), { ...note(0, 0.9), struck: true }]);
  assert.deepEqual(marked.map((one) => one.latest), [true, false]);
});

test("the sheet keeps its marked places, blank ones too, and takes others in between", () => {
  const places = byPlace([note(100, 0.5), note(0, 0.6), note(100, 0.3)], [0, 90, 180, 270]);
  assert.deepEqual(places.map((place) => place.angle_deg), [0, 90, 100, 180, 270]);
  assert.deepEqual(places[2].notes.map((one) => one.go_mm), [0.3, 0.5]);
  assert.deepEqual(places[1].notes, []);
});

test("a hair before twelve o'clock is twelve o'clock", () => {
  const places = byPlace([note(359.8, 0.5)], [0, 90]);
  assert.deepEqual(places.map((place) => place.notes.length), [1, 0]);
});

test("a line keeps its number on the sheet wherever it is shown", () => {
  const places = byPlace(withLine([note(90, 0.5), note(0, 0.6)]), [0, 90]);
  assert.deepEqual(places.map((place) => place.notes[0].line), [1, 0]);
});

test("without a decision all readings are as found", () => {
  const { before, after } = byDecision([{ step: 3 }, { step: 9 }], null);
  assert.deepEqual([before.length, after.length], [2, 0]);
});

test("a reading written once the decision stands is one of after it", () => {
  const { before, after } = byDecision([{ step: 3 }, { step: 8 }, { step: 9 }], 9);
  assert.deepEqual([before.map((one) => one.step), after.map((one) => one.step)], [[3, 8], [9]]);
});

test("a colleague's readings are from before a decision that is the first act", () => {
  const { before, after } = byDecision([{ step: 0 }, { step: 0 }, { step: 1 }], 0);
  assert.deepEqual([before.length, after.length], [2, 1]);
});

test("the rule stands where the decision was written first, whatever is decided later", () => {
  const steps = [{ decision: null, step: 4 }, { decision: "adjust", step: 7 }, { decision: "fit", step: 12 }];
  assert.equal(steps.reduce((kept, scene) => decisionStep(kept, scene), null), 7);
  assert.equal(decisionStep(null, { decision: "fit", step: 12, decision_step: 7 }), 7);
});

test("a page opened after the decision draws no rule where it does not know one", () => {
  const kept = decisionStep(null, { decision: "adjust", step: 12 }, true);
  assert.ok(Number.isNaN(decisionStep(kept, { decision: "fit", step: 14 })));
  assert.deepEqual(byDecision([{ step: 3 }, { step: 13 }], kept).after, []);
});

test("one leaf thicker than the thickest is the thickest", () => {
  assert.equal(nextLeaf([0.1, 0.2, 0.3], 0.3, 1), 0.3);
  assert.equal(nextLeaf([0.1, 0.2, 0.3], 0.2, -1), 0.1);
});

test("the set falls into steps of 0.05 mm and thin leaves", () => {
  const { common, thin } = split([0.03, 0.04, 0.05, 0.1, 0.15, 0.95, 1]);
  assert.deepEqual(common, [0.05, 0.1, 0.15, 0.95, 1]);
  assert.deepEqual(thin, [0.03, 0.04, 0.05, 0.1]);
});

test("a lock that is only tried leaves the gap as it was, one that is slackened or tightened does not", () => {
  const scene = { turned_deg: [0, 0, 0], locks: ["untried", "tight", "tight"], shaft_deg: 0, released: false, body_on: true, disc_part: "old", dusty: false };
  assert.equal(settingOf(scene), settingOf({ ...scene, locks: ["tight", "tight", "tight"] }));
  assert.notEqual(settingOf(scene), settingOf({ ...scene, locks: ["slack", "tight", "tight"] }));
  assert.notEqual(settingOf(scene), settingOf({ ...scene, disc_part: "Cedar-47" }));
});

test("a thickness is made up of the fewest leaves, one of the common ones first", () => {
  const marks = [0.03, 0.04, 0.05, 0.06, 0.07, 0.08, 0.09, 0.1, 0.15, 0.2, 0.25, 0.3, 0.35, 0.4];
  assert.deepEqual(stackOf(marks, 0.35), [0.35]);
  assert.deepEqual(stackOf(marks, 0.37), [0.3, 0.07]);
  assert.deepEqual(stackOf(marks, 0.53), [0.4, 0.1, 0.03]);
  assert.equal(total(stackOf(marks, 0.31)), 0.31);
});

test("what three leaves do not make up is nothing", () => {
  assert.equal(stackOf([0.05, 0.1], 0.02), null);
  assert.equal(stackOf([0.05, 0.1, 0.15], 0.5), null);
});
