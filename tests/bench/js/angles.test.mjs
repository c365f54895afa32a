// Angles of the end view: clockwise, zero at 12 o'clock.
import assert from "node:assert/strict";
import { test } from "node:test";

import { at, CENTRE, hexagon, placeName, polar, sector, shortest, snap, turnWords, wrap } from "../../../widgets/bench/view/drawing/angles.js";

test("three o'clock is a quarter turn clockwise from twelve", () => {
  const [x, y] = at(100, 90);
  assert.ok(Math.abs(x - (CENTRE + 100)) < 1e-9 && Math.abs(y - CENTRE) < 1e-9);
});

test("a point and its angle are each other's inverse all the way round", () => {
  for (let deg = 0; deg < 360; deg += 7) {
    const seen = polar(...at(150, deg));
    assert.ok(Math.abs(shortest(seen.deg, deg)) < 1e-9 && Math.abs(seen.radius - 150) < 1e-9);
  }
});

test("an angle is never 360: that is 0", () => {
  assert.equal(wrap(360), 0);
  assert.equal(wrap(-15), 345);
  assert.equal(snap(359, 5), 0);
});

test("the way from 350 to 10 degrees is 20 forwards, not 340 back", () => {
  assert.equal(shortest(350, 10), 20);
  assert.equal(shortest(10, 350), -20);
});

test("the screws have their places on the clock, and 45 degrees has none", () => {
  assert.equal(placeName(0), "12\u00a0o’clock, screw 1");
  assert.equal(placeName(120), "4\u00a0o’clock, screw 2");
  assert.equal(placeName(240), "8\u00a0o’clock, screw 3");
  assert.equal(placeName(45), "45°");
});

test("a sixth of a turn is one flat of a hexagon, and minus goes in", () => {
  assert.equal(turnWords(60), "60° (1.0 flats) out, opens the gap");
  assert.equal(turnWords(-30), "30° (0.5 flats) in, closes the gap");
  assert.equal(turnWords(0), "not turned");
});

test("the shapes are closed paths of finite numbers", () => {
  for (const shape of [sector(10, 20, 0, 40), hexagon(20)]) {
    assert.match(shape, /^M.*Z$/);
    assert.doesNotMatch(shape, /NaN|Infinity/);
  }
});
