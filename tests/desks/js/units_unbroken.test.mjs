// Numbers and their units on one line. Source: SI Brochure (9th ed., 2019), 5.4.3: one space between value and unit.
import assert from "node:assert/strict";
import { test } from "node:test";

import { unbroken } from "../../../lessons/page/voila/templates/suite/static/unbroken.js";
import { withInches } from "../../../lessons/page/voila/templates/suite/static/units.js";

const shown = (text) => unbroken(text).replaceAll("\u00a0", "~");

test("a number and its unit are held together, and nothing else is", () => {
  assert.equal(shown("At 100 °C, 60 % of 20 N·m; gap 0.3 mm."), "At 100~°C, 60~% of 20~N·m; gap 0.3~mm.");
  assert.equal(shown("623 Ω at 207 V, 0.29 A, 1.5 kJ in 250 ms"), "623~Ω at 207~V, 0.29~A, 1.5~kJ in 250~ms");
  assert.equal(shown("Screw 2 is out, 3 in a row, 5 nights, 4 may, 30 days"), "Screw 2 is out, 3 in a row, 5 nights, 4 may, 30 days");
  assert.equal(shown("(0.0118 in) and 3 mmol"), "(0.0118~in) and 3 mmol");
});

test("doing it twice is doing it once, and inches are still found behind it", () => {
  assert.equal(unbroken(unbroken("0.30 mm")), unbroken("0.30 mm"));
  assert.equal(withInches(unbroken("Set it to 0.30 mm.")), "Set it to 0.30\u00a0mm (0.0118\u00a0in).");
});
