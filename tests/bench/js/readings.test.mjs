// What is said of the person's own readings.
import assert from "node:assert/strict";
import { test } from "node:test";

import { bracket, byPlace, nextLeaf, split, total, withLatest, withTry } from "../../../widgets/bench/view/readings.js";

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

test("a place holds its gap and disc notes, newest first, and places go round by angle", () => {
  const places = byPlace([note(90, 0.5), note(0, 0.6), note(90, 0.3)], [{ angle_deg: 0, value_mm: 9.1 }]);
  assert.deepEqual(places.map((place) => place.angle_deg), [0, 90]);
  assert.deepEqual(places[1].gap.map((one) => one.go_mm), [0.3, 0.5]);
  assert.equal(places[0].disc[0].value_mm, 9.1);
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
