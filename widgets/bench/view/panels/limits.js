// The limits sheet: every size, and which row the person has chosen as theirs.
// Tells the other parts of the bench the row; sends the kernel nothing.

import { make } from "../../../page/dom.js";
import { connect } from "./line.js";

// Field of a row, its heading, decimals (null: as the sheet gives it).
const COLUMNS = [
  ["torque_nm", "Brake torque, N·m", 0],
  ["gap_min_mm", "Gap least, mm", 2],
  ["gap_setting_mm", "Gap set to, mm", 2],
  ["gap_max_mm", "Gap largest, mm", 2],
  ["gap_evenness_mm", "Gap even within, mm", 2],
  ["disc_new_mm", "Disc new, mm", 1],
  ["disc_min_mm", "Disc least, mm", 1],
  ["wear_plate_mm", "Wear plate, mm", 1],
  ["set_with", "Gap set with", null],
  ["step_mm", "A turn or step, mm", 2],
  ["retaining_torque_nm", "Retaining screws, N·m", 1],
  ["gauging_circle_mm", "Gauging circle, mm", 0],
  ["screw_circle_mm", "Screw circle, mm", 0],
  ["test_static", "Load test held, × rated", 2],
  ["test_dynamic", "Load test stopped, × rated", 2],
  ["coil_voltage_v", "Coil, V DC", 0],
  ["coil_resistance_20_ohm", "Coil at 20 °C, Ω", null],
];

// What a column shows of several fields of the sheet.
const FROM = { set_with: ["screw_thread"], step_mm: ["screw_pitch_mm", "shim_step_mm", "ring_notch_mm"] };

// What a decision does not need; a case decided from notes leaves it out.
const ASIDE = new Set(["torque_nm", "step_mm", "retaining_torque_nm", "gauging_circle_mm", "screw_circle_mm", "test_static", "test_dynamic"]);
const kind = (key) => (ASIDE.has(key) ? "aside" : key === "set_with" ? "words" : null);
const FIGURES = 3; // of an estimate, which is not better known

const text = (value, decimals, key, guess) => {
  if (value === 0 && (key === "wear_plate_mm" || key === "step_mm")) return "none";
  if (decimals !== null) return value.toFixed(decimals);
  return String(guess && typeof value === "number" ? Number(value.toPrecision(FIGURES)) : value);
};

function row(size, name, choose) {
  const box = make("input", { type: "radio", name, "aria-label": `${size.name}: my row`, change: () => choose(size.name) });
  const mine = make("span", { class: "mine" }, "my row");
  const cells = COLUMNS.map(([key, heading, decimals]) => {
    const guess = (FROM[key] ?? [key]).some((one) => size.estimated.includes(one));
    return make("td", { role: "cell", class: kind(key), "data-heading": heading }, text(size[key], decimals, key, guess), guess ? make("span", { class: "guess" }, " estimated") : null);
  });
  const label = make("label", { class: "pick" }, box, make("span", {}, size.name), mine);
  return { box, size, node: make("tr", { role: "row" }, make("th", { scope: "row", role: "rowheader" }, label), ...cells) };
}

function render({ model, el }) {
  el.classList.add("gal", "gal-limits");
  const title = make("h2", {}, "Limits sheet");
  const about = make("p", { class: "about" });
  const body = make("tbody", { role: "rowgroup" });
  const head = make("tr", { role: "row" }, make("th", { scope: "col", role: "columnheader" }, "Size"), ...COLUMNS.map(([key, heading]) => make("th", { scope: "col", role: "columnheader", class: kind(key) }, heading)));
  // Named by role: a table that its style turns is a table for a screen reader still.
  const table = make("table", { role: "table" }, make("thead", { role: "rowgroup" }, head), body);
  // Where it has not the room the table is turned, and its style has to know how many rows that makes.
  table.style.setProperty("--rows", COLUMNS.length);
  table.style.setProperty("--rows-decided", COLUMNS.length - ASIDE.size);
  const frame = make("div", { class: "frame", tabindex: 0, role: "region", "aria-label": "Limits sheet, all sizes" }, table);
  const name = `gal-row-${model.get("table_key")}`;
  let rows = [];

  const bench = connect(model, (known, { fixed }) => {
    if (fixed) {
      title.textContent = `Limits sheet: ${fixed.sheet.title}`;
      about.textContent = fixed.sheet.invented
        ? "Invented for practice: never set a real brake by it. At a real brake the maker’s own data come first."
        : "Where this sheet and the maker’s own data differ, the maker’s data come first.";
      rows = fixed.sheet.rows.map((size) => row(size, name, bench.chooseRow));
      body.replaceChildren(...rows.map((one) => one.node));
    }
    rows.forEach((one) => {
      one.box.checked = one.size.name === known.row;
      one.node.classList.toggle("is-mine", one.box.checked);
    });
  });
  el.append(title, about, make("p", { class: "quiet" }, "Which row is yours? Choose it; the ring and the report then use it."), frame);
  bench.ask();
  return () => bench.close();
}

export default { render };
