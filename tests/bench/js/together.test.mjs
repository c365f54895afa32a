// Two answers of one press are said together; what was heard long ago is not said again.
import assert from "node:assert/strict";
import { test } from "node:test";

import { justBefore } from "../../../widgets/bench/view/panels/together.js";

const at = (...times) => times.map((at_ms) => ({ at_ms }));

test("the second answer of one press brings the first with it", () => {
  assert.deepEqual(justBefore(at(5000), 5030), at(5000));
});

test("three in a row are said in the order in which they came", () => {
  assert.deepEqual(justBefore(at(5300, 5000, 100), 5600), at(5000, 5300));
});

test("an answer that was alone is not said again", () => {
  assert.deepEqual(justBefore(at(5000), 6000), []);
  assert.deepEqual(justBefore([], 10), []);
});

test("what came before a pause stays behind it", () => {
  assert.deepEqual(justBefore(at(5000, 3000), 5100), at(5000));
});
