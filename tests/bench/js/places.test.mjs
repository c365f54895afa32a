// Pictures of places: sound or not, each place has one; what is seen there changes it, and so does the shade.
import assert from "node:assert/strict";
import { test } from "node:test";

class Node {
  constructor(tag) { Object.assign(this, { tag, given: {}, children: [] }); }
  setAttribute(name, value) { this.given[name] = value; }
  append(...children) { this.children.push(...children); }
}
globalThis.document = { createElementNS: (_, tag) => new Node(tag) };
const { pictureOf } = await import("../../../widgets/bench/view/sights/places.js");

// Place, then what of it shows to the eye. Source: common practice, no source.
const SEEN = {
  outside: ["clutch-marks-apart", "track-of-water", "wet-inside", "wet-trace", "lever-drawn"],
  fan: ["wet-inside"],
  seal: ["seal-missing"],
  dust: ["dust-caked", "dust", "spring-splinter"],
  edge: ["wet-inside", "wet-trace", "dust-caked", "polished-on-one-side", "dark-shiny-edge", "glassy-brown-edge", "blue-patches", "spring-splinter", "rust-red-dust", "rust-on-the-rim", "hub-stands-out", "bright-rings", "narrow-ring"],
  screws: ["fresh-paint", "fretting-at-a-screw"],
  lever: ["lever-drawn"],
  leads: ["discoloured-terminal", "contact-on-the-ac-side", "lead-torn"],
  springs: ["spring-splinter", "springs-of-two-colours"],
  faces: ["dark-shiny-edge", "glassy-brown-edge", "blue-patches", "radial-cracks", "narrow-ring"],
  hub: ["wet-trace", "rust-red-dust", "hub-stands-out"],
  wear_plate: ["bright-rings"],
};
const drawn = (at, symptoms, more = {}) => JSON.stringify(pictureOf({ at, symptoms, shade: 4, fretted: [2], ...more }, "words"));

test("each place has a picture when it is sound, and each thing seen there changes it", () => {
  for (const [at, codes] of Object.entries(SEEN)) {
    const pictures = [[], ...codes.map((code) => [code])].map((symptoms) => drawn(at, symptoms));
    assert.equal(new Set(pictures).size, codes.length + 1, at);
    assert.ok(pictures.every((one) => !/NaN|undefined/.test(one)), at);
  }
});

test("sound brakes differ by their shade, and one brake looks the same each time", () => {
  for (const at of Object.keys(SEEN).filter((one) => one !== "lever")) {
    assert.equal(new Set([3, 4, 5].map((shade) => drawn(at, [], { shade, smooth_to_disc: true }))).size, 3, at);
    assert.equal(drawn(at, []), drawn(at, []));
  }
});

test("parts that are off, turned round or broken are drawn so", () => {
  const facts = { outside: [{ off: true }, { off: true, fan_off: true }], hub: [{ off: true }], fan: [{ off: true }, { keyed: false }, { ring_off: true }], seal: [{ off: true }, { seated: false }], lever: [{ off: true }], leads: [{ leads: "off" }, { leads: "ac" }], screws: [{ out: [1] }, { out: [2] }], springs: [{ springs: 8, springs_whole: 8 }, { springs: 8, springs_whole: 7 }], wear_plate: [{ smooth_to_disc: true }, { smooth_to_disc: false }] };
  for (const [at, list] of Object.entries(facts)) assert.equal(new Set([{}, ...list].map((more) => drawn(at, [], more))).size, list.length + 1, at);
});

test("a picture has its words for a voice, a run has none, and an unknown place is no picture", () => {
  assert.equal(pictureOf({ at: "edge", symptoms: [] }, "Dull and grey.").given["aria-label"], "Dull and grey.");
  assert.equal(pictureOf({ at: "running", symptoms: [] }, ""), null);
  assert.equal(pictureOf({ at: "nowhere" }, ""), null);
});
