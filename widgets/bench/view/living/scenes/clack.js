// The clack: the voltage at the coil creeps up, the pull grows, and at one moment the plate snaps over, or never does.
// Reads the kernel's tables between their points and draws; sends nothing of its own.

import { draw, mayMove } from "../../../../page/dom.js";
import { after, decided, RESTS } from "../reading/clack_plate.js";
import { write } from "../page/facts.js";
import { forceBeam } from "../drawn/force_beam.js";
import { gauge } from "../drawn/gauge.js";
import { grip } from "../page/grips.js";
import { courseAt, value, whole } from "../reading/interpolate.js";
import { livingBrake } from "../drawn/living_brake.js";
import { living } from "../page/living.js";
import { unitsPerMm } from "../drawn/stance.js";

const BEAM = 150; // units for the push of the springs with the gap closed
const CREEP_PERCENT_S = 14; // how fast the voltage creeps by itself: a hand on a knob
const WORD_S = 0.5; // how long the word stands on the page

/** Return what magnet and springs do to the plate for the values of the controls. Pure. */
export const clackState = (tables, values, plate, courses = null) => {
  const { supply, gap_mm, coil_c } = values;
  const needed = value(tables.release, "release", gap_mm, coil_c);
  const state = {
    gap_mm, needed, let_go: value(tables.let_go, "let_go", coil_c),
    ampere_turns: value(tables.drive, "ampere_turns", supply, coil_c),
    current_a: value(tables.drive, "current_a", supply, coil_c),
    open_mm: plate.where === "magnet" ? 0 : gap_mm,
  };
  const crossing = courses && (plate.where === "in" || plate.where === "out") ? courseAt(courses[plate.where], gap_mm, plate.since_s) : null;
  if (crossing) state.open_mm = Math.min(gap_mm, crossing.open_mm);
  state.flux_t = crossing ? crossing.flux_t : value(tables.magnet, "flux_t", state.open_mm, state.ampere_turns);
  state.pull_n = crossing ? crossing.pull_n : value(tables.magnet, "pull_n", state.open_mm, state.ampere_turns);
  state.spring_n = value(tables.springs, "spring_n", state.open_mm);
  state.times_load = value(tables.hold, "times_load", gap_mm);
  return state;
};

const WHERE = {
  disc: ["pressed on the disc", "the brake holds"], magnet: ["pulled in", "the disc is free"],
  in: ["crossing", "towards the magnet"], out: ["crossing", "towards the disc"],
};

const told = (size, values, state, plate) => {
  const volts = (percent) => `${((percent / 100) * size.coil_v).toFixed(0)} V`;
  const needs = Number.isFinite(state.needed) ? `${volts(state.needed)}, ${state.needed.toFixed(0)} %` : "more than the iron can give";
  const [where, so] = WHERE[plate.where];
  return {
    facts: [
      ["Springs push", `${state.spring_n.toFixed(0)} N`, plate.where === "disc" ? `holds ${state.times_load.toFixed(2)} times the load` : "pressed together"],
      ["Magnet pulls", `${state.pull_n.toFixed(0)} N`, `field ${state.flux_t.toFixed(2)} T, current ${(1000 * state.current_a).toFixed(0)} mA`],
      ["The plate is", where, so],
      ["Needs, to pull in", needs, `lets go below ${volts(state.let_go)}`],
    ],
    words: `Voltage ${values.supply.toFixed(0)} %, gap ${values.gap_mm.toFixed(2)} mm, coil ${values.coil_c.toFixed(0)} °C. The plate is ${where}: ${so}.`,
  };
};

function clack({ size, tables }, { by }) {
  const scale = unitsPerMm(size);
  const brake = livingBrake({ scale });
  const beam = forceBeam({ y: 302, perNewton: BEAM / value(tables.springs, "spring_n", 0) });
  const supply = gauge({ control: by.get("supply"), x: 494, foot: 226, top: 108, ticks: [0, 50, 100], sign: "%", label: "Voltage at the coil" });
  const heat = gauge({ control: by.get("coil_c"), x: 562, foot: 226, top: 108, ticks: [20, 100], sign: "°C", label: "Coil temperature" });
  const gap = grip({ control: by.get("gap_mm"), along: "x", perUnit: () => 1 / scale, label: "Air gap" });
  const word = draw("text", { class: "clack-word", y: 92 }, "");
  const leads = draw("path", { class: "lead" });
  const picture = draw("g", { role: "img" }, leads, brake.node, beam.node, supply.node, heat.node, word);
  const svg = draw("svg", { viewBox: "54 70 570 270", role: "group", "aria-label": "The brake, cut open" }, picture, gap.node, supply.handle, heat.handle);

  let plate = RESTS;
  let courses = null;
  let creep = 0; // 1 up, -1 down, 0 not at all
  let spoken_ms = -Infinity;
  let stated = "";

  const crossing_s = (values) => (courses && courses[plate.where] ? whole(courses[plate.where], values.gap_mm) : 0);
  const creeping = (frame_s, values) => {
    if (!creep) return;
    const next = values.supply + creep * CREEP_PERCENT_S * frame_s;
    const [low, high] = by.get("supply").told.range;
    by.get("supply").set(next, true);
    if (next <= low || next >= high) creep = 0;
  };
  let carried = 0; // what a slider's step is too coarse for
  let before_ms = 0;
  const advance = (values, story_s, control) => {
    const now_ms = performance.now();
    const real_s = Math.min(0.1, (now_ms - before_ms) / 1000);
    before_ms = now_ms;
    plate = after(plate, story_s, crossing_s(values));
    if (plate.clack) {
      spoken_ms = now_ms;
      plate = { ...plate, clack: false };
    }
    plate = decided(plate, values.supply, { release: value(tables.release, "release", values.gap_mm, values.coil_c), let_go: value(tables.let_go, "let_go", values.coil_c) });
    const crosses = plate.where === "in" || plate.where === "out";
    if (!crosses) {
      carried += creep ? real_s : -carried;
      const steps = Math.floor(carried * CREEP_PERCENT_S);
      if (steps) {
        carried -= steps / CREEP_PERCENT_S;
        creeping(steps / CREEP_PERCENT_S, values);
      }
    }
    return crosses || creep !== 0 || now_ms - spoken_ms < 1000 * WORD_S;
  };
  const show = (values) => {
    const state = clackState(tables, values, plate, courses);
    const at = brake.show(state);
    gap.show(at.body + 300, 128);
    supply.show();
    heat.show();
    beam.show(191 + at.plate, state.spring_n, state.pull_n);
    leads.setAttribute("d", `M${(378 + at.body).toFixed(1)} 164 H488 M${(378 + at.body).toFixed(1)} 174 H488`);
    write(word, performance.now() - spoken_ms < 1000 * WORD_S ? "clack" : "");
    word.setAttribute("x", (196 + at.plate).toFixed(1));
    const said = told(size, values, state, plate);
    if (said.words !== stated) picture.setAttribute("aria-label", (stated = said.words));
    return said;
  };
  const towards = (way) => () => {
    creep = way;
    before_ms = performance.now();
    carried = 0;
    by.get("supply").set(by.get("supply").get() + way, true);
  };
  const cross = (values) => { // at once: a still before and a still after
    plate = decided(plate, values.supply, { release: value(tables.release, "release", values.gap_mm, values.coil_c), let_go: value(tables.let_go, "let_go", values.coil_c) });
    if (plate.where === "in") plate = { where: "magnet", since_s: 0 };
    if (plate.where === "out") plate = { where: "disc", since_s: 0 };
  };
  const story = {
    begin: [["Raise the voltage slowly", () => (mayMove() ? towards(1)() : story.step())], ["Lower it slowly", () => (mayMove() ? towards(-1)() : story.step(null, -1))]],
    step: (_, way = plate.where === "magnet" ? -1 : 1) => {
      const now = Object.fromEntries([...by].map(([name, one]) => [name, one.get()]));
      const [, high] = by.get("supply").told.range;
      const edge = way > 0 ? Math.ceil(value(tables.release, "release", now.gap_mm, now.coil_c)) : Math.ceil(value(tables.let_go, "let_go", now.coil_c)) - 1;
      const next = way > 0 ? (now.supply < edge - 1 ? Math.min(edge - 1, high) : Math.min(edge, high)) : now.supply > edge + 1 ? edge + 1 : edge;
      creep = 0;
      by.get("supply").set(next, true);
      cross({ ...now, supply: by.get("supply").get() });
    },
  };
  return { views: [svg], story, advance, show, courses: (heard) => (courses = heard) };
}

export default living(clack);
