// What bare hands do at the hoist, in groups: every step is always offered, in whatever order.
// Shows how things stand in word and shape; the bench refuses what cannot be done.

import { button, choices, make, walk } from "./dom.js";

const SEEN = { true: "drawn in, brake open", false: "held by its springs, brake shut" };
const dust = (scene) => {
  if (scene.seal_on) return "out of sight behind the seal band";
  return scene.dusty ? "grey dust is seen" : "none is seen";
};

// Each line: name, [done, words] of a scene, and its buttons as [words, kind, fields].
const GROUPS = [
  {
    title: "Make safe",
    caution: ["Danger. ", "Nobody under the hook. The load is landed and the supply locked before a hand goes in."],
    lines: [
      ["Load", (s) => [s.load_landed, s.load_landed ? "landed, hook empty" : "on the hook"], [["Land the load", "land_load"]]],
      ["Main switch", (s) => [s.isolated, s.isolated ? "off, your lock on it" : "on"], [["Switch off and lock", "isolate"]]],
      ["Terminals", (s) => [s.proved_dead, s.proved_dead ? "tried: dead" : "not tried dead"], [["Try them dead", "prove_dead"]]],
    ],
  },
  {
    title: "Open up, close up",
    lines: [
      ["Cover", (s) => [!s.cover_on, s.cover_on ? "on" : "off"], [["Take off", "remove_cover"], ["Put on", "refit_cover"]]],
      ["Fan", (s) => [!s.fan_on, s.fan_on ? "on" : "off"], [["Draw off", "remove_fan"], ["Put on", "refit_fan"]]],
      ["Seal band", (s) => [!s.seal_on, s.seal_on ? "on" : "rolled back"], [["Roll back", "remove_seal"], ["Seat", "refit_seal"]]],
    ],
  },
  {
    title: "Look and clean",
    caution: ["Danger. ", "Brake dust harms the lungs; old linings may hold asbestos."],
    lines: [
      ["Plate", (s) => [Boolean(s.size), s.size ? `read: ${s.size}` : "not read"], [["Read the plate", "read_plate"]]],
      ["Dust", (s) => [!s.seal_on && !s.dusty, dust(s)], []],
    ],
    clean: true,
  },
  {
    title: "Prove",
    lines: [
      ["Supply", (s) => [!s.isolated, s.isolated ? "off, locked" : "on"], [["Take lock off, switch on", "restore_supply"]]],
      ["Coil", (s) => [s.energised, s.energised ? "has its voltage" : "without voltage"], [["Energise", "energise"], ["De-energise", "de_energise"]]],
      ["Pressure plate", (s) => [s.released, SEEN[s.released]], []],
      ["Shaft", (s) => [s.shaft_deg !== 0, `keyway at ${Number(s.shaft_deg.toFixed(1))}°`], [["Turn 90°", "turn_shaft", { turn_deg: 90 }], ["Turn 180°", "turn_shaft", { turn_deg: 180 }]]],
      ["Test load", null, [["Lift, stop, watch", "test_hold"]]],
    ],
  },
];
// By the alphabet, so that the order says nothing.
const METHODS = [["air_blast", "Air blast"], ["damp_wipe", "Damp cloth"], ["dry_brush", "Dry brush"], ["vacuum", "Vacuum"]];

function line(bench, [name, stand, acts]) {
  const mark = make("span", { class: "mark", "aria-hidden": "true" });
  const words = make("span", { class: "stand" });
  const keys = acts.map(([text, kind, fields]) => button(text, () => bench.wish(kind, fields), { "aria-label": `${name}: ${text}` }));
  const node = make("div", { class: "line" }, mark, make("span", { class: "name" }, name), words, make("span", { class: "acts" }, ...keys));
  const show = (scene) => {
    if (!stand) return;
    const [done, text] = stand(scene);
    mark.classList.toggle("is-done", done);
    words.textContent = text;
  };
  if (!stand) mark.classList.add("is-none");
  return { node, show };
}

function cleaning(bench) {
  const method = choices("Clean with", METHODS, () => {});
  const clean = () => {
    if (!method.get()) return bench.decline("Choose first what to clean with.");
    bench.wish("clean", { method: method.get() });
  };
  return make("div", { class: "clean" }, method.node, button("Clean", clean));
}

function group(bench, { title, caution, lines, clean }) {
  const made = lines.map((one) => line(bench, one));
  const node = walk(
    make(
      "section", { role: "group", "aria-label": title },
      make("h2", {}, title),
      caution && make("p", { class: "gal-danger" }, make("b", {}, caution[0]), caution[1]),
      ...made.map((one) => one.node),
      clean && cleaning(bench),
    ),
  );
  return { node, show: (scene) => made.forEach((one) => one.show(scene)) };
}

/** Return the tool: its panel, no mark on the drawing, and what shows a scene. */
export function handsTool(bench) {
  const groups = GROUPS.map((one) => group(bench, one));
  return {
    name: "Hands",
    mark: null,
    panel: make("div", { class: "tool jobs" }, ...groups.map((one) => one.node)),
    show: ({ scene }) => scene && groups.forEach((one) => one.show(scene)),
  };
}
