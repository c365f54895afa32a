// Four loads at once, each held by a brake with another gap; one of the four brakes is looked into.
// Reads the kernel's courses and draws; sends nothing.

import { draw } from "../../../../page/dom.js";
import { write } from "../page/facts.js";
import { hoist } from "../drawn/hoist.js";
import { lengths, whole } from "../reading/interpolate.js";
import { livingBrake } from "../drawn/living_brake.js";
import { living } from "../page/living.js";
import { unitsPerMm } from "../drawn/stance.js";
import { LOAD_WORDS, stopMoments, stopState } from "../reading/stop_state.js";
import { trace } from "../drawn/trace.js";

const COLUMN = 112;
const REST = { open_mm: 0, flux_t: 0, travel_mm: 0, turns_rev: 0, speed_rev_s: 0, part: "free" };

function fourStops({ size }, { by }) {
  const { gaps_mm: gaps, names } = size;
  const brake = livingBrake({ scale: unitsPerMm(size), right: 456 });
  const word = draw("text", { class: "clack-word", y: 90 });
  const section = draw("g", { role: "img" }, brake.node, word);
  const named = (i) => `${gaps[i]} mm`;
  const sides = Object.fromEntries(["dc", "ac"].map((side) => {
    const most_mm = side === "dc" ? size.most_dc_mm : size.most_mm;
    const columns = gaps.map((_, i) => hoist({ x: 34 + i * COLUMN, y: 34, room: 120, most_mm, kg: size.load_kg, narrow: true }));
    return [side, { columns, node: draw("g", {}, ...columns.map((one) => one.node)) }];
  }));
  const frames = gaps.map((_, i) => draw("rect", { class: "watched", x: 4 + i * COLUMN, y: 4, width: COLUMN - 8, height: 236, rx: 3 }));
  const loads = draw("g", { role: "img" }, ...frames, ...Object.values(sides).map((one) => one.node), ...gaps.map((_, i) => draw("text", { class: "under", x: (i + 0.5) * COLUMN, y: 256 }, named(i))));
  const strip = trace(gaps.map((gap_mm) => `speed, ${gap_mm} mm`));
  let courses = null;

  const of = (side) => ({ plate: courses[`plate_${side}`], load: courses[`load_${side}`] });
  const end = (side) => Math.max(...gaps.flatMap((gap_mm) => Object.values(of(side)).map((one) => whole(one, gap_mm))));
  const show = (values, control) => {
    const time_s = control.time();
    const watched = Number(values.watched);
    const states = gaps.map((gap_mm) => (courses ? stopState(of(values.side), gap_mm, time_s) : { ...REST, gap_mm }));
    const own = states[watched];
    const at = brake.show({ ...own, speed_rev_s: own.speed_rev_s * control.rate() });
    for (const [side, { node }] of Object.entries(sides)) node.style.display = side === values.side ? "" : "none";
    states.forEach((state, i) => sides[values.side].columns[i].show(state.travel_mm));
    frames.forEach((frame, i) => frame.classList.toggle("is-watched", i === watched));
    if (courses) {
      const [fades, crosses] = lengths(of(values.side).plate, gaps[watched]);
      const since = time_s - fades - crosses;
      write(word, since >= 0 && since < 0.012 * Math.max(1, control.rate() * 20) ? "clack" : "");
      word.setAttribute("x", (250 + at.plate).toFixed(1));
      strip.show(values.side, gaps.map((gap_mm) => (when) => stopState(of(values.side), gap_mm, when).speed_rev_s / (values.side === "dc" ? size.most_dc_rev_s : size.most_rev_s)), time_s, end(values.side));
    }
    const facts = states.map((state, i) => [`Gap ${named(i)}, ${names[i]}`, `${state.travel_mm.toFixed(0)} mm lower`, LOAD_WORDS[state.part]]);
    const words = `${(1000 * time_s).toFixed(0)} ms after power-off. ${facts.map(([gap, low, does]) => `${gap}: ${low}, ${does}`).join(". ")}.`;
    section.setAttribute("aria-label", `The brake with a gap of ${named(watched)}: ${own.open_mm <= 0 ? "plate pulled in" : own.open_mm < own.gap_mm ? "plate crossing" : "plate on the disc"}.`);
    loads.setAttribute("aria-label", words);
    return { facts, words };
  };
  const story = {
    begin: [["Power off", (control) => control.play()]],
    step: (control) => control.next(stopMoments(of(by.get("side").get()), gaps[Number(by.get("watched").get())])),
    end: ({ side }) => (courses ? end(side) : 0),
  };
  const views = [
    draw("svg", { viewBox: "54 70 412 216", role: "group", "aria-label": "One of the four brakes, cut open" }, section),
    draw("svg", { viewBox: `0 0 ${4 * COLUMN} 272`, role: "group", "aria-label": "Four loads" }, loads),
    strip.node,
  ];
  return { views, story, show, courses: (heard) => (courses = heard) };
}

export default living(fourStops);
