// Going on round the rim: by the person's own last step, and by the marked places until there is one.
import assert from "node:assert/strict";
import { test } from "node:test";

import { stepOn } from "../../../widgets/bench/view/tools/next_step.js";

test("the first step goes to the next marked place", () => {
  assert.equal(stepOn(null, 0), 45);
  assert.equal(stepOn(null, 90, 90), 90);
});

test("whoever went on by sixty degrees, forwards or back, goes on so, past 12 o'clock too", () => {
  assert.equal(stepOn(0, 60, 45), 60);
  assert.equal(stepOn(300, 0, 60), 60);
  assert.equal(stepOn(60, 0, 45), -60);
});

test("a place that is measured again leaves the step as it was", () => {
  assert.equal(stepOn(120, 120, 60), 60);
});
