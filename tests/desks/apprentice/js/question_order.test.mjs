// Order of steps, what an answer lacks, and the words of a mark.
import assert from "node:assert/strict";
import { test } from "node:test";

import { lacks, moved, placeAt, unbroken, verdict } from "../../../../quizzes/desks/apprentice/question_order.js";

test("a step that is moved up changes places with the one above", () => {
  assert.deepEqual(moved(["a", "b", "c"], 2, 1), ["a", "c", "b"]);
});

test("a step that is moved down past others keeps their order", () => {
  assert.deepEqual(moved(["a", "b", "c", "d"], 0, 2), ["b", "c", "a", "d"]);
});

test("the first step cannot go up and the last not down", () => {
  const list = ["a", "b"];
  assert.equal(moved(list, 0, -1), list);
  assert.equal(moved(list, 1, 2), list);
});

test("moving loses no step, wherever it goes", () => {
  const list = ["a", "b", "c", "d", "e"];
  for (let from = 0; from < 5; from += 1) {
    for (let to = 0; to < 5; to += 1) {
      const next = moved(list, from, to);
      assert.equal(next[to], list[from]);
      assert.deepEqual([...next].sort(), list);
    }
  }
});

test("a finger above all rows means the first, below all the last", () => {
  assert.equal(placeAt([50, 100, 150], 10), 0);
  assert.equal(placeAt([50, 100, 150], 120), 2);
  assert.equal(placeAt([50, 100, 150], 500), 2);
});

test("an answer without a choice is not sent", () => {
  assert.notEqual(lacks({ kind: "single", confidence: [] }, { choice: null }), "");
  assert.notEqual(lacks({ kind: "multiple", confidence: [] }, { choices: [] }), "");
  assert.notEqual(lacks({ kind: "numeric", confidence: [] }, { value: "" }), "");
  assert.equal(lacks({ kind: "mark", confidence: [] }, { place: "air-gap" }), "");
});

test("where it is asked, nobody answers without saying how sure they are", () => {
  const question = { kind: "single", confidence: [["sure", "sure"]] };
  assert.match(lacks(question, { choice: "a", confidence: null }), /how sure/);
  assert.equal(lacks(question, { choice: "a", confidence: "sure" }), "");
});

test("a mark is told in words", () => {
  assert.equal(verdict({ right: true, share: 1 }), "Right.");
  assert.equal(verdict({ right: false, share: 0 }), "Not yet. Read why, and try again.");
  assert.equal(verdict({ right: false, share: 0.6 }), "Partly right, 60 %. Nearly there.");
});

test("no line ends between a number and its unit", () => {
  assert.equal(unbroken("a gap of 0.95 mm or 5 N·m"), "a gap of 0.95\u00a0mm or 5\u00a0N·m");
  assert.equal(unbroken("8 minutes"), "8 minutes");
});
