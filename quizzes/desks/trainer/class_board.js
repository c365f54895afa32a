// The live board: asks the kernel again and again, and draws what it answers as a table.

const EVERY_MS = 3000;
const make = (tag, given = {}, ...children) => {
  const node = document.createElement(tag);
  for (const [name, value] of Object.entries(given)) {
    if (typeof value === "function") node.addEventListener(name, value);
    else if (value !== undefined && value !== null && value !== false) node.setAttribute(name, String(value));
  }
  node.append(...children.filter((child) => child !== null && child !== undefined));
  return node;
};

/** Return how far somebody is, as a drawing: one box a part, filled as it is handed over. */
const bar = (row) => {
  const space = "http://www.w3.org/2000/svg";
  const drawing = document.createElementNS(space, "svg");
  const wide = 120, one = wide / Math.max(row.of, 1);
  drawing.setAttribute("viewBox", `0 0 ${wide} 14`);
  drawing.setAttribute("role", "img");
  drawing.setAttribute("aria-label", row.of ? `${row.done} of ${row.of} handed over` : "not begun");
  for (let at = 0; at < row.of; at += 1) {
    const box = document.createElementNS(space, "rect");
    const gap = one > 6 ? 2 : 0.5;
    for (const [name, value] of Object.entries({ x: at * one + 0.5, y: 1, width: Math.max(one - gap, 0.8), height: 12 })) box.setAttribute(name, String(value));
    box.setAttribute("class", at < row.done ? "done" : "left");
    drawing.append(box);
  }
  return drawing;
};

/** Return how far somebody is with the pages of the class: one box a page, half filled once opened. */
const pageBar = (row, titles) => {
  const space = "http://www.w3.org/2000/svg";
  const drawing = document.createElementNS(space, "svg");
  const one = Math.min(16, 120 / row.pages.length);
  const done = row.pages.filter((state) => state === "done").length;
  drawing.setAttribute("viewBox", `0 0 ${one * row.pages.length} 14`);
  drawing.setAttribute("role", "img");
  drawing.setAttribute("aria-label", row.pages.map((state, at) => `${titles[at]}: ${state}`).join("; "));
  row.pages.forEach((state, at) => {
    const [x, width] = [at * one + 0.5, Math.max(one - 2, 0.8)];
    const draw = (kind, y, height) => {
      const box = document.createElementNS(space, "rect");
      for (const [name, value] of Object.entries({ x, y, width, height, class: kind })) box.setAttribute(name, String(value));
      drawing.append(box);
    };
    draw(state === "done" ? "done" : "left", 1, 12);
    if (state === "opened") draw("done", 7, 6);
  });
  return make("div", { class: "class-pages" }, drawing, make("span", {}, `${done} of ${row.pages.length} page${row.pages.length === 1 ? "" : "s"}`));
};

const minutes = (row) => {
  if (!row.of) return "";
  const over = row.allowed_minutes && row.minutes > row.allowed_minutes ? ", over" : "";
  return `${row.minutes} of ${row.allowed_minutes} min${over}`;
};

const signs = (row) => [row.hand ? "hand up" : "", row.stuck ? `${row.quiet_minutes} min with nothing done` : "", row.note].filter(Boolean).join("; ");

/** @param {{ model: import("@anywidget/types").AnyModel, el: HTMLElement }} context */
function render({ model, el }) {
  el.classList.add("gal", "gal-form", "class-board");
  let timer = 0;
  let last = "";
  // Asked again even if the answer never comes: a line that was cut may have swallowed it.
  const ask = () => {
    clearTimeout(timer);
    timer = setTimeout(ask, 5 * EVERY_MS);
    model.send({ ask: "board" });
  };
  const draw = ({ board }) => {
    const now = JSON.stringify(board);
    clearTimeout(timer);
    timer = setTimeout(ask, EVERY_MS);
    if (now === last) return;
    last = now;
    const columns = ["Name", "At", "How far", "Minutes", "Look"];
    const cell = (index, ...children) => make(index ? "td" : "th", { "data-label": columns[index], scope: index ? null : "row" }, ...children);
    const rows = board.rows.map((row) => make("tr", { class: row.hand ? "hand" : row.stuck ? "stuck" : "" },
      cell(0, make("span", {}, row.name, make("span", { class: "number" }, ` ${row.number}`))), cell(1, row.where), cell(2, !row.of && !board.pages?.length ? null : make("div", {}, row.of ? bar(row) : null, board.pages?.length ? pageBar(row, board.pages) : null)), cell(3, minutes(row) || null),
      cell(4, make("span", { class: "signs" }, signs(row)), make("button", { type: "button", "aria-label": `More on ${row.name}, ${row.number}`, click: () => model.send({ person: row.id }) }, "More"))));
    const focused = el.contains(document.activeElement) ? [...el.querySelectorAll("button")].indexOf(document.activeElement) : -1;
    el.replaceChildren(
      ...(board.alarm ? [make("p", { class: "form-danger", role: "alert" }, board.alarm)] : []),
      ...(board.slept ? [make("p", { class: "form-said", role: "status" }, board.slept)] : []),
      make("p", { class: "class-codes" }, make("span", {}, "Class code "), make("strong", {}, board.code), make("span", {}, ` · ${board.state} · ${board.counts}${board.time ? ` · minutes ${board.time}` : ""}`)),
      make("table", { class: "form-rows" }, make("caption", {}, board.caption), make("thead", {}, make("tr", {}, ...columns.map((words) => make("th", { scope: "col" }, words)))), make("tbody", {}, ...rows)));
    if (focused >= 0) el.querySelectorAll("button")[focused]?.focus({ preventScroll: true });
  };
  const hear = (message) => { if (message.board) draw(message); };
  model.on("msg:custom", hear);
  document.addEventListener("gal-line-again", ask);
  ask();
  return () => { clearTimeout(timer); document.removeEventListener("gal-line-again", ask); model.off("msg:custom", hear); };
}

export default { render };
