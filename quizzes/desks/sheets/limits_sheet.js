// The limits sheet: where it is from, its table with estimates marked, cautions, and keys for paper.
// Asks the kernel for the sheet and for a PDF; changes nothing.
import { box, make, paperKeys, wantsInches } from "./sheet_parts.js";

const value = (cell) => {
  const parts = [make("span", { "data-unit": cell.mm ? "mm" : "none" }, cell.text)];
  if (cell.estimated) parts.push(make("small", { class: "est" }, " est."));
  return make("span", { class: "value" }, ...parts);
};

const drawn = (sheet) => {
  const groups = [];
  for (const column of sheet.columns) {
    const last = groups.at(-1);
    if (last?.group === column.group) last.count += 1;
    else groups.push({ group: column.group, count: 1 });
  }
  const named = (column) => (column.unit ? `${column.head}, ${column.unit}` : column.head);
  const head = make("thead", {},
    make("tr", {}, make("th", { scope: "col", rowspan: 2 }, "Size"),
      ...groups.map(({ group, count }) => make("th", { scope: "colgroup", colspan: count }, group))),
    make("tr", {}, ...sheet.columns.map((column) => make("th", { scope: "col" }, named(column)))));
  const rows = sheet.rows.map(([name, ...cells]) => make("tr", {}, make("th", { scope: "row" }, name.text),
    ...cells.map((cell, at) => make("td", { "data-label": `${sheet.columns[at].group} ${named(sheet.columns[at])}` }, value(cell)))));
  return make("table", { class: "sheet-table" }, make("caption", {}, sheet.title), head, make("tbody", {}, ...rows));
};

/** @param {{ model: import("@anywidget/types").AnyModel, el: HTMLElement }} context */
function render({ model, el }) {
  el.classList.add("gal", "gal-limits-sheet");
  el.append(make("p", { class: "quiet", role: "status" }, "Fetching the sheet…"));
  const paper = paperKeys("The sheet on paper", (wanted) => model.send({ print: wanted, inches: wantsInches() }));
  const hear = (message, buffers) => {
    if (message.sheet) {
      const { sheet } = message;
      el.replaceChildren(
        make("p", {}, sheet.origin),
        sheet.invented ? box("Invented.", sheet.invented, true) : "",
        make("section", { "aria-label": "On paper" }, make("h2", {}, "For the wall"), make("p", { class: "quiet" }, sheet.paper), paper.node),
        make("div", { class: "wide", role: "region", tabindex: "0", "aria-label": "The limits, a wide table" }, drawn(sheet)),
        sheet.estimated ? box("est.", sheet.estimated, false) : "",
        ...sheet.asked.map((words) => box("Ask.", words, false)),
        box("Danger.", sheet.cautions[0], true),
        box("What comes first.", sheet.cautions[1], false));
    }
    if (message.file) paper.take(message.file, buffers[0]);
    if (message.trouble) paper.trouble(message.trouble);
  };
  model.on("msg:custom", hear);
  model.send({ ask: "sheet" });
  return () => { paper.end(); model.off("msg:custom", hear); };
}

export default { render };
