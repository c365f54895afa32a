// Draws the ring: the gap all the way round, unfolded. It is even until the person has written a
// reading down; it then carries that reading, and the limits of the row the person chose.

import { arc, at, CENTRE, GAUGED, sector } from "./angles.js";
import { draw } from "../../../page/dom.js";
import { mm, withLatest } from "../tools/readings.js";

const INNER = 112; // radius of 0 mm, in units of the drawing
const OUTER = GAUGED;
const HALF_DEG = 7;
const ROOM = 1.15; // of the widest limit on the sheet

const circle = (r, kind) => draw("circle", { cx: CENTRE, cy: CENTRE, r, class: kind });
const label = (r, deg, words, kind) => {
  const [x, y] = at(r, deg);
  return draw("text", { x, y, class: kind }, words);
};

// Inside the ring, beside its bar; a word is wider than it is high.
const readingRadius = (deg) => INNER - 14 - 11 * Math.abs(Math.sin((deg * Math.PI) / 180));

const bar = (note, radius) => {
  const [from, to] = [note.angle_deg - HALF_DEG, note.angle_deg + HALF_DEG];
  const kind = note.latest ? "" : " earlier";
  const parts = [
    draw("path", { d: sector(INNER, radius(note.go_mm), from, to), class: `goes${kind}` }),
    draw("path", { d: arc(radius(note.no_go_mm), from - 4, to + 4), class: `stops${kind}` }),
  ];
  if (note.latest) parts.push(label(readingRadius(note.angle_deg), note.angle_deg, mm(note.go_mm), "reading"));
  return parts;
};

const limits = (row, radius) =>
  [["gap_min_mm", "min", 336], ["gap_max_mm", "max", 348]].flatMap(([key, word, deg]) => [
    circle(radius(row[key]), "limit"),
    label(radius(row[key]), deg, word, "limit-word"),
  ]);

/** Fill the ring's layer from the notes, and from the row of the sheet if one was chosen. */
export function showRing(layer, { fixed, scene, row }) {
  if (!scene.body_on) return layer.replaceChildren(); // without its body the brake has no gap
  const rows = fixed.sheet.rows;
  const widest = ROOM * Math.max(...rows.map((one) => one.gap_max_mm));
  const radius = (value) => INNER + ((OUTER - INNER) * Math.min(value, widest)) / widest;
  const notes = withLatest(scene.gap_notes.filter((note) => !note.struck)).sort((a, b) => a.latest - b.latest);
  const chosen = rows.find((one) => one.name === row);
  layer.replaceChildren(
    circle(OUTER, "bound"),
    circle(INNER, "f"),
    ...[0.5, 1].flatMap((value) => [
      circle(radius(value), "step"),
      label(radius(value), 24, value.toFixed(1), "step-word"),
    ]),
    ...notes.flatMap((note) => bar(note, radius)),
    ...(chosen ? limits(chosen, radius) : []),
  );
}
