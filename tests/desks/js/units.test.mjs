// Inches beside millimetres: what is found in a sentence, and what is left alone.
import assert from "node:assert/strict";
import { test } from "node:test";

import { cellWithInches, inches, isHeadOfMillimetres, listInInches, withInches } from "../../../lessons/page/voila/templates/suite/static/units.js";

// The international inch is 25.4 mm exactly (yard and pound agreement of 1959; ISO 80000-3). The
// decimals of each quotient below were worked out by long division.
test("one inch is 25.4 mm exactly", () => {
  assert.equal(inches("25.4"), "1.000");
  assert.equal(inches("2.54"), "0.1000");
  assert.equal(inches("254"), "10.000");
});

test("four decimals below 10 mm, three from there on", () => {
  assert.equal(inches("0.30"), "0.0118"); // 0.30 / 25.4 = 0.011811
  assert.equal(inches("9.52"), "0.3748"); // 0.374803
  assert.equal(inches("10"), "0.394"); // 0.393701
  assert.equal(inches("116"), "4.567"); // 4.566929
});

test("nothing is nothing in either unit, and a sign is kept", () => {
  assert.equal(inches("0.00"), "0");
  assert.equal(inches("0.001"), "0.00004"); // 0.000039: there is something
  assert.equal(inches("-0.25"), "-0.0098");
  assert.equal(inches("−0.25"), "−0.0098");
});

test("a length in a sentence is followed by its inches", () => {
  assert.equal(withInches("Set it to 0.30 mm, then lock."), "Set it to 0.30 mm (0.0118\u00a0in), then lock.");
  assert.equal(withInches("0.30\u00a0mm"), "0.30\u00a0mm (0.0118\u00a0in)");
  assert.equal(withInches("(least 0.30 mm)"), "(least 0.30 mm (0.0118\u00a0in))");
});

test("lengths that share one unit are converted together", () => {
  const same = [
    ["0.20 / 0.30 / 0.80 mm", "(0.0079 / 0.0118 / 0.0315\u00a0in)"],
    ["0.30 to 0.80 mm", "(0.0118 to 0.0315\u00a0in)"],
    ["0.30 + 0.05 mm", "(0.0118 + 0.0020\u00a0in)"],
    ["0.30–0.80 mm", "(0.0118–0.0315\u00a0in)"],
    ["0.30-0.80 mm", "(0.0118-0.0315\u00a0in)"],
    ["0.20, 0.30 and 0.80 mm", "(0.0079, 0.0118 and 0.0315\u00a0in)"],
    ["9.52 mm ± 0.04 mm", "(0.3748 ± 0.0016\u00a0in)"],
    ["9.52 ± 0.04 mm", "(0.3748 ± 0.0016\u00a0in)"],
    ["10.05 mm ± 0.06 mm", "(0.396 ± 0.002\u00a0in)"], // what is behind ± has the decimals before it
    ["10.05 ± 0.06 mm", "(0.396 ± 0.002\u00a0in)"],
  ];
  for (const [text, added] of same) assert.equal(withInches(text), `${text} ${added}`);
});

test("a number before a comma is not drawn into the list", () => {
  assert.equal(withInches("screw 2, 0.30 mm"), "screw 2, 0.30 mm (0.0118\u00a0in)");
  assert.equal(withInches("at screws 1 and 3 and 0.30 mm"), "at screws 1 and 3 and 0.30 mm (0.0118\u00a0in)");
});

test("what is not a length is left alone", () => {
  const left = ["34 N/mm", "120 mm²", "100 mm³/MJ", "5 mm/min", "7 mm2", "0.30 µm", "comm", "mm", "0.30", "", "M8 mm-thread of 45°"];
  for (const text of left) assert.equal(withInches(text), text);
});

test("inches that stand there already are not said twice", () => {
  const once = withInches("0.30 mm and then 9.5 mm");
  assert.equal(withInches(once), once);
});

test("a cell of a column in millimetres needs no unit of its own", () => {
  assert.equal(cellWithInches("0.30"), "0.30 (0.0118\u00a0in)");
  assert.equal(cellWithInches(" 0.20 / 0.30 "), " 0.20 / 0.30 (0.0079 / 0.0118\u00a0in)");
  assert.equal(cellWithInches("± 0.02"), "± 0.02 (0.0008\u00a0in)");
  assert.equal(cellWithInches("9.5"), "9.5 (0.3740\u00a0in)");
  for (const left of ["", "none", "screw 2", "M8", "12 %"]) assert.equal(cellWithInches(left), left);
});

test("a head says millimetres only as a unit of its own", () => {
  for (const head of ["Gap, mm", "Gap (mm)", "Disc new mm", "mm"]) assert.ok(isHeadOfMillimetres(head), head);
  for (const head of ["Rate, N/mm", "Area, mm²", "comm", "Gap", "mm/min"]) assert.ok(!isHeadOfMillimetres(head), head);
});

test("a list keeps whatever stands between its numbers", () => {
  assert.equal(listInInches("2.54 / 5.08"), "0.1000 / 0.2000");
  assert.equal(listInInches("-2.54 to -5.08"), "-0.1000 to -0.2000");
});

test("a long text without lengths costs no time to speak of", () => {
  const long = "1 + ".repeat(20_000);
  const begun = performance.now();
  withInches(`${long}mm`);
  assert.ok(performance.now() - begun < 2000);
});
