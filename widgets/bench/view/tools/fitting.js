// Forms for what needs a choice before it is done: which disc and which way round, how much play for
// the lever. Nothing is chosen for the person.

import { button, choices, draw, make, numberField } from "../../../page/dom.js";
import { valueForm } from "./values.js";

const WAYS = [["brake", "Collar to the brake"], ["motor", "Collar to the motor"]];

const form = (words, ...children) => make("div", { class: "fitting", role: "group", "aria-label": words }, ...children);

// The disc seen on its edge between motor end and brake: its collar is there to be seen before anybody asks.
function discOnEdge() {
  const collar = draw("g", {}, draw("rect", { x: 96, y: 26, width: 14, height: 28, class: "f" }));
  const words = (x, text) => draw("text", { x, y: 76 }, text);
  const node = draw(
    "svg", { viewBox: "-30 0 262 84", class: "on-edge", role: "img" },
    draw("path", { d: "M10 40 H210", class: "c" }), draw("rect", { x: 12, y: 8, width: 26, height: 52, class: "f" }),
    draw("rect", { x: 104, y: 8, width: 12, height: 64, class: "f" }),
    ...[8, 54].flatMap((y) => [draw("rect", { x: 98, y, width: 6, height: 18, class: "l" }), draw("rect", { x: 116, y, width: 6, height: 18, class: "l" })]),
    collar, words(26, "motor end"), words(190, "brake"),
  );
  const turn = (way) => {
    collar.setAttribute("transform", way === "brake" ? "translate(14 0)" : "");
    node.setAttribute("aria-label", way ? `The disc on its edge, its collar to the ${way}` : "The disc on its edge: a collar on one side, as it lies in your hand");
  };
  turn(null);
  return { node, turn };
}

function discing(bench, only) {
  const which = make("select");
  const edge = discOnEdge();
  const way = choices("Which way round", WAYS, (chosen) => edge.turn(chosen), { rowClass: "keys" });
  const fit = () => {
    const part = only === "old" ? only : which.value;
    if (!part || !way.get()) return bench.decline("Choose first which disc, and which way round.");
    bench.wish("fit_disc", { part, reversed: way.get() === "brake" });
  };
  let names = "";
  const show = ({ fixed }) => {
    const now = JSON.stringify(fixed?.new_discs ?? []);
    if (now === names) return;
    names = now;
    const news = (fixed.new_discs ?? []).map((size) => make("option", { value: size }, `New: ${size}`));
    const old = only ? [] : [make("option", { value: "old" }, "The old one")];
    which.replaceChildren(make("option", { value: "" }, "Choose a disc"), ...old, ...news);
  };
  const label = only === "old" ? null : make("label", { class: "field" }, make("span", {}, "Disc"), which);
  return { node: form("Put a disc on", label, edge.node, way.node, button("Slide onto the hub", fit)), show };
}

function playing(bench) {
  const [label, field] = numberField("Play at the plate", { min: 0, max: 10, step: 0.1 }, "mm");
  const set = () => {
    const play_mm = field.value === "" ? NaN : Number(field.value);
    if (!Number.isFinite(play_mm)) return bench.decline("First type how much play the lever should have.");
    bench.wish("set_lever", { play_mm });
  };
  const felt = valueForm(bench, ["lever_play_mm"]);
  return { node: make("div", {}, felt.node, form("Set the lever’s play", label, button("Set the play", set))), show: felt.show };
}

/** The forms by name; each makes `{node, show(known)}`. `only` "old" or "new" leaves the other out. */
export const FORMS = { disc: discing, lever: playing };
