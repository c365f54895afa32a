// The caliper and the rule as they are drawn: what stands where, and that nothing says the reading.
import assert from "node:assert/strict";
import { before, test } from "node:test";

import { caliperScale } from "../../../widgets/bench/view/drawing/caliper_scale.js";
import { underJaws } from "../../../widgets/bench/view/tools/caliper.js";
import { samePlace } from "../../../widgets/bench/view/tools/went_round.js";
import { ruleScale } from "../../../widgets/bench/view/drawing/rule.js";
import { setVernier } from "../../../widgets/bench/view/drawing/vernier.js";

// As much of a document as the drawings need.
class Node {
  constructor(tag) {
    Object.assign(this, { tag, attributes: new Map(), children: [] });
  }
  setAttribute(name, value) {
    this.attributes.set(name, String(value));
  }
  append(...nodes) {
    this.children.push(...nodes);
  }
  replaceChildren(...nodes) {
    this.children = nodes;
  }
  addEventListener() {}
}

before(() => {
  globalThis.document = { createElement: (tag) => new Node(tag), createElementNS: (_, tag) => new Node(tag) };
});

const every = (node) => (node instanceof Node ? [node, ...node.children.flatMap(every)] : [node]);
const find = (node, kind) => every(node).filter((one) => one instanceof Node && (one.attributes.get("class") ?? "").split(" ").includes(kind));
const said = (node) =>
  every(node).flatMap((one) => {
    if (!(one instanceof Node)) return [one];
    const heard = [...one.attributes].filter(([name]) => name.startsWith("aria-") || name === "title" || name === "value" || name.startsWith("data-"));
    return [...heard.map(([, value]) => value), one.textContent, one.value].filter((text) => text !== undefined).map(String);
  });
// Marks of the drawing as [x, up or down].
const drawn = (svg) => find(svg, "mark").map((mark) => mark.attributes.get("d").match(/M([\d.-]+) ([\d.]+) V([\d.]+)/).slice(1).map(Number));
const xs = (svg, down) => drawn(svg).filter(([, from, to]) => to > from === down).map(([x]) => x);

test("on the whole drawing one vernier line alone meets a main mark, and it is the right one", () => {
  for (const shown of [0.02, 5.5, 8.98, 10.34, 10.37, 13.06, 41.26]) {
    const scale = caliperScale();
    scale.close(shown);
    const svg = find(scale.node, "scale-whole")[0];
    const main = xs(svg, false);
    const meeting = xs(svg, true).map((x, line) => [line, Math.min(...main.map((one) => Math.abs(one - x)))]).filter(([, off]) => off < 0.11);
    const { line } = setVernier(shown);
    assert.deepEqual(meeting.map(([one]) => one), line ? [line] : [0, 50], `at ${shown}`);
  }
});

test("the disc between the jaws is as wide as the vernier's zero is far from the zero of the beam", () => {
  const scale = caliperScale();
  scale.close(10.34);
  const svg = find(scale.node, "scale-whole")[0];
  const [left, right] = find(svg, "disc")[0].attributes.get("d").match(/M([\d.]+) 8 H([\d.]+)/).slice(1).map(Number);
  assert.ok(Math.abs(right - left - 103.4) < 0.2); // ten units a millimetre
  assert.ok(Math.abs(xs(svg, true)[0] - right) < 0.11);
});

test("no text, value or spoken name of either scale says the reading", () => {
  for (let hundredths = 0; hundredths <= 2500; hundredths += 7) {
    const shown = hundredths / 100;
    const scale = caliperScale();
    scale.close(shown);
    const rule = ruleScale();
    rule.close(Math.round(shown * 2) / 2);
    for (const text of [...said(scale.node), ...said(rule.node)]) assert.doesNotMatch(text, /\d[.,]\d/, `at ${shown}: ${text}`);
  }
});

test("the edge of the disc stands on the mark of the rule that is to be read", () => {
  for (const shown of [0.5, 9.5, 11, 12.5, 33.5]) {
    const rule = ruleScale();
    rule.close(shown);
    const svg = find(rule.node, "scale-rule")[0];
    const edge = Number(find(svg, "edge")[0].attributes.get("d").match(/M([\d.]+)/)[1]);
    const marks = drawn(svg);
    const [at] = marks.filter(([x]) => Math.abs(x - edge) < 0.06);
    assert.ok(at, `no mark at ${shown}`);
    const length = at[2] - at[1];
    assert.equal(length, shown % 1 ? 20 : shown % 5 ? 32 : shown % 10 ? 42 : 52);
  }
});

test("360 degrees and none are one place for the hand, 45 and 46 are not", () => {
  assert.ok(samePlace(359.8, 0) && samePlace(0, 359.8) && !samePlace(45, 46));
});

test("a reading is off once the shaft is turned or the disc is another, not once a note is written", () => {
  const scene = { shaft_deg: 0, disc_on: true, disc_part: "old", seal_on: false, fan_on: false, disc_notes: [] };
  assert.equal(underJaws(scene), underJaws({ ...scene, disc_notes: [1] }));
  assert.notEqual(underJaws(scene), underJaws({ ...scene, shaft_deg: 90 }));
  assert.notEqual(underJaws(scene), underJaws({ ...scene, disc_part: "Cedar-47" }));
});
