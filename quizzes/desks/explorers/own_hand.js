// A hidden gap to be gauged again and again: leaves to choose, what is felt, a bracket to write down,
// and at the end how good one's own hand is. Knows no gap; sends wishes and draws what it is told.

import { make } from "../../../widgets/page/dom.js";
import { leafStack } from "../../../widgets/bench/view/tools/leaf_stack.js";

const number = (words) => {
  const node = make("input", { type: "number", min: 0, max: 2, step: 0.01, inputmode: "decimal", autocomplete: "off", required: "" });
  return [make("label", { class: "field" }, make("span", {}, words), node, make("span", { class: "unit" }, "mm")), node];
};

const table = (caption, head, rows) => make("div", { class: "hand-scroll" }, make("table", {}, make("caption", {}, caption),
  make("thead", {}, make("tr", {}, ...head.map((words) => make("th", { scope: "col" }, words)))),
  make("tbody", {}, ...rows.map((row) => make("tr", {}, ...row.map((cell, index) => make(index ? "td" : "th", { scope: index ? null : "row" }, String(cell))))))));

/** @param {{ model: import("@anywidget/types").AnyModel, el: HTMLElement }} context */
function render({ model, el }) {
  el.classList.add("gal", "gal-explorer", "gal-hand");
  const task = make("p", { class: "hand-task", role: "status" }, "Asking…");
  const said = make("output", { class: "hand-said", "aria-live": "polite" });
  const work = make("div", { class: "hand-work", hidden: true });
  const notes = make("div");
  const results = make("div", { class: "hand-results" });
  el.append(task, work, said, notes, results);
  let fields = null;

  const build = (marks) => {
    // The bench's own leaves: the same keys, the same rules of what may be stacked.
    const stack = leafStack({ decline: (words) => { said.textContent = words; } }, () => {});
    stack.setOut(marks);
    const [goLabel, go] = number("Goes in");
    const [noGoLabel, noGo] = number("does not");
    fields = { go, noGo };
    const tried = () => model.send({ try: stack.leaves() });
    const written = (event) => {
      event.preventDefault();
      model.send({ write: { go: go.value === "" ? null : Number(go.value), no_go: noGo.value === "" ? null : Number(noGo.value) } });
    };
    work.replaceChildren(
      make("div", { class: "row" }, stack.stepper, make("button", { type: "button", class: "main", click: tried }, "Push in")),
      stack.mainRow, stack.thinChoice,
      make("form", { class: "row", submit: written, novalidate: "" }, goLabel, noGoLabel, make("button", { type: "submit" }, "Write it down")),
    );
  };

  const drawResults = (told) => {
    const show = told.shown ? null : make("button", { type: "button", click: () => model.send({ show: true }) }, "Show the gap as it is");
    const again = make("button", { type: "button", click: () => model.send({ again: true }) }, "Another gap");
    results.replaceChildren(
      make("h3", { tabindex: "-1" }, "Your own hand"),
      ...told.sentences.map((words) => make("p", {}, words)),
      table("Computed from your readings", ["Result", "You", "A careful hand, stacks"], told.rows),
      make("figure", {}, make("img", { src: told.figure.url, alt: told.figure.alt }), make("figcaption", { class: "quiet" }, told.figure.alt)),
      make("div", { class: "row" }, show, again),
    );
  };

  let before = -1;
  const hear = (told) => {
    if (told.leaves && !fields) build(told.leaves);
    if (!("done" in told)) return;
    task.textContent = told.task ?? `All ${told.of} readings are written down.`;
    work.hidden = Boolean(told.results);
    said.textContent = told.said;
    if (told.done !== before && fields) { fields.go.value = ""; fields.noGo.value = ""; }
    notes.replaceChildren(...(told.notes.length ? [table(`Written down: ${told.done} of ${told.of}`, ["Place", "Round", "goes, mm", "does not, mm"], told.notes)] : []));
    const fresh = told.results && told.done !== before;
    before = told.done;
    if (!told.results) { results.replaceChildren(); return; }
    drawResults(told.results);
    if (fresh && told.done) results.querySelector("h3").focus();
  };
  model.on("msg:custom", hear);
  model.send({ ask: "everything" });
  return () => model.off("msg:custom", hear);
}

export default { render };
