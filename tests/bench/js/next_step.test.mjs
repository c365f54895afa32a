// Going on round the rim: by the person's own last step, and by the marked places until there is one.
import assert from "node:assert/strict";
import { test } from "node:test";

import { stepOn } from "../../../widgets/bench/view/tools/next_step.js";
import { afterRound, nextPlace } from "../../../widgets/bench/view/tools/went_round.js";

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

test("the step leads on to places that are not read, once round, and then to none", () => {
  assert.equal(nextPlace([0], 0, 90), 90);
  assert.equal(nextPlace([0, 90, 180], 180, 90), 270);
  assert.equal(nextPlace([0, 90, 180, 270], 270, 90), null);
  assert.equal(nextPlace([0, 60, 120, 240, 300], 300, 60), 180); // one was left out
  assert.equal(nextPlace([0, 300], 300, -60), 240);
  assert.equal(nextPlace([0], 0, 0), null);
});

test("after the last place come the other readings, then the decision, and after a decision nothing", () => {
  const scene = { decision: null, gap_notes: [], disc_notes: [] };
  assert.equal(afterRound(scene, "gap").tool, "caliper");
  assert.equal(afterRound(scene, "disc").tool, "leaf");
  assert.equal(afterRound({ ...scene, disc_notes: [{ struck: true }] }, "gap").tool, "caliper");
  assert.equal(afterRound({ ...scene, disc_notes: [{ struck: false }] }, "gap").place, ".gal-report");
  assert.equal(afterRound({ ...scene, decision: "adjust" }, "gap"), null);
});
