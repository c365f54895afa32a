// Makes elements. Text goes in as text, never as markup.

const SVG = "http://www.w3.org/2000/svg";
const AS_PROPERTY = new Set(["value", "checked", "disabled", "hidden"]);

const dress = (node, given, children) => {
  for (const [key, value] of Object.entries(given)) {
    if (value === undefined || value === null) continue;
    if (typeof value === "function") node.addEventListener(key, value);
    else if (AS_PROPERTY.has(key)) node[key] = value;
    else node.setAttribute(key, String(value));
  }
  node.append(...children.filter((child) => child !== null && child !== undefined && child !== ""));
  return node;
};

/** Return an HTML element: attributes, listeners (functions) and children. */
export const make = (tag, given = {}, ...children) =>
  dress(document.createElement(tag), given, children);

/** Return an SVG element: attributes, listeners (functions) and children. */
export const draw = (tag, given = {}, ...children) =>
  dress(document.createElementNS(SVG, tag), given, children);

/** Return a button that does one thing. */
export const button = (words, press, given = {}) =>
  make("button", { type: "button", click: press, ...given }, words);

/** Return a number field inside its label, and the field itself. */
export const numberField = (words, given, unit = "") => {
  const field = make("input", { type: "number", inputmode: "decimal", autocomplete: "off", ...given });
  const label = make("label", { class: "field" }, make("span", {}, words), field);
  if (unit) label.append(make("span", { class: "unit" }, unit));
  return [label, field];
};

/** Return a row of native radio buttons that look like keys, with the set and get of its choice. */
export const choices = (legend, options, chosen, given = {}) => {
  // Radio buttons belong together by a name; each part has its own copy of this module, so no counter will do.
  const name = `gal-${Math.random().toString(36).slice(2)}`;
  const boxes = new Map();
  const row = make("div", { class: given.rowClass ?? "keys" });
  for (const [value, words] of options) {
    const box = make("input", { type: "radio", name, value, change: () => chosen(value) });
    boxes.set(value, box);
    row.append(make("label", { class: "key" }, box, make("span", {}, words)));
  }
  const node = make("fieldset", { class: given.class ?? "choice" }, make("legend", {}, legend), row);
  const get = () => [...boxes].find(([, box]) => box.checked)?.[0] ?? null;
  const set = (value) => boxes.forEach((box, own) => (box.checked = own === value));
  return { node, get, set, boxes };
};

/** Let the arrow keys walk over the buttons of a group, beside the Tab key. */
export const walk = (group, selector = "button") => {
  const step = { ArrowRight: 1, ArrowDown: 1, ArrowLeft: -1, ArrowUp: -1 };
  group.addEventListener("keydown", (event) => {
    const from = event.target.closest(selector);
    if (!from || !(event.key in step)) return;
    const all = [...group.querySelectorAll(selector)].filter((node) => node.checkVisibility?.() ?? true);
    all[(all.indexOf(from) + step[event.key] + all.length) % all.length].focus();
    event.preventDefault();
  });
  return group;
};

/** Let a row of keys be one stop of the Tab key: the one that had the focus last. */
export const oneStop = (keys) => {
  const stopAt = (key) => keys.forEach((other) => other.setAttribute("tabindex", other === key ? "0" : "-1"));
  keys.forEach((key) => key.addEventListener("focus", () => stopAt(key)));
  stopAt(keys[0]);
};

/** Make a part of a drawing a button: pointer, Enter and the space bar press it. */
export const pressable = (node, press) => {
  node.setAttribute("role", "button");
  node.setAttribute("tabindex", "0");
  node.addEventListener("click", press);
  node.addEventListener("keydown", (event) => {
    if (event.key !== "Enter" && event.key !== " ") return;
    event.preventDefault();
    press();
  });
  return node;
};

/** Bring another part of the same bench into view and put the focus on its first key or field. */
export const goTo = (node, selector) => {
  const part = node.closest(".gal-page")?.querySelector(selector);
  if (!part) return;
  part.scrollIntoView({ block: "start", behavior: mayMove() ? "smooth" : "auto" });
  part.querySelector("input, button, select, textarea, [tabindex]")?.focus({ preventScroll: true });
};

/** Return whether the reader has not asked for less movement. */
export const mayMove = () => !matchMedia("(prefers-reduced-motion: reduce)").matches;

/** Keep a finger that starts on this part of a drawing from scrolling the page. */
export const keepFinger = (node) =>
  node.addEventListener("touchstart", (event) => event.preventDefault(), { passive: false });
