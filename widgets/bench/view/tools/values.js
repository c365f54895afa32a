// Readings of meter, thermometer, test supply and lever: how a display shows them, and the line on
// which the person writes one down. Sends write_value with what was typed; fills nothing in.

import { button, make, numberField } from "../../../page/dom.js";

// Quantity of the notes sheet: its name and unit, in the order of the sheet.
const QUANTITIES = [
  ["coil_ohm", "Coil resistance", "Ω"],
  ["coil_c", "Coil temperature", "°C"],
  ["insulation_mohm", "Insulation to earth", "MΩ"],
  ["voltage_v", "Voltage at the coil", "V"],
  ["release_percent", "Released at, of the rated voltage", "%"],
  ["lever_play_mm", "Play of the hand release", "mm"],
];
const OVER = "over";
const OVER_OHM = 1_000_000; // how the sheet keeps "over the scale" of the ohms: the most that it takes

/** Return the quantities of the notes sheet: kind, name, unit. */
export const quantities = () => QUANTITIES.map(([what, name, unit]) => ({ what, name, unit }));

// A display of 6000 steps moves its point with the scale; ohms begin at 600, volts at 6.
const POINTS = { "Ω": [[600, 1]], V: [[6, 3], [60, 2], [600, 1]] };

/** Return a value as the meter's display shows it; two figures for an insulation tester. */
export const displayText = (value, unit, over = false) => {
  if (over) return value === null ? OVER : `> ${value}`;
  if (value === null || value === undefined) return "";
  if (unit === "MΩ") return String(Number(value.toPrecision(2)));
  const [, decimals] = POINTS[unit]?.find(([top]) => Math.abs(value) <= top) ?? [0, 0];
  return value.toFixed(decimals);
};

/** Return the same for the ear. */
export const spokenDisplay = (value, unit, over = false) => {
  if (over) return value === null ? "over the scale" : `more than ${value} ${unit}, the end of the scale`;
  return value === null || value === undefined ? "nothing shown" : `${displayText(value, unit)} ${unit}`;
};

/** Return a note as it is written on the sheet. */
export const noteText = ({ what, value }) => {
  if (what === "coil_ohm" && value >= OVER_OHM) return "over the scale";
  const [, , unit] = QUANTITIES.find(([own]) => own === what) ?? [what, what, ""];
  return `${Number(value.toPrecision(6))} ${unit}`.trim();
};

/**
 * Return the form that writes one of the named quantities down; `pick` chooses which. `after` is told
 * what was written and returns what is to be written next, or nothing.
 */
export function valueForm(bench, offered, after = () => null) {
  const known = QUANTITIES.filter(([what]) => offered.includes(what));
  const [label, field] = numberField("I read", { min: 0, max: OVER_OHM, step: "any" });
  const unit = make("span", { class: "unit" });
  const options = known.map(([what, name]) => make("option", { value: what }, name));
  const select = make("select", { "aria-label": "Which reading", change: () => pick(select.value) }, ...options);

  const over = button("Over the scale", () => bench.wish("write_value", { what: "coil_ohm", value: OVER_OHM }));

  const pick = (what) => {
    select.value = what;
    over.hidden = what !== "coil_ohm";
    unit.textContent = known.find(([own]) => own === what)?.[2] ?? "";
  };
  const write = () => {
    const value = field.value === "" ? NaN : Number(field.value);
    if (!(value >= 0 && value <= OVER_OHM)) return bench.decline("Type what you read first: a number from 0 to 1 000 000.");
    bench.wish("write_value", { what: select.value, value });
  };

  field.addEventListener("keydown", (event) => {
    if (event.key !== "Enter") return;
    event.preventDefault();
    write();
  });
  label.append(unit);
  const only = known.length === 1;
  select.hidden = only;
  const node = make(
    "div", { class: "write", role: "group", "aria-label": "Write a reading down" },
    make("div", { class: "row" }, make("b", {}, only ? known[0][1] : "Reading"), select, label, button("Write down", write), over),
  );
  let written = 0;
  const show = ({ scene }) => {
    const now = scene?.value_notes.length ?? written;
    if (now > written) {
      field.value = "";
      const then = after(scene.value_notes.at(-1).what);
      if (then) pick(then);
    }
    written = now;
  };
  pick(known[0][0]);
  return { node, pick, show };
}
