// Words of the trade in running text: found once, by their longest name.
import assert from "node:assert/strict";
import { test } from "node:test";

import { firstUses, lexicon } from "../../../lessons/page/voila/templates/suite/static/terms.js";

const TERMS = [
  { term: "air gap", means: "a", also: [], anchor: "air-gap" },
  { term: "leaf", means: "b", also: ["leaves"], anchor: "leaf" },
  { term: "gap", means: "c", also: ["clear way"], anchor: "gap" },
  { term: "gap width", means: "e", also: [], anchor: "gap-width" },
  { term: "lock-out", means: "d", also: ["one's lock"], anchor: "lock-out" },
];
const found = (text, met = new Set()) => firstUses(text, lexicon(TERMS), met).map(({ term, start, end }) => [term.anchor, text.slice(start, end)]);

test("the longest name wins", () => {
  assert.deepEqual(found("The air gap and the gap"), [["air-gap", "air gap"], ["gap", "gap"]]);
});

test("a name is not cut short by another that begins it", () => {
  assert.deepEqual(found("the gap width"), [["gap-width", "gap width"]]);
});

test("only the first use is found, over several texts", () => {
  const met = new Set();
  assert.deepEqual(found("a leaf, two leaves", met), [["leaf", "leaf"]]);
  assert.deepEqual(found("Leaves again", met), []);
});

test("a plural, a capital and a line's end are the same word", () => {
  assert.deepEqual(found("Air gaps"), [["air-gap", "Air gaps"]]);
  assert.deepEqual(found("air\n gap"), [["air-gap", "air\n gap"]]);
});

test("a part of another word is not the word", () => {
  assert.deepEqual(found("gaping, stop-gap, gap-like, agap"), []);
});

test("either apostrophe will do, and the place stays right", () => {
  assert.deepEqual(found("put one’s lock on"), [["lock-out", "one’s lock"]]);
});

test("without terms there is nothing to find", () => {
  assert.deepEqual(firstUses("gap", lexicon([]), new Set()), []);
});
