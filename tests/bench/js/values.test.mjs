// Displays, findings, sights and what stands on the record.
import assert from "node:assert/strict";
import { test } from "node:test";

import { MOST_FOUND, withFinding } from "../../../widgets/bench/view/panels/findings.js";
import { withSight } from "../../../widgets/bench/view/sights/look.js";
import { pointerDeg, settingOf } from "../../../widgets/bench/view/tools/meter.js";
import { daysTyped, recordWords, stampWords } from "../../../widgets/bench/view/panels/report.js";
import { displayText, noteText, quantities, spokenDisplay } from "../../../widgets/bench/view/tools/values.js";

test("a display of 6000 steps moves its point with the scale", () => {
  // Common practice, no source: 600.0 and 6000 ohm; 6.000, 60.00 and 600.0 volts.
  assert.deepEqual([[21.3, "Ω"], [600, "Ω"], [627, "Ω"]].map(([value, unit]) => displayText(value, unit)), ["21.3", "600.0", "627"]);
  assert.deepEqual([0, 5.5, 24, 180].map((value) => displayText(value, "V")), ["0.000", "5.500", "24.00", "180.0"]);
});

test("an insulation tester shows two figures, and more than its end at its end", () => {
  assert.deepEqual([0.4, 12, 430].map((value) => displayText(value, "MΩ")), ["0.4", "12", "430"]);
  assert.equal(displayText(550, "MΩ", true), "> 550");
  assert.match(spokenDisplay(550, "MΩ", true), /more than 550 MΩ/);
});

test("a broken wire is over the scale, and a meter that flashed shows nothing", () => {
  assert.equal(displayText(null, "Ω", true), "over");
  assert.equal(spokenDisplay(null, "Ω", true), "over the scale");
  assert.equal(displayText(null, "Ω"), "");
  assert.equal(noteText({ what: "coil_ohm", value: 1_000_000 }), "over the scale");
  assert.equal(spokenDisplay(undefined, "Ω"), "nothing shown");
});

test("each setting of the meter has a quantity of the notes sheet", () => {
  const known = quantities().map(({ what }) => what);
  for (const what of ["resistance", "insulation", "voltage"]) assert.ok(known.includes(settingOf(what)[2]));
  assert.equal(noteText({ what: "coil_ohm", value: 627 }), "627 Ω");
  assert.equal(noteText({ what: "lever_play_mm", value: 0.25 }), "0.25 mm");
});

test("the pointer of the test supply goes evenly from left to right, and no further", () => {
  assert.deepEqual([0, 60, 120, 500, -3].map(pointerDeg), [-120, 0, 120, 120, -120]);
});

test("nothing found stands alone, and a ninth finding is refused", () => {
  assert.deepEqual(withFinding(["oil"], "nothing"), ["nothing"]);
  assert.deepEqual(withFinding(["nothing"], "oil"), ["oil"]);
  assert.deepEqual(withFinding(["oil", "glaze"], "oil"), ["glaze"]);
  const full = Array.from({ length: MOST_FOUND }, (_, i) => `finding ${i}`);
  assert.equal(MOST_FOUND, 8);
  assert.equal(withFinding(full, "oil"), null);
  assert.equal(withFinding(full, full[3]).length, 7);
});

test("what was seen twice stands once, newest first", () => {
  const [dust, oil] = [{ at: "dust", symptoms: ["dust"] }, { at: "dust", symptoms: [] }];
  const sights = [dust, oil, { ...dust }].reduce((kept, sight) => withSight(kept, sight), []);
  assert.deepEqual(sights, [dust, oil]);
});

test("days are whole numbers from 1 to 1000, or none", () => {
  assert.equal(daysTyped(""), null);
  assert.equal(daysTyped("90"), 90);
  assert.ok(["0", "1.5", "1001", "-3", "soon"].every((text) => Number.isNaN(daysTyped(text))));
});

test("the record says decision, row and findings; the stamp says where the hoist went", () => {
  assert.equal(recordWords({ decision: null, decision_row: null, decision_found: [] }), "On the record: no decision yet.");
  const words = recordWords({ decision: "adjust", decision_row: "Cedar-47", decision_found: ["gap uneven"] });
  assert.match(words, /Adjust the gap, by the row Cedar-47\. Found: gap uneven\./);
  const out = { decision: "refer", into_service: false, next_days: null };
  assert.match(stampWords(out, false), /kept out of service/);
  assert.match(stampWords({ ...out, into_service: true, next_days: 90 }, false), /into service\. Next inspection in 90 days/);
  assert.match(stampWords({ ...out, into_service: true, next_days: 1 }, false), /in 1 day at the latest/);
  assert.doesNotMatch(stampWords(out, true), /service, locked and tagged/);
});
