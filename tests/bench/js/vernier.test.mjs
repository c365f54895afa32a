// What a vernier and a rule show, checked by how one reads them at the brake.
import assert from "node:assert/strict";
import { test } from "node:test";

import { figureAt, glassWords, LINE_MM, lineAt, LINES, marks, offMark, ruleWords, setRule, setVernier, vernierWords } from "../../../widgets/bench/view/drawing/vernier.js";

const all = Array.from({ length: 2501 }, (_, i) => i / 100); // 0 to 25 mm in hundredths

test("fifty divisions of the vernier are as long as 49 mm: the common 0.02 mm vernier", () => {
  // Source: vernier principle, n divisions over n - 1 main divisions; least count 1 mm / 50. From memory.
  assert.ok(Math.abs(LINES * LINE_MM - 49) < 1e-9);
  assert.ok(Math.abs(1 - LINE_MM - 1 / LINES) < 1e-12);
});

test("at every hundredth exactly one of the fifty lines stands in line with a main mark", () => {
  for (const shown of all) {
    const set = setVernier(shown);
    const agree = Array.from({ length: LINES }, (_, line) => line).filter((line) => {
      const at = lineAt(set, line);
      return Math.abs(at - Math.round(at)) < 1e-6;
    });
    assert.deepEqual(agree, [set.line], `at ${shown}`);
  }
});

test("main marks before the zero and the line in line give back the reading, within half a step", () => {
  for (const shown of all) {
    const { whole, line } = setVernier(shown);
    assert.ok(Math.abs(whole + 0.02 * line - shown) < 0.0101, `at ${shown}`);
  }
});

test("rounding to the step leans neither way", () => {
  const off = all.slice(0, 400).map((shown) => setVernier(shown).zero_mm - shown);
  assert.ok(Math.abs(off.reduce((sum, one) => sum + one, 0) / off.length) < 1e-6);
});

test("a reading worked by hand: 10.34 mm is ten marks and the second line after figure 3", () => {
  const set = setVernier(10.34);
  assert.deepEqual([set.whole, set.line], [10, 17]);
  assert.match(vernierWords(set), /between the 10th and the 11th millimetre mark/);
  assert.match(vernierWords(set), /line 17 of 50 is in line, the 2nd line after figure 3/);
});

test("at a whole millimetre the first line and the last line are in line", () => {
  const set = setVernier(11);
  assert.deepEqual([set.whole, set.line, offMark(set, 0), offMark(set, LINES)], [11, 0, 0, 0]);
  assert.match(vernierWords(set), /in line with the 11th millimetre mark/);
});

test("lines before the one in line stand right of their marks, lines after it left", () => {
  const set = setVernier(10.34);
  assert.equal(offMark(set, 16), 0.02);
  assert.equal(offMark(set, 18), -0.02);
  assert.match(glassWords(set, 16), /a little right of a main mark/);
  assert.match(glassWords(set, 18), /a little left of a main mark/);
  assert.match(glassWords(set, 17), /in line with a main mark/);
});

test("the words never hold the reading as a number with decimals", () => {
  for (const shown of all) {
    const words = [vernierWords(setVernier(shown)), ...[0, 13, 50].map((line) => glassWords(setVernier(shown), line))];
    if (shown % 0.5 === 0) words.push(ruleWords(setRule(shown)));
    for (const text of words) assert.doesNotMatch(text, /\d[.,]\d/, text);
  }
});

test("the eleventh, twelfth and thirteenth mark are not the 11st, 12nd and 13rd", () => {
  const words = [11, 12, 13, 21, 22, 23].map((mm) => ruleWords(setRule(mm)).match(/\d+\w\w/)[0]);
  assert.deepEqual(words, ["11th", "12th", "13th", "21st", "22nd", "23rd"]);
});

test("figures stand at every fifth line, 0 to 10", () => {
  const figures = Array.from({ length: LINES + 1 }, (_, line) => figureAt(line)).filter(Boolean);
  assert.deepEqual(figures, ["0", "1", "2", "3", "4", "5", "6", "7", "8", "9", "10"]);
});

test("a line stands a little less than its number of millimetres after the zero", () => {
  const set = setVernier(10);
  assert.ok(Math.abs(lineAt(set, 25) - (10 + 24.5)) < 1e-9);
});

test("half a millimetre on the rule is the short mark between two", () => {
  assert.deepEqual(setRule(9.5), { whole: 9, half: true, edge_mm: 9.5 });
  assert.match(ruleWords(setRule(9.5)), /the short mark between the 9th and the 10th/);
  assert.match(ruleWords(setRule(10)), /at the 10th millimetre mark/);
});

test("what no caliper and no rule can show is refused with its range", () => {
  assert.throws(() => setVernier(-0.01), /0 to 150 mm, got -0.01/);
  assert.throws(() => setVernier(NaN), RangeError);
  assert.throws(() => setRule(300.5), /0 to 300 mm/);
});

test("a scale has a long mark each ten, a shorter each five, and none before its zero", () => {
  const found = marks(-3, 10.4, 0.5);
  assert.equal(found.length, 21);
  assert.deepEqual([found[0], found[1], found[2], found[10], found[20]], [
    { at: 0, rank: 0 }, { at: 0.5, rank: 3 }, { at: 1, rank: 2 }, { at: 5, rank: 1 }, { at: 10, rank: 0 },
  ]);
});
