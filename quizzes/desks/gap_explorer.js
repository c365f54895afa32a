// One slider for the gap, the numbers that follow from it, and one figure. Computes no physics:
// sends `gap_mm`, is told the rest. While one answer is on its way, only the latest wish waits.

const make = (tag, given = {}, ...children) => {
  const node = document.createElement(tag);
  for (const [name, value] of Object.entries(given)) {
    if (typeof value === "function") node.addEventListener(name, value);
    else node.setAttribute(name, String(value));
  }
  node.append(...children);
  return node;
};

/** @param {{ model: import("@anywidget/types").AnyModel, el: HTMLElement }} context */
function render({ model, el }) {
  el.classList.add("gal", "gal-explorer");
  const id = `gal-x-${Math.random().toString(36).slice(2)}`;
  const shown = make("output", { for: id });
  const slider = make("input", { id, type: "range" });
  const facts = make("dl", { "aria-live": "polite" });
  const figure = make("img", { alt: "" });
  const words = make("p", { class: "quiet" });
  el.append(make("div", { class: "explorer-slider" }, make("label", { for: id }, "Air gap"), slider, shown), facts, figure, words);

  let busy = false;
  let waiting = null;
  const send = (wish) => {
    if (busy) { waiting = wish; return; }
    busy = true;
    model.send(wish);
  };
  const wish = (final) => ({ gap_mm: Number(slider.value), final });
  const draw = (told) => {
    if (told.range) Object.assign(slider, { min: told.range[0], max: told.range[1], step: told.range[2], value: told.gap_mm });
    const said = `${told.gap_mm.toFixed(2)} mm`;
    shown.textContent = said;
    slider.setAttribute("aria-valuetext", said);
    facts.replaceChildren(...told.facts.map(([name, value, note]) => make("div", {}, make("dt", {}, name), make("dd", {}, value, make("span", { class: "quiet" }, note)))));
    if (told.figure) {
      figure.src = told.figure.url;
      figure.alt = told.figure.alt;
      words.textContent = told.figure.alt;
    }
  };
  const hear = (told) => {
    if (told.facts) draw(told);
    busy = false;
    if (waiting) { const next = waiting; waiting = null; send(next); }
  };
  slider.addEventListener("input", () => send(wish(false)));
  slider.addEventListener("change", () => send(wish(true)));
  model.on("msg:custom", hear);
  model.send({ ask: "everything" });
  return () => model.off("msg:custom", hear);
}

export default { render };
