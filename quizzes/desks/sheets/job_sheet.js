// The job sheet: draws the form that the kernel describes, sends what was typed, draws what it comes to.
// Keeps what was typed in this tab, so that nothing is lost; computes nothing; makes no markup from text.
import { box, make, paperKeys, table } from "./sheet_parts.js";

const DRAFT = "gal-job-sheet";

const kept = () => {
  try {
    const draft = JSON.parse(sessionStorage.getItem(DRAFT) ?? "{}");
    return { fields: draft?.fields ?? {}, rows: draft?.rows ?? {} };
  } catch {
    return { fields: {}, rows: {} }; // storage is closed, or holds something else
  }
};

const keep = (typed) => {
  try {
    if (typed) sessionStorage.setItem(DRAFT, JSON.stringify(typed));
    else sessionStorage.removeItem(DRAFT);
  } catch {
    // the page works without
  }
};

const control = (one, value, given) => {
  const common = { ...given, autocomplete: "off", "data-units": "off" };
  if (one.kind === "choice") {
    return make("select", common, ...one.options.map(([name, words]) => make("option", { value: name, selected: name === value }, words)));
  }
  if (one.kind === "long") return make("textarea", { ...common, rows: 3, maxlength: one.most, value });
  if (one.kind === "date") return make("input", { ...common, type: "date", value });
  // Not a number field: a browser would throw away what it cannot read.
  return make("input", { ...common, type: "text", inputmode: one.kind === "number" ? "decimal" : null, maxlength: one.most ?? 40, value });
};

let counter = 0;
const nextId = () => `gal-j-${Math.random().toString(36).slice(2)}-${(counter += 1)}`;

const drawField = (field, draft, inputs) => {
  const id = nextId();
  const input = control(field, draft.fields[field.name] ?? field.value ?? field.options?.[0][0] ?? "", { id });
  inputs.set(field.name, input);
  return make("div", { class: `form-field ${field.kind}` }, make("label", { for: id }, field.label), input,
    field.help ? make("p", { class: "quiet" }, field.help) : null);
};

const drawRows = (group, draft, inputs, changed) => {
  const list = make("div", { class: `entries columns-${group.columns.length}`, role: "group", "aria-label": group.row });
  const lines = [];
  const add = (values) => {
    const at = lines.length;
    const line = group.columns.map((column, index) => {
      const input = control(column, values[index] ?? "", { "aria-label": `${group.row} ${at + 1}, ${column.label}` });
      inputs.set(`${group.name}.${at}.${index}`, input);
      return input;
    });
    lines.push(line);
    const labels = line.map((input, index) => make("div", { class: "cell" }, make("span", { class: "cell-label", "aria-hidden": "true" }, group.columns[index].label), input));
    list.append(make("div", { class: "entry" }, make("b", { "aria-hidden": "true" }, String(at + 1)), ...labels));
    more.disabled = lines.length >= group.most;
    return line;
  };
  const empty = () => group.columns.map((column) => column.options?.[0][0] ?? "");
  const more = make("button", { type: "button", click: () => { add(empty())[0].focus(); changed(); } }, "One more row");
  const start = Array.isArray(draft.rows[group.name]) ? draft.rows[group.name] : group.start;
  start.slice(0, group.most).forEach(add);
  return { node: make("div", { class: "rows" }, list, more), values: () => lines.map((line) => line.map((input) => input.value)) };
};

const drawSection = (section, draft, inputs, changed) => {
  const rows = section.rows ? drawRows(section.rows, draft, inputs, changed) : null;
  const inside = [
    section.words ? make("p", { class: "quiet" }, section.words) : null,
    section.fields ? make("div", { class: "fields" }, ...section.fields.map((field) => drawField(field, draft, inputs))) : null,
    rows?.node,
  ];
  const filled = (field) => field.kind !== "choice" && draft.fields[field.name];
  const used = (rows && draft.rows[section.rows.name]?.some((row) => row.slice(1, 3).some(Boolean))) || (!rows && section.fields?.some(filled));
  const node = section.folded
    ? make("details", { class: "sheet-section", open: used ? "" : null }, make("summary", {}, make("h2", {}, section.title)), ...inside)
    : make("section", { class: "sheet-section", "aria-label": section.title }, make("h2", {}, section.title), ...inside);
  return { node, rows };
};

const drawBlock = (block) => make("section", { "aria-label": block.title }, make("h3", {}, block.title),
  ...block.lines.map((line) => make("p", {}, line)),
  block.rows.length ? make("div", { class: "wide", role: "region", tabindex: "0", "aria-label": `${block.title}, table` }, table("", block.heads, block.rows)) : null);

const drawFound = (found, paper, stale) => make("section", { class: "found", "aria-label": "What the readings say" },
  stale,
  make("h2", { class: `verdict ${found.outcome}`, tabindex: "-1" }, found.verdict.title),
  found.invented ? box("Invented.", found.invented, true) : null,
  ...found.verdict.lines.map((line) => make("p", {}, line)),
  box("A calculation.", found.calculation, false),
  make("div", { class: "two" },
    make("figure", {}, make("img", { src: found.figure.url, alt: found.figure.alt }), make("figcaption", {}, found.figure.alt)),
    make("div", {}, ...found.blocks.slice(0, 2).map(drawBlock))),
  ...found.blocks.slice(2).map(drawBlock),
  make("section", { "aria-label": "The record" }, make("h3", {}, "The record"),
    make("p", { class: "quiet" }, "With everything that was typed, for the file of this hoist."), paper.node));

/** @param {{ model: import("@anywidget/types").AnyModel, el: HTMLElement }} context */
function render({ model, el }) {
  el.classList.add("gal", "gal-job-sheet");
  el.append(make("p", { class: "quiet", role: "status" }, "Fetching the sheet…"));
  const result = make("div", { class: "result" });
  const troubles = make("div", { class: "troubles", role: "alert", tabindex: "-1" });
  let inputs = new Map();
  let groups = new Map();
  let form = null;
  const stale = make("p", { class: "sheet-notice", hidden: true }, "Something was changed above since. Work it out again.");

  const typed = () => ({
    fields: Object.fromEntries([...inputs].filter(([name]) => !name.includes(".")).map(([name, input]) => [name, input.value])),
    rows: Object.fromEntries([...groups].map(([name, rows]) => [name, rows.values()])),
  });
  const changed = () => { keep(typed()); stale.hidden = false; };
  const paper = paperKeys("The record on paper", (wanted) => { forgive(); model.send({ print: wanted, ...typed() }); });

  const forgive = () => {
    troubles.replaceChildren();
    for (const input of inputs.values()) {
      input.removeAttribute("aria-invalid");
      input.removeAttribute("aria-describedby");
    }
    el.querySelectorAll(".field-trouble").forEach((node) => node.remove());
  };
  const lead = (input) => {
    input.closest("details")?.setAttribute("open", "");
    input.focus();
  };
  const complain = (list) => {
    forgive();
    const lines = list.map(({ field, words }) => {
      const input = inputs.get(field);
      if (!input) return make("li", {}, words);
      const id = nextId();
      input.setAttribute("aria-invalid", "true");
      input.setAttribute("aria-describedby", id);
      const place = input.closest(".entry") ?? input.closest(".form-field");
      place.append(make("p", { class: "field-trouble", id }, words));
      return make("li", {}, make("button", { type: "button", class: "plain", click: () => lead(input) }, words));
    });
    troubles.append(make("h3", {}, list.length === 1 ? "One thing needs to be put right" : `${list.length} things need to be put right`), make("ul", {}, ...lines));
    paper.trouble("");
    troubles.focus();
    troubles.scrollIntoView({ block: "nearest" });
  };
  const judge = () => { forgive(); model.send({ judge: true, ...typed() }); };

  const drawForm = () => {
    inputs = new Map();
    groups = new Map();
    const draft = kept();
    const sections = form.sections.map((section) => {
      const { node, rows } = drawSection(section, draft, inputs, changed);
      if (rows) groups.set(section.rows.name, rows);
      return node;
    });
    let sure = false;
    const clear = make("button", { type: "button", click: () => {
      if (!sure) { sure = true; clear.textContent = "Really clear everything?"; return; }
      keep(null);
      result.replaceChildren();
      drawForm();
      inputs.get("size")?.focus();
    }, blur: () => { sure = false; clear.textContent = "Clear the form"; } }, "Clear the form");
    const body = make("form", { novalidate: "", input: changed, submit: (event) => { event.preventDefault(); judge(); } },
      box("Danger.", form.cautions[0], true), box("What comes first.", form.cautions[1], false), make("p", { class: "quiet" }, form.not_kept),
      ...sections, troubles, make("div", { class: "row" }, make("button", { type: "submit", class: "main" }, "Work it out"), clear));
    troubles.replaceChildren();
    el.replaceChildren(body, result);
  };
  const hear = (message, buffers) => {
    if (message.form) { form = message.form; drawForm(); }
    if (message.troubles) complain(message.troubles);
    if (message.reply) complain([{ field: "", words: message.reply.words }]);
    if (message.found) {
      stale.hidden = true;
      result.replaceChildren(drawFound(message.found, paper, stale));
      result.querySelector("h2").focus({ preventScroll: true });
      result.scrollIntoView({ block: "start" });
    }
    if (message.file) paper.take(message.file, buffers[0]);
    if (message.trouble) paper.trouble(message.trouble);
  };
  model.on("msg:custom", hear);
  model.send({ ask: "form" });
  return () => { paper.end(); model.off("msg:custom", hear); };
}

export default { render };
