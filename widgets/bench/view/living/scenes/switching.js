// Power off twice at once: one coil cut off on its DC side, one on its AC side, two loads sinking together.
// Reads the kernel's courses and draws; sends nothing.

import { lengths, whole } from "../reading/interpolate.js";
import { living } from "../page/living.js";
import { stall } from "../drawn/stall.js";
import { unitsPerMm } from "../drawn/stance.js";
import { LOAD_WORDS, stopMoments, stopState } from "../reading/stop_state.js";
import { trace } from "../drawn/trace.js";

const SIDES = [["dc", "DC side"], ["ac", "AC side"]];
const REST = { open_mm: 0, flux_t: 0, travel_mm: 0, turns_rev: 0, speed_rev_s: 0, part: "free", current_a: 0 };

/** Return the courses of one side. Pure. */
export const ofSide = (courses, side) => ({ plate: courses[`plate_${side}`], load: courses[`load_${side}`] });

/** Return how long both stops take together, s. Pure. */
export const longest = (courses, gap_mm) =>
  Math.max(...SIDES.flatMap(([side]) => Object.values(ofSide(courses, side)).map((course) => whole(course, gap_mm))));

function switching({ size }, { by }) {
  const scale = unitsPerMm(size);
  const stalls = SIDES.map(([, title]) => stall({ scale, most_mm: size.most_mm, kg: size.load_kg, title }));
  const strip = trace(["speed, DC side", "speed, AC side", "field, DC side", "field, AC side"]);
  let courses = null;

  const states = (gap_mm, time_s) => SIDES.map(([side]) => (courses ? stopState(ofSide(courses, side), gap_mm, time_s) : { ...REST, gap_mm }));
  const moments = (gap_mm) => SIDES.flatMap(([side, title]) => stopMoments(ofSide(courses, side), gap_mm, `${title}: `)).sort(([a], [b]) => a - b);
  const show = (values, control) => {
    const { gap_mm } = values;
    const time_s = control.time();
    const now = states(gap_mm, time_s);
    const facts = now.flatMap((state, i) => [[`${SIDES[i][1]}: the load`, `${state.travel_mm.toFixed(0)} mm lower`, LOAD_WORDS[state.part]]]);
    const plates = now.map((state, i) => [`${SIDES[i][1]}: the plate`, state.open_mm <= 0 ? "still pulled in" : state.open_mm < gap_mm ? "crossing" : "on the disc", `field ${state.flux_t.toFixed(2)} T`]);
    now.forEach((state, i) => {
      const [fades, crosses] = courses ? lengths(ofSide(courses, SIDES[i][0]).plate, gap_mm) : [Infinity, 0];
      stalls[i].show(state, control.rate(), time_s - fades - crosses, `${SIDES[i][1]}: ${plates[i][1]}, load ${state.travel_mm.toFixed(0)} mm lower, ${LOAD_WORDS[state.part]}.`);
    });
    if (courses) {
      const end_s = longest(courses, gap_mm);
      const read = (side, key, most) => (at) => stopState(ofSide(courses, side), gap_mm, at)[key] / most;
      strip.show(String(gap_mm), [read("dc", "speed_rev_s", size.most_rev_s), read("ac", "speed_rev_s", size.most_rev_s), read("dc", "flux_t", size.most_t), read("ac", "flux_t", size.most_t)], time_s, end_s);
    }
    const words = `${(1000 * time_s).toFixed(0)} ms after power-off, gap ${gap_mm.toFixed(2)} mm. ${now.map((state, i) => `${SIDES[i][1]}: ${plates[i][1]}, load ${state.travel_mm.toFixed(0)} mm lower`).join(". ")}.`;
    return { facts: [facts[0], plates[0], facts[1], plates[1]], words };
  };
  const story = {
    begin: [["Power off", (control) => control.play()]],
    step: (control) => control.next(moments(by.get("gap_mm").get())),
    end: ({ gap_mm }) => (courses ? longest(courses, gap_mm) : 0),
  };
  return { views: [...stalls.map((one) => one.node), strip.node], story, show, courses: (heard) => (courses = heard) };
}

export default living(switching);
