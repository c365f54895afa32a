// What a person answers with, one for each kind of question: nodes, and the get and set of the answer.
// Knows no right answer; sends nothing.

import { choices, make } from "../../../widgets/page/dom.js";
import { figure, places } from "./question_figure.js";
import { moved, placeAt, unbroken } from "./question_order.js";

const fresh = () => `gal-q-${Math.random().toString(36).slice(2)}`;

const tables = (question) => (question.tables ?? []).map((one) =>
  make("div", { class: "q-readings", role: "group", "aria-label": one.caption },
    make("p", { class: "quiet" }, one.caption),
    make("dl", {}, ...one.columns.map((place, at) => make("div", {}, make("dt", {}, place), make("dd", {}, one.rows[at]))))));

const listed = (question, type, legend, field) => {
  const name = fresh();
  const boxes = question.options.map((one) => [one.id, make("input", { type, name, value: one.id })]);
  const rows = question.options.map((one, at) => make("label", { class: "q-option" }, boxes[at][1], make("span", {}, unbroken(one.text))));
  const node = make("fieldset", { class: "q-options" }, make("legend", question.text?.trim().endsWith(`${legend}.`) ? { class: "unseen" } : {}, legend), ...rows);
  const chosen = () => boxes.filter(([, box]) => box.checked).map(([id]) => id);
  return {
    nodes: [...tables(question), node],
    get: () => ({ [field]: type === "radio" ? (chosen()[0] ?? null) : chosen() }),
    set: (answer) => boxes.forEach(([id, box]) => (box.checked = [answer[field]].flat().includes(id))),
  };
};

const typed = (question, label, before) => {
  const input = make("input", { type: "text", inputmode: "decimal", autocomplete: "off", maxlength: 24, class: "q-number" });
  const line = make("label", { class: "field" }, make("span", {}, label), input, make("span", { class: "unit" }, question.unit));
  return {
    nodes: [...before, line],
    get: () => ({ value: input.value.trim() }),
    set: (answer) => (input.value = answer.value ?? ""),
  };
};

const ordered = (question, announce) => {
  let order = question.steps.map((one) => one.id);
  const words = new Map(question.steps.map((one) => [one.id, one.text]));
  const list = make("ol", { class: "q-steps" });
  const rows = new Map();

  // The row that is moved stays in the page and the others go round it: it keeps focus and finger.
  const show = (still = order[0]) => {
    const own = order.indexOf(still);
    if (rows.get(still).row.parentNode !== list) list.append(rows.get(still).row);
    order.slice(0, own).forEach((id) => list.insertBefore(rows.get(id).row, rows.get(still).row));
    order.slice(own + 1).forEach((id) => list.append(rows.get(id).row));
    order.forEach((id, at) => {
      const { up, down, place } = rows.get(id);
      up.setAttribute("aria-disabled", String(at === 0));
      down.setAttribute("aria-disabled", String(at === order.length - 1));
      place.textContent = String(at + 1);
    });
  };
  const put = (id, to, keep) => {
    const next = moved(order, order.indexOf(id), to);
    if (next === order) return;
    order = next;
    show(id);
    keep?.focus();
    announce(`${words.get(id)}: now step ${to + 1} of ${order.length}`);
  };
  const by = (id, step, keep) => put(id, order.indexOf(id) + step, keep);

  const drag = (id, grip) => {
    grip.addEventListener("pointerdown", (event) => {
      // A finger on the words scrolls the page; on the number it takes the step along.
      if (event.pointerType === "touch" && !event.target.classList.contains("q-place-number")) return;
      grip.setPointerCapture(event.pointerId);
      rows.get(id).row.classList.add("moving");
      const follow = (seen) => {
        const middles = order.map((own) => { const box = rows.get(own).row.getBoundingClientRect(); return (box.top + box.bottom) / 2; });
        const own = order.indexOf(id);
        // Its own middle lies under the finger: the rows before and after decide.
        const to = placeAt(middles.map((middle, at) => (at === own ? middle : at < own ? middle - 8 : middle + 8)), seen.clientY);
        if (Math.abs(seen.clientY - middles[own]) > 24 && to !== own) put(id, to);
      };
      const end = () => {
        rows.get(id).row.classList.remove("moving");
        grip.removeEventListener("pointermove", follow);
      };
      grip.addEventListener("pointermove", follow);
      grip.addEventListener("lostpointercapture", end, { once: true });
    });
  };

  for (const { id, text } of question.steps) {
    const up = make("button", { type: "button", "aria-label": `Move up: ${text}` }, "↑");
    const down = make("button", { type: "button", "aria-label": `Move down: ${text}` }, "↓");
    const place = make("span", { class: "q-place-number", "aria-hidden": "true" });
    const grip = make("span", { class: "q-step" }, place, make("span", {}, unbroken(text)));
    up.addEventListener("click", () => by(id, -1, up));
    down.addEventListener("click", () => by(id, 1, down));
    const row = make("li", {
      keydown: (event) => {
        const step = { ArrowUp: -1, ArrowDown: 1 }[event.key];
        if (!step) return;
        event.preventDefault();
        by(id, step, event.target);
      },
    }, grip, up, down);
    rows.set(id, { row, up, down, place });
    drag(id, grip);
  }
  show();
  return {
    nodes: [make("p", { class: "quiet" }, "Move the steps with the arrow buttons or keys, or drag them by their number."), list],
    get: () => ({ order }),
    set: (answer) => { if (answer.order?.length === order.length) { order = answer.order; show(); } },
  };
};

const marked = (question) => {
  const on = places(question.figure, () => {});
  return { nodes: [...tables(question), ...on.nodes], get: () => ({ place: on.get() }), set: (answer) => on.set(answer.place ?? null) };
};

const KINDS = {
  single: (question) => listed(question, "radio", "Choose one", "choice"),
  decide: (question) => listed(question, "radio", "What does it need?", "choice"),
  multiple: (question) => listed(question, "checkbox", "Choose all that are right", "choices"),
  numeric: (question) => typed(question, "Your answer", []),
  scale: (question) => typed(question, "You read", [figure(question.figure)[0], question.figure.wide ? make("p", { class: "quiet" }, "If the drawing is cut off, slide it sideways.") : null].filter(Boolean)),
  order: ordered,
  mark: marked,
};

/** Return what to answer a question with; `announce` says a sentence to who cannot see. */
export function answering(question, announce) {
  const kind = KINDS[question.kind](question, announce);
  if (!question.confidence.length) return kind;
  const sure = choices("How sure are you?", question.confidence, () => {}, { class: "q-keys" });
  return {
    nodes: [...kind.nodes, sure.node],
    get: () => ({ ...kind.get(), confidence: sure.get() }),
    set: (answer) => { kind.set(answer); sure.set(answer.confidence ?? null); },
  };
}
