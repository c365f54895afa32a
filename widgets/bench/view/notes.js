// The notes sheet: the person's own readings, one block a place, earlier ones struck through.
// Draws the notes; sends nothing and works nothing out.

import { placeName } from "./angles.js";
import { make } from "./dom.js";
import { connect } from "./line.js";
import { byPlace, mm } from "./readings.js";

const RING = "The ring on the drawing is the gap, unfolded: the bar is what goes, the line over it what will not.";

const value = (text, earlier) => {
  if (text === undefined) return "";
  return earlier ? make("del", {}, text) : text;
};

function rows(place) {
  const many = Math.max(place.gap.length, place.disc.length);
  return Array.from({ length: many }, (_, i) => {
    const [gap, disc] = [place.gap[i], place.disc[i]];
    const cells = [gap && mm(gap.go_mm), gap && mm(gap.no_go_mm), disc && mm(disc.value_mm)];
    const name = i ? make("span", { class: "quiet" }, "earlier") : placeName(place.angle_deg);
    return make("tr", { class: i ? "earlier" : "" }, make("th", { scope: "row" }, name), ...cells.map((text) => make("td", {}, value(text, i > 0))));
  });
}

function render({ model, el }) {
  el.classList.add("gal", "gal-notes");
  const body = make("tbody");
  const table = make(
    "table", {},
    make("caption", {}, "Gap and disc, mm"),
    make("thead", {}, make("tr", {}, ...["Where", "Goes", "Will not go", "Disc"].map((name) => make("th", { scope: "col" }, name)))),
    body,
  );
  const none = make("p", { class: "quiet" }, "Nothing is written down yet. Readings come here from the leaves and the caliper; until then the ring on the drawing stays even.");
  const ring = make("p", { class: "quiet", hidden: true });
  const bench = connect(model, ({ scene, row }) => {
    if (!scene) return;
    const places = byPlace(scene.gap_notes, scene.disc_notes);
    table.hidden = !places.length;
    none.hidden = places.length > 0;
    ring.hidden = !scene.gap_notes.length;
    ring.textContent = RING + (row ? ` Dashed: least and greatest gap of your row, ${row}.` : "");
    body.replaceChildren(...places.flatMap(rows));
  });
  table.hidden = true;
  el.append(make("h2", {}, "My notes"), none, table, ring);
  bench.ask();
  return () => bench.close();
}

export default { render };
