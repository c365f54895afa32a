// Sliders and choices that the kernel describes, the facts that follow from them, and one figure.
// Computes no physics: sends the values, is told the rest. While one answer is on its way, only the
// latest wish waits. The first figure is asked for when the page has been still for a moment.

const STILL_MS = 700;

const make = (tag, given = {}, ...children) => {
  const node = document.createElement(tag);
  for (const [name, value] of Object.entries(given)) {
    if (typeof value === "function") node.addEventListener(name, value);
    else if (value !== undefined && value !== null && value !== false) node.setAttribute(name, String(value));
  }
  node.append(...children.filter((child) => child !== null && child !== undefined && child !== ""));
  return node;
};

const unique = () => `gal-x-${Math.random().toString(36).slice(2)}`;

const slider = (told, changed) => {
  const id = unique();
  const [min, max, step] = told.range;
  const shown = make("output", { for: id });
  const field = make("input", { id, type: "range", min, max, step, input: () => changed(false), change: () => changed(true) });
  const unit = told.unit ? ` ${told.unit}` : "";
  return {
    node: make("div", { class: "explorer-slider" }, make("label", { for: id }, told.label), field, shown),
    get: () => Number(field.value),
    set: (value) => {
      if (Number(field.value) !== value) field.value = String(value);
      const said = `${value.toFixed(told.decimals)}${unit}`;
      shown.textContent = said;
      field.setAttribute("aria-valuetext", said);
    },
  };
};

const choice = (told, changed) => {
  const name = unique();
  const boxes = told.options.map(([value, words]) => {
    const box = make("input", { type: "radio", name, value, change: () => changed(true) });
    return { box, node: make("label", { class: "key" }, box, make("span", {}, words)) };
  });
  return {
    node: make("fieldset", {}, make("legend", {}, told.label), make("div", { class: "keys" }, ...boxes.map((one) => one.node))),
    get: () => boxes.find((one) => one.box.checked)?.box.value ?? null,
    set: (value) => boxes.forEach((one) => { one.box.checked = one.box.value === value; }),
  };
};

/** @param {{ model: import("@anywidget/types").AnyModel, el: HTMLElement }} context */
function render({ model, el }) {
  el.classList.add("gal", "gal-explorer");
  const waiting = make("p", { class: "quiet", role: "status" }, "Asking…");
  const controls = make("div", { class: "explorer-controls" });
  const facts = make("dl", { "aria-live": "polite" });
  const picture = make("img", { alt: "" });
  const words = make("figcaption", { class: "quiet" });
  const figure = make("figure", { hidden: "" }, picture, words);
  el.append(waiting, controls, facts, figure);
  const parts = new Map();

  let busy = false;
  let next = null;
  const send = (wish) => {
    if (busy) { next = wish; return; }
    busy = true;
    model.send(wish);
  };
  const changed = (final) => send({ set: Object.fromEntries([...parts].map(([name, part]) => [name, part.get()])), final });
  const build = (told) => {
    parts.clear();
    controls.replaceChildren(...told.map((one) => {
      const part = one.kind === "choice" ? choice(one, changed) : slider(one, changed);
      parts.set(one.name, part);
      return part.node;
    }));
    waiting.remove();
  };
  const draw = (told) => {
    // A slider that has moved on since keeps its place; its own wish is on the way.
    if (!next) for (const [name, value] of Object.entries(told.values)) parts.get(name)?.set(value);
    facts.replaceChildren(...told.facts.map(([name, value, note, danger]) => make("div", { class: danger ? "fact-danger" : "" },
      make("dt", {}, name), make("dd", {}, value, make("span", { class: "quiet" }, note)))));
  };
  const show = (drawn) => {
    picture.src = drawn.url;
    picture.alt = drawn.alt;
    words.textContent = drawn.alt;
    figure.hidden = false;
  };
  const hear = (told) => {
    if (told.controls && !parts.size) build(told.controls);
    if (told.facts) draw(told);
    if (told.figure) show(told.figure);
    if (told.more) return; // the figure is on its way
    busy = false;
    if (next) { const wish = next; next = null; send(wish); }
  };
  busy = true;
  model.on("msg:custom", hear);
  model.send({ ask: "everything" });
  // An answer that was lost with the line is asked for again.
  const again = () => {
    busy = false;
    next = null;
    if (parts.size) changed(true);
    else send({ ask: "everything" });
  };
  document.addEventListener("gal-line-again", again);
  const still = setInterval(() => {
    if (busy || !parts.size) return;
    clearInterval(still);
    if (figure.hidden) changed(true);
  }, STILL_MS);
  return () => {
    clearInterval(still);
    document.removeEventListener("gal-line-again", again);
    model.off("msg:custom", hear);
  };
}

export default { render };
