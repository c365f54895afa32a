// The switch in the header: "mm" or "mm + in", for every page, remembered by this browser.
// Writes inches behind millimetres into text that is shown, and takes them away again. Leaves fields,
// formulas, drawings and code alone; changes nothing that is recorded; sends nothing.
import { cellWithInches, isHeadOfMillimetres, withInches } from "./units.js";

const KEY = "gal-units";
const WITH_INCHES = "mm-in";
const LEFT_ALONE = "script, style, noscript, template, svg, math, mjx-container, code, kbd, "
  + "input, textarea, select, option, [contenteditable='true'], [data-units='off'], .suite-head";

const written = new WeakMap(); // text node or image -> what stood there, and what was put there
let on = false;

const chosen = () => {
  try {
    return localStorage.getItem(KEY) === WITH_INCHES;
  } catch {
    return false; // storage is closed: this page alone follows the switch
  }
};

const remember = (inches) => {
  try {
    localStorage.setItem(KEY, inches ? WITH_INCHES : "mm");
  } catch {
    // as above
  }
};

/** Return whether a cell belongs to a column or a row whose head says "mm". */
const isInMillimetres = (cell) => {
  const said = cell.closest("[data-unit]")?.dataset.unit;
  if (said !== undefined) return said === "mm";
  const row = cell.parentElement;
  const table = cell.closest("table");
  if (!table || row?.tagName !== "TR") return false;
  const head = table.tHead?.rows[table.tHead.rows.length - 1];
  const plain = (one) => [...one.cells].every((part) => part.colSpan === 1);
  if (head && plain(row) && plain(head) && isHeadOfMillimetres(original(head.cells[cell.cellIndex]))) return true;
  const first = row.cells[0];
  return first !== cell && first?.tagName === "TH" && isHeadOfMillimetres(original(first));
};

/** Return the text of an element as it stood before the switch. */
const original = (node) => {
  if (!node) return "";
  const walker = document.createTreeWalker(node, NodeFilter.SHOW_TEXT);
  let text = "";
  while (walker.nextNode()) {
    const kept = written.get(walker.currentNode);
    text += kept && kept.now === walker.currentNode.data ? kept.before : walker.currentNode.data;
  }
  return text;
};

const turned = (node, text) => {
  const cell = node.parentElement?.closest("td, [data-unit]");
  const alone = cell && cell.textContent.trim() === text.trim();
  return alone && isInMillimetres(cell) ? cellWithInches(text) : withInches(text);
};

const put = (node, before, now, write) => {
  if (now === before) return;
  written.set(node, { before, now });
  write(now);
};

const writeText = (node) => {
  const text = node.data;
  if (written.get(node)?.now === text || !/\d/.test(text)) return;
  if (node.parentElement?.closest(LEFT_ALONE)) return;
  put(node, text, turned(node, text), (now) => { node.data = now; });
};

const writeAlt = (image) => {
  const text = image.alt;
  if (written.get(image)?.now === text) return;
  put(image, text, withInches(text), (now) => { image.alt = now; });
};

const takeBack = (node, name) => {
  const kept = written.get(node);
  if (!kept) return;
  if (node[name] === kept.now) node[name] = kept.before;
  written.delete(node);
};

const walk = (root, text, image) => {
  if (root.nodeType === Node.TEXT_NODE) { text(root); return; }
  if (root.nodeType !== Node.ELEMENT_NODE) return;
  const found = [];
  const walker = document.createTreeWalker(root, NodeFilter.SHOW_TEXT);
  while (walker.nextNode()) found.push(walker.currentNode);
  found.forEach(text);
  if (root.tagName === "IMG") image(root);
  root.querySelectorAll("img[alt]").forEach(image);
};

const watching = new MutationObserver((changes) => {
  for (const change of changes) {
    if (change.type === "childList") change.addedNodes.forEach((node) => walk(node, writeText, writeAlt));
    else if (change.type === "characterData") writeText(change.target);
    else if (change.target.tagName === "IMG") writeAlt(change.target);
  }
});

const turn = (inches) => {
  if (inches === on) return;
  on = inches;
  document.documentElement.classList.toggle("suite-inches", on);
  if (on) {
    walk(document.body, writeText, writeAlt);
    watching.observe(document.body, { childList: true, characterData: true, attributes: true, attributeFilter: ["alt"], subtree: true });
  } else {
    watching.disconnect();
    walk(document.body, (node) => takeBack(node, "data"), (image) => takeBack(image, "alt"));
  }
};

const keys = document.getElementById("suite-units");
const show = (inches) => {
  for (const key of keys?.querySelectorAll("input") ?? []) key.checked = (key.value === WITH_INCHES) === inches;
  turn(inches);
};
if (keys) {
  keys.hidden = false;
  keys.addEventListener("change", (event) => {
    const inches = event.target.value === WITH_INCHES;
    remember(inches);
    show(inches);
  });
}
window.addEventListener("storage", (event) => { if (event.key === KEY || event.key === null) show(chosen()); });
show(chosen());
