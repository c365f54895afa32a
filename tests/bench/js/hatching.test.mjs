// Section lines stay in their box.
import assert from "node:assert/strict";
import { test } from "node:test";

import { coils, crossed, hatch, mirrored } from "../../../widgets/bench/view/drawing/hatching.js";

const numbers = (path) => [...path.matchAll(/(-?[\d.]+) (-?[\d.]+)/g)].map(([, x, y]) => [Number(x), Number(y)]);

test("every end of every line lies on the edge of the box", () => {
  for (const [x, y, width, height] of [[0, 0, 40, 20], [30, 110, 90, 134], [5, 5, 7, 60]]) {
    for (const way of [1, -1]) {
      const points = numbers(hatch([x, y, width, height], 9, way));
      assert.ok(points.length > 2);
      for (const [px, py] of points) {
        assert.ok(px >= x && px <= x + width && py >= y && py <= y + height, `${px} ${py}`);
        assert.ok([x, x + width].includes(px) || [y, y + height].includes(py), `${px} ${py}`);
      }
    }
  }
});

test("the lines run at 45 degrees, up for one way and down for the other", () => {
  for (const way of [1, -1]) {
    const [[x1, y1], [x2, y2]] = numbers(hatch([0, 0, 40, 20], 9, way));
    assert.equal(Math.sign(y2 - y1), -way);
    assert.ok(Math.abs(Math.abs(y2 - y1) - (x2 - x1)) < 1e-9);
  }
});

test("crossed lines are both ways together", () => {
  const box = [0, 0, 40, 20];
  assert.equal(numbers(crossed(box, 9)).length, 2 * numbers(hatch(box, 9)).length);
});

test("a box mirrored twice is the box", () => {
  assert.deepEqual(mirrored(mirrored([1, 2, 3, 4], 260), 260), [1, 2, 3, 4]);
});

test("a spring starts and ends at the ends of its box", () => {
  const points = numbers(coils([10, 5, 60, 8], 3));
  assert.deepEqual([points[0][0], points.at(-1)[0]], [10, 70]);
});
