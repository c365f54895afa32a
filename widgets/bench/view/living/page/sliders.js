// The controls of a living drawing, as the kernel describes them: sliders and rows of keys. Sends nothing.

import { choices, make } from "../../../../page/dom.js";

const unique = () => `gal-v-${Math.random().toString(36).slice(2)}`;

/** Return a value moved onto a slider's steps and into its range. Pure. */
export const onSlider = ([low, high, step], value) => {
  const steps = Math.round((value - low) / step);
  return Number(Math.min(high, Math.max(low, low + steps * step)).toFixed(6));
};

/** Return a value as it is shown and spoken. Pure. */
export const spoken = ({ decimals, unit }, value) => `${value.toFixed(decimals)}${unit && unit !== "°" ? " " : ""}${unit ?? ""}`;

const slider = (told, changed) => {
  const id = unique();
  const [min, max, step] = told.range;
  const shown = make("output", { for: id });
  const field = make("input", { id, type: "range", min, max, step, input: () => set(Number(field.value), true) });
  let now = null;
  const set = (value, tell = false) => {
    const next = onSlider(told.range, value);
    if (next === now) return;
    now = next;
    if (Number(field.value) !== next) field.value = String(next);
    const said = spoken(told, next);
    shown.textContent = said;
    field.setAttribute("aria-valuetext", said);
    if (tell) changed(told.name);
  };
  const node = make("div", { class: "living-slider" }, make("label", { for: id }, told.label), shown, field);
  set(told.start);
  return { told, node, set, get: () => now };
};

const choice = (told, changed) => {
  const row = choices(told.label, told.options, () => changed(told.name), { rowClass: "keys" });
  row.set(told.start);
  return { told, node: row.node, get: row.get, set: (value, tell = false) => { row.set(value); if (tell) changed(told.name); } };
};

/** Return the controls: their node, each by its name, and all values now. */
export function controls(told, changed) {
  const by = new Map(told.map((one) => [one.name, (one.kind === "choice" ? choice : slider)(one, changed)]));
  const node = make("div", { class: "living-hands" }, ...[...by.values()].map((one) => one.node));
  const values = () => Object.fromEntries([...by].map(([name, one]) => [name, one.get()]));
  return { node, by, values };
}
