// The forms desk: forms offered, one to write row by row, what was found of it, and cut scores.
// Sends what was typed; decides nothing about it. Makes no markup from text.
import { make, table } from "../sheets/sheet_parts.js";

const LATE = 20000; // ms; twenty forms are drawn in a few seconds

const labelled = (words, control, help) =>
  make("label", { class: "fd-field" }, make("span", {}, words), control, help ? make("small", { class: "quiet" }, help) : null);
const input = (value, given = {}) => make("input", { type: "text", autocomplete: "off", maxlength: 80, value, ...given });
const number = (value) => input(value, { inputmode: "numeric", maxlength: 6, class: "short" });
const select = (options, value, change) =>
  make("select", { change }, ...options.map(([key, words]) => make("option", { value: key, selected: key === value }, words)));

/** Return boxes to tick, folded away under a line that says what is ticked; `get` joins them with semicolons, for names hold commas. */
const ticks = (legend, none, options, chosen) => {
  const wanted = new Set(chosen.split(";").map((one) => one.trim()).filter(Boolean));
  const said = make("summary", {});
  const tell = () => { said.textContent = `${legend}: ${wanted.size ? [...wanted].join("; ") : none}`; };
  const row = make("div", { class: "fd-ticks" });
  const set = (list) => {
    const known = new Set(list.map(([key]) => key));
    for (const one of wanted) if (!known.has(one)) wanted.delete(one);
    row.replaceChildren(...list.map(([key, words]) => make("label", { class: "fd-tick" },
      make("input", { type: "checkbox", checked: wanted.has(key), change: (event) => { wanted[event.target.checked ? "add" : "delete"](key); tell(); } }),
      make("span", {}, words))));
    tell();
  };
  set(options);
  return { node: make("details", {}, said, row), set, get: () => [...wanted].join("; ") };
};

const named = (list) => list.map((name) => [name, name]);

const caseRow = (desk, [depth, count, group, families, more = {}]) => {
  const many = number(count);
  const own = ticks("Families", "all of the group", named(desk.families[depth] ?? []), families);
  const deep = select(named(desk.depths), depth, () => own.set(named(desk.families[deep.value])));
  const from = select([["", "the families ticked below"], ...named(desk.groups), ["any", "any"]], group);
  return {
    nodes: [make("div", { class: "row" }, labelled("How many", many), labelled("Depth", deep), labelled("Group", from)), own.node,
      Object.keys(more).length ? make("p", { class: "quiet" }, `As in the form that it began from: ${Object.keys(more).join(", ")}.`) : null],
    get: () => [deep.value, many.value, from.value, own.get(), more],
  };
};

const questionRow = (desk, [elements, count, low, high, always = ""]) => {
  const [many, least, most] = [number(count), number(low), number(high)];
  const own = ticks("Elements", "none yet", desk.elements.map(([id, words]) => [id, `${id} ${words}`]), elements);
  const named = input(always, { maxlength: 2000, spellcheck: "false" });
  return {
    nodes: [make("div", { class: "row" }, labelled("How many", many), labelled("Difficulty from", least), labelled("to", most)), own.node,
      labelled("Always ask these, by id", named, "ids with semicolons between them; the rest of the row is drawn")],
    get: () => [own.get(), many.value, least.value, most.value, named.value],
  };
};

/** Return rows that can be added and taken away; each is numbered as the kernel's sentences number it. */
const rowsOf = (title, help, kind, blank, start, most) => {
  const list = make("div", { class: "fd-rows" });
  let rows = [];
  const draw = (focus) => {
    list.replaceChildren(...rows.map((row, at) => make("fieldset", { class: "fd-row" },
      make("legend", { tabindex: "-1" }, `${title}, row ${at + 1}`), ...row.nodes,
      make("button", { type: "button", "aria-label": `Take away ${title.toLowerCase()}, row ${at + 1}`, click: () => { rows = rows.filter((one) => one !== row); draw(Math.max(0, at - 1)); } }, "Take this row away"))));
    add.disabled = rows.length >= most;
    if (focus !== undefined) (list.querySelectorAll("legend")[focus] ?? add).focus();
  };
  const add = make("button", { type: "button", click: () => { rows.push(kind(blank)); draw(rows.length - 1); } }, `Add a row of ${title.toLowerCase()}`);
  rows = start.map(kind);
  draw();
  return { node: make("section", { class: "fd-part" }, make("h3", {}, title), make("p", { class: "quiet" }, help), list, add), get: () => rows.map((row) => row.get()) };
};

/** Return the form to be written, filled with a draft. */
const editor = (desk, draft) => {
  const fields = {
    title: input(draft.title), id: input(draft.id, { maxlength: 40, spellcheck: "false" }), edition: number(draft.edition),
    minutes: number(draft.minutes), break_minutes: number(draft.break_minutes), avoid_last: number(draft.avoid_last),
    ends: select(desk.endings, draft.ends),
  };
  const sizes = ticks("Sizes", "all of the sheet", named(desk.sizes), draft.sizes);
  const elements = ticks("Elements that it must show", "none in particular", desk.elements.map(([id, words]) => [id, `${id} ${words}`]), draft.elements);
  const cases = rowsOf("Cases", "A row: so many cases of one depth, from a group of families or from those you tick.", (row) => caseRow(desk, row), ["reading", "1", "normal gap", ""], draft.cases, 40);
  const questions = rowsOf("Questions", "A row: so many questions on these elements in turn. Difficulty is the share of just competent people who get it right, 0 to 1.", (row) => questionRow(desk, row), ["K3", "1", "0.3", "0.9"], draft.questions, 40);
  const node = make("div", { class: "fd-editor" },
    make("div", { class: "fd-fields" },
      labelled("Title", fields.title), labelled("Name of the file", fields.id, "small letters, digits, _"), labelled("Edition", fields.edition, "raise it with every change"),
      labelled("Minutes allowed", fields.minutes), labelled("Break in it, minutes", fields.break_minutes), labelled("Sittings without the same case", fields.avoid_last)),
    labelled("How it ends", fields.ends, "“competent” needs every critical element, enough cases and enough of them by hand"),
    sizes.node, elements.node, cases.node, questions.node);
  const get = () => ({ ...Object.fromEntries(Object.entries(fields).map(([name, field]) => [name, field.value])),
    sizes: sizes.get(), elements: elements.get(), cases: cases.get(), questions: questions.get() });
  return { node, get };
};

const copied = (text) => {
  const area = make("textarea", { readonly: "", rows: 14, value: text, "aria-label": "The form as a TOML file" });
  const said = make("span", { role: "status" });
  const copy = async () => {
    area.select();
    try {
      await navigator.clipboard.writeText(text);
      said.textContent = "Copied.";
    } catch {
      said.textContent = "Marked: copy it with the keys of your machine.";
    }
  };
  return make("details", {}, make("summary", {}, "The file, to copy"), area, make("div", { class: "row" }, make("button", { type: "button", click: copy }, "Copy"), said));
};

/** @param {{ model: import("@anywidget/types").AnyModel, el: HTMLElement }} context */
function render({ model, el }) {
  el.classList.add("gal", "gal-form-desk");
  el.append(make("p", { class: "quiet", role: "status" }, "Asking for the forms…"));
  let desk = null;
  let written = null;
  let late = 0;
  const offered = make("section", { class: "fd-sheet", "aria-label": "Forms offered" });
  const writing = make("section", { class: "fd-sheet", "aria-label": "Write a form" });
  const found = make("div", { class: "fd-found", role: "status", tabindex: "-1" });
  const cutFound = make("div", { class: "fd-found", role: "status", tabindex: "-1" });
  const place = (wish) => (wish === "cut" ? cutFound : found);

  const busy = (on, wish) => {
    clearTimeout(late);
    el.querySelectorAll("button").forEach((button) => { if (button.dataset.wish) button.disabled = on; });
    if (!on) return;
    place(wish).replaceChildren(make("p", { class: "quiet" }, wish === "preview" ? "Drawing twenty forms…" : "Asking…"));
    late = setTimeout(() => { busy(false); place(wish).replaceChildren(make("p", {}, "No answer came. Press again; if that does not help, load the page again.")); }, LATE);
  };
  const ask = (wish, what) => { busy(true, wish); model.send({ [wish]: what }); };
  const key = (wish, words, what, main) => make("button", { type: "button", class: main ? "main" : null, "data-wish": wish, click: () => ask(wish, what()) }, words);

  const drawOffered = () => {
    const heads = ["Form", "Holds", "Time", "Edition", "From"];
    const rows = desk.offered.map((row) => [...row.cells,
      row.start ? make("button", { type: "button", "data-wish": "open", "aria-label": `Start from ${row.cells[0]}`, click: () => ask("open", row.id) }, "Start from") : "–"]);
    offered.replaceChildren(make("h2", {}, "Forms offered"), table(`${desk.offered.length} forms can be sat`, [...heads, "Write on"], rows),
      make("p", { class: "quiet" }, `Your own forms are kept in ${desk.folder}`),
      make("p", { class: "quiet" }, desk.questions.said),
      ...desk.questions.bad.map((words) => make("p", { class: "sheet-notice" }, make("b", {}, "Not asked. "), words)),
      ...desk.bad.map((words) => make("p", { class: "sheet-notice" }, make("b", {}, "Not offered. "), words)));
  };
  const drawEditor = (draft) => {
    written = editor(desk, draft);
    writing.replaceChildren(make("h2", { tabindex: "-1" }, "Write a form"), written.node,
      make("div", { class: "row fd-keys" }, key("check", "Check it", written.get, true), key("preview", "Preview 20 forms", written.get), key("keep", "Keep it", written.get)), found);
  };
  const csv = make("textarea", { rows: 6, maxlength: 18000, spellcheck: "false" });
  const cut = make("section", { class: "fd-sheet", "aria-label": "Cut score" }, make("h2", {}, "Where to cut"),
    make("p", {}, "Each judge thinks of somebody who only just deserves to pass, and states for each item the chance, 0 to 1, that this person gets it right."),
    labelled("The judges’ table, as CSV: judge, then the items; a line for each judge", csv, "Example: judge,q1,q2 and below it: A,0.9,0.7"),
    make("div", { class: "row" }, key("cut", "Work out the cut", () => csv.value)), cutFound);

  const tellFound = (message) => {
    const parts = [];
    if (message.troubles) parts.push(make("div", { class: "fd-troubles" }, make("b", {}, "That cannot be yet."), make("ul", {}, ...message.troubles.map((words) => make("li", {}, words)))));
    if (message.said) parts.push(make("p", { class: "fd-said" }, message.said));
    if (message.preview) {
      const { spread, families, elements } = message.preview;
      parts.push(table("Time and weight", spread.heads, spread.rows));
      parts.push(make("details", {}, make("summary", {}, `Families, ${families.rows.length}`), table("Families that come up", families.heads, families.rows)));
      parts.push(make("details", {}, make("summary", {}, `Elements, ${elements.rows.length}`), table("Elements covered", elements.heads, elements.rows)));
    }
    if (message.cut) parts.push(table("The judges’ cut", message.cut.heads, message.cut.rows));
    if (message.toml) parts.push(copied(message.toml));
    place(message.done).replaceChildren(...parts);
    if (parts.length) place(message.done).focus({ preventScroll: false });
  };
  const hear = (message) => {
    busy(false);
    const fresh = !desk;
    if (message.desk) {
      desk = message.desk;
      drawOffered();
    }
    if (fresh && desk) el.replaceChildren(offered, writing, cut);
    if (message.draft) {
      drawEditor(message.draft);
      if (!fresh) writing.querySelector("h2").focus();
    }
    if (message.done) tellFound(message);
    if (message.reply) tellFound({ done: "check", troubles: [message.reply.words] });
  };
  model.on("msg:custom", hear);
  model.send({ ask: "desk" });
  return () => { clearTimeout(late); model.off("msg:custom", hear); };
}

export default { render };
