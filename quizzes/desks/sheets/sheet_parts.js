// What all sheets share: elements made from text, and a file saved that came over the kernel's line.
// Makes no markup from text; fetches nothing; the file goes to the reader's own downloads.

const AS_PROPERTY = new Set(["value", "checked", "disabled", "hidden", "selected"]);

/** Return an element: attributes, listeners (functions), children; whatever is missing is left out. */
export const make = (tag, given = {}, ...children) => {
  const node = document.createElement(tag);
  for (const [name, value] of Object.entries(given)) {
    if (value === undefined || value === null || value === false) continue;
    if (typeof value === "function") node.addEventListener(name, value);
    else if (AS_PROPERTY.has(name)) node[name] = value;
    else node.setAttribute(name, String(value));
  }
  node.append(...children.filter((child) => child !== null && child !== undefined && child !== ""));
  return node;
};

/** Return a box for a danger or a quiet notice. */
export const box = (lead, words, danger) =>
  make("p", { class: danger ? "gal-danger" : "sheet-notice", role: "note" }, make("b", {}, lead), ` ${words}`);

/** Return a table from heads and rows of texts; on a narrow page each row is a card of its own. */
export const table = (caption, heads, rows) =>
  make("table", { class: "sheet-table" },
    make("caption", {}, caption),
    make("thead", {}, make("tr", {}, ...heads.map((head) => make("th", { scope: "col" }, head)))),
    make("tbody", {}, ...rows.map((row) => make("tr", {},
      ...row.map((cell, at) => make(at ? "td" : "th", { scope: at ? null : "row", "data-label": heads[at] }, cell))))));

/** Return whether the reader has the header's switch on inches. */
export const wantsInches = () => {
  try {
    return localStorage.getItem("gal-units") === "mm-in";
  } catch {
    return false;
  }
};

/** Return two keys that ask for a sheet on paper, what is said about it, and what takes the file in. */
export const paperKeys = (legend, ask) => {
  const said = make("p", { class: "sheet-said", role: "status" });
  let address = "";
  const keys = ["A4", "Letter"].map((paper) => make("button", { type: "button", click: () => {
    said.textContent = `Making the ${paper} sheet…`;
    ask(paper);
  } }, `PDF, ${paper}`));
  const node = make("div", { class: "sheet-paper", role: "group", "aria-label": legend }, make("div", { class: "row" }, ...keys), said);
  const take = (file, bytes) => {
    if (address) URL.revokeObjectURL(address);
    address = URL.createObjectURL(new Blob([bytes], { type: file.kind }));
    const way = make("a", { href: address, download: file.name, class: "sheet-file" }, file.name);
    said.replaceChildren("Saved with your downloads as ", way, ". Press the name to save it again.");
    way.click();
  };
  const trouble = (words) => { said.textContent = words; };
  const end = () => { if (address) URL.revokeObjectURL(address); };
  return { node, take, trouble, end };
};
