// The notes sheet: a place for each reading, what the person wrote there, and what they struck out.
// Sends strike_out and write_value; works nothing out, and judges no reading.

import { placeName } from "../drawing/angles.js";
import { button, make } from "../../../page/dom.js";
import { connect } from "./line.js";
import { byDecision, byPlace, decisionStep, mm, withLine } from "../tools/readings.js";
import { noteText, quantities, valueForm } from "../tools/values.js";

const GAP_PLACES = [0, 45, 90, 135, 180, 225, 270, 315];
const DISC_PLACES = [0, 90, 180, 270];
const RING = "The ring on the drawing is the gap, unfolded: the bar is what goes, the line over it what will not.";
const BLANK = "–";

const cell = (text, struck) => make("td", { class: "figure" }, text && struck ? make("del", {}, text) : text);

// A line of the sheet: what is in it, and the key that strikes it out.
function line(head, texts, note, spoken, strike) {
  const key = note && !note.struck && strike && button("Strike", strike, { class: "strike", "aria-label": `Strike out: ${spoken}, ${texts.filter(Boolean).join(", ")}` });
  const struck = note?.struck ? make("span", { class: "quiet" }, "struck") : null;
  const kind = [note ? "" : "is-blank", note?.struck ? "is-struck" : ""].filter(Boolean).join(" ");
  return make("tr", { class: kind || null }, make("th", { scope: "row" }, head), ...texts.map((text) => cell(text, note?.struck)), make("td", { class: "act" }, key || struck));
}

const placeLines = (sheet, columns) => (place) => {
  const name = placeName(place.angle_deg);
  if (!place.notes.length) return [line(name, Array(columns).fill(BLANK), null, name)];
  return place.notes.map((note, i) => {
    const head = i ? make("span", { class: "quiet" }, "before that") : name;
    return line(head, sheet.texts(note), note, `${sheet.name} at ${name}`, sheet.strike && (() => sheet.strike(note.line)));
  });
};

const heading = (words, columns) => make("tr", { class: "rule" }, make("th", { colspan: columns + 2, scope: "colgroup" }, words));

// The lines of one sheet, with a rule where the decision was written.
function placeRows(sheet, notes, decided) {
  const { before, after } = byDecision(withLine(notes), decided);
  const columns = sheet.heads.length - 1;
  const lines = (own) => byPlace(own, sheet.places).flatMap(placeLines(sheet, columns));
  if (!Number.isInteger(decided)) return lines(before);
  const since = after.length ? lines(after) : [line(make("span", { class: "quiet" }, "nothing written yet"), Array(columns).fill(""), null, "")];
  return [heading("As found, up to the decision", columns), ...lines(before), heading("After the decision", columns), ...since];
}

function valueRows(notes, strike) {
  const numbered = withLine(notes);
  return quantities().flatMap(({ what, name }) => {
    const own = numbered.filter((note) => note.what === what).reverse();
    if (!own.length) return [line(name, [BLANK], null, name)];
    return own.map((note, i) => line(i ? make("span", { class: "quiet" }, "before that") : name, [noteText(note)], note, name, strike && (() => strike(note.line))));
  });
}

function sheetTable(caption, heads) {
  const body = make("tbody");
  const columns = [...heads.map((head) => make("th", { scope: "col" }, head)), make("td", {})];
  const node = make("table", {}, make("caption", {}, caption), make("thead", {}, make("tr", {}, ...columns)), body);
  return { node, show: (rows) => body.replaceChildren(...rows) };
}

function render({ model, el }) {
  el.classList.add("gal", "gal-notes");
  const heads = { gap: ["Where", "Goes, mm", "Will not, mm"], disc: ["Where", "Disc, mm", "By"], value: ["Reading", "Value"] };
  const tables = { gap: sheetTable("Gap", heads.gap), disc: sheetTable("Disc over both linings", heads.disc), value: sheetTable("Coil, release, hand release", heads.value) };
  const given = make("section", { class: "given", hidden: true, role: "group", "aria-label": "From the person before you" });
  const ring = make("p", { class: "quiet" });
  let decided = null;
  let shown = ""; // the sheet is written independently only when something stands on it that was not there

  const show = (scene) => {
    const strike = (sheet) => (scene.handed_over ? null : (number) => bench.wish("strike_out", { sheet, line: number }));
    const gap = { name: "gap", heads: heads.gap, places: GAP_PLACES, strike: strike("gap"), texts: (note) => [mm(note.go_mm), mm(note.no_go_mm)] };
    const disc = { name: "disc", heads: heads.disc, places: DISC_PLACES, strike: strike("disc"), texts: (note) => [mm(note.value_mm), note.tool] };
    tables.gap.show(placeRows(gap, scene.gap_notes, decided));
    tables.disc.show(placeRows(disc, scene.disc_notes, decided));
    tables.value.show(valueRows(scene.value_notes, strike("value")));
  };
  const bench = connect(model, ({ scene, row }, { fixed, scene: fresh }) => {
    if (fixed) showGiven(given, fixed.given);
    if (!scene) return;
    ring.textContent = RING + (row ? ` Dashed: least and largest gap of your row, ${row}.` : "");
    if (!fresh) return;
    decided = decisionStep(decided, scene, Boolean(fixed));
    const now = JSON.stringify([scene.gap_notes, scene.disc_notes, scene.value_notes, decided, scene.handed_over]);
    if (now !== shown) keepFocus(el, () => show(scene));
    shown = now;
    write.show({ scene });
    write.node.hidden = scene.handed_over;
  });
  const write = valueForm(bench, quantities().map(({ what }) => what));
  el.append(make("h2", {}, "My notes"), given, ...Object.values(tables).map((table) => table.node), write.node, ring);
  bench.ask();
  return () => bench.close();
}

function showGiven(node, lines) {
  node.hidden = !lines?.length;
  node.replaceChildren(make("h3", {}, "From the person before you"), make("ul", {}, ...(lines ?? []).map((words) => make("li", {}, words))));
}

// The sheet is written independently; whoever stood on a key of it stands on the key of the same place afterwards.
function keepFocus(el, redraw) {
  const keys = () => [...el.querySelectorAll("button.strike")];
  const before = keys().indexOf(el.ownerDocument.activeElement);
  redraw();
  if (before < 0) return;
  const after = keys();
  (after[Math.min(before, after.length - 1)] ?? el).focus({ preventScroll: true });
}

export default { render };
