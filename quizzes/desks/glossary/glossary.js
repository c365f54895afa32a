// The glossary: a field that narrows the list, and the list. Opens at the word that the address names.
// Asks the kernel once for the words; sends nothing else; every text goes in as text.

const make = (tag, given = {}, ...children) => {
  const node = document.createElement(tag);
  for (const [name, value] of Object.entries(given)) {
    if (typeof value === "function") node.addEventListener(name, value);
    else if (value !== null && value !== undefined) node.setAttribute(name, String(value));
  }
  node.append(...children);
  return node;
};

const plain = (text) => text.toLowerCase().normalize("NFKD").replaceAll("’", "'").replace(/[-\s]+/g, " ").trim();

const entry = (term) => {
  const node = make("div", { class: "entry", id: term.anchor, tabindex: "-1" },
    make("dt", {}, term.term),
    make("dd", {}, term.means));
  if (term.also.length) node.append(make("dd", { class: "quiet" }, `Also: ${term.also.join(", ")}.`));
  return { node, words: plain([term.term, ...term.also, term.means].join(" ")), names: plain([term.term, ...term.also].join(" ")) };
};

/** @param {{ model: import("@anywidget/types").AnyModel, el: HTMLElement }} context */
function render({ model, el }) {
  el.classList.add("gal", "gal-glossary");
  const id = `gal-g-${Math.random().toString(36).slice(2)}`;
  const field = make("input", { id, type: "search", autocomplete: "off", spellcheck: "false", maxlength: 40 });
  const count = make("p", { class: "quiet", role: "status" }, "Fetching the words…");
  const list = make("dl");
  let entries = [];

  const narrow = () => {
    const wanted = plain(field.value);
    const named = entries.filter((one) => one.names.includes(wanted));
    const hits = named.length ? named : entries.filter((one) => one.words.includes(wanted));
    for (const one of entries) one.node.hidden = !hits.includes(one);
    if (!wanted) count.textContent = `${entries.length} words.`;
    else if (hits.length) count.textContent = `${hits.length} of ${entries.length} words.`;
    else count.textContent = "No word like that here. Try a shorter one, or ask your trainer to have it added.";
  };
  const goTo = () => {
    const wanted = decodeURIComponent(location.hash.slice(1));
    const found = entries.find((one) => one.node.id === wanted);
    if (!found) return;
    field.value = "";
    narrow();
    for (const one of entries) one.node.classList.toggle("asked", one === found);
    found.node.scrollIntoView({ block: "center" });
    found.node.focus({ preventScroll: true });
  };
  const hear = (message) => {
    if (!Array.isArray(message.terms)) return;
    entries = message.terms.map(entry);
    list.replaceChildren(...entries.map((one) => one.node));
    narrow();
    setTimeout(goTo, 50); // the page may still be moving into its place
  };
  field.addEventListener("input", narrow);
  el.append(make("div", { class: "finder" }, make("label", { for: id }, "Find a word"), field), count, list);
  window.addEventListener("hashchange", goTo);
  model.on("msg:custom", hear);
  model.send({ ask: "terms" });
  return () => { window.removeEventListener("hashchange", goTo); model.off("msg:custom", hear); };
}

export default { render };
