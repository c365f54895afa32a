// Thousands of stops: the linings wear, the plate follows, the gap grows; set back each time it is largest, or never.
// Gap and linings are drawn to one scale, so that what the disc loses is seen to be what the gap gains. Sends nothing.

import { draw } from "../../../../page/dom.js";
import { value } from "../reading/interpolate.js";
import { livingBrake } from "../drawn/living_brake.js";
import { living } from "../page/living.js";
import { trace } from "../drawn/trace.js";

const ROOM = 154; // units for both linings and the widest gap together
const STORY_S = 24; // how long the whole life takes on the page
const CARRIER = [147, 165]; // its faces on the bench's drawing

/** Return how many units a millimetre of lining or gap is drawn. Pure. */
export const wearScale = ({ lining_new_mm, widest_mm }) => ROOM / (2 * lining_new_mm + widest_mm);

/** Return gap, disc and lining after so many stops, and what follows from the gap: hold, and voltage to release when hot. Pure. */
export const wearState = (tables, habit, stops, hot_c) => {
  const read = (column) => value(tables[habit], column, stops);
  const gap_mm = read("gap_mm");
  return {
    gap_mm, disc_mm: read("disc_mm"), lining_mm: read("lining_mm"), adjusted: Math.floor(read("adjusted") + 1e-9),
    times_load: value(tables.hold, "times_load", gap_mm), needed: value(tables.release, "release", gap_mm, hot_c),
  };
};

/** Return the numbers of stops at which something happens on a table: set back, least reached, the end. Pure. */
export const events = (table, { disc_least_mm, max_mm }) => {
  const { points } = table.axes[0];
  const { disc_mm, gap_mm } = table.columns;
  const first = (column, is) => points[column.findIndex(is)];
  const steps = points.filter((stops, i) => i && stops === points[i - 1]);
  const found = [...steps.flatMap((stops) => [stops * (1 - 1e-9), stops]), first(disc_mm, (mm) => mm <= disc_least_mm), first(gap_mm, (mm) => mm >= max_mm), points.at(-1)];
  return [0, ...new Set(found.filter((stops) => stops !== undefined))].sort((a, b) => a - b);
};

const grouped = (stops) => Math.round(stops).toString().replace(/\B(?=(\d{3})+$)/g, "\u202f");

const leastLines = (offset) => CARRIER.map((x, i) => draw("path", { class: "least", d: `M${(x + (i ? offset : -offset)).toFixed(1)} 134 V208` }));

function wearRuns({ size, tables }, { by }) {
  const scale = wearScale(size);
  const lining = size.lining_new_mm * scale;
  const brake = livingBrake({ scale, lining, right: 520 });
  const least = draw("g", {}, ...leastLines(size.lining_min_mm * scale), draw("text", { class: "mm is-middle", x: CARRIER[0] - size.lining_min_mm * scale, y: 219 }, "least"));
  const picture = draw("g", { role: "img" }, brake.node, least);
  const strip = trace(["gap", "disc, least at the foot"]);
  const last = (habit) => tables[habit].axes[0].points.at(-1);
  const stopsAt = (habit, time_s) => (time_s / STORY_S) * last(habit);
  const show = ({ habit }, control) => {
    const stops = stopsAt(habit, control.time());
    const now = wearState(tables, habit, stops, size.hot_c);
    const at = brake.show({ gap_mm: now.gap_mm, open_mm: now.gap_mm, worn_mm: size.lining_new_mm - now.lining_mm });
    least.setAttribute("transform", `translate(${at.disc.toFixed(2)} 0)`);
    const spent = now.disc_mm < size.disc_least_mm - 1e-6;
    const wide = now.gap_mm > size.max_mm + 1e-6;
    const stuck = now.needed > size.low_percent;
    least.classList.toggle("is-passed", spent);
    const rest = (mm) => (mm - size.disc_least_mm) / (size.disc_new_mm - size.disc_least_mm);
    strip.show(habit, [(when) => wearState(tables, habit, stopsAt(habit, when), size.hot_c).gap_mm / size.widest_mm, (when) => rest(wearState(tables, habit, stopsAt(habit, when), size.hot_c).disc_mm)], control.time(), STORY_S);
    const facts = [
      ["Air gap", `${now.gap_mm.toFixed(2)} mm`, wide ? `beyond the largest, ${size.max_mm} mm` : `set again ${now.adjusted} times, largest ${size.max_mm} mm`, wide],
      ["Disc", `${now.disc_mm.toFixed(2)} mm`, spent ? `below its least, ${size.disc_least_mm} mm: replace` : `least ${size.disc_least_mm} mm`, spent],
      ["Holds", `${now.times_load.toFixed(2)} times the load`, "with sound, dry linings"],
      ["Releases, hot, low mains", stuck ? "no" : "yes", `needs ${now.needed.toFixed(0)} %, has ${size.low_percent.toFixed(0)} %`, stuck],
    ];
    const words = `After ${grouped(stops)} stops: ${facts.map(([name, is, note]) => `${name} ${is}, ${note}`).join(". ")}.`;
    picture.setAttribute("aria-label", words);
    return { facts, words };
  };
  const story = {
    begin: [["Let it work", (control) => control.play()]],
    step: (control) => {
      const { habit } = Object.fromEntries([...by].map(([name, one]) => [name, one.get()]));
      control.next(events(tables[habit], size).map((stops) => [(stops / last(habit)) * STORY_S]));
    },
    end: () => STORY_S,
    pace: false,
    scrubWords: "Stops",
    timeWords: (time_s) => grouped(stopsAt(by.get("habit").get(), time_s)),
  };
  const svg = draw("svg", { viewBox: "54 84 470 202", role: "group", "aria-label": "The brake, cut open" }, picture);
  return { views: [svg, strip.node], story, show, courses: () => {} };
}

export default living(wearRuns);
