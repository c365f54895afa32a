// The tray: the parts taken off, in the order they came off, and the store with its new parts.
// From here parts go back on; sends the wish of the part, and says nothing of the right order.

import { PUT_BACK } from "../tools/acts.js";
import { button, make, walk } from "../../../page/dom.js";
import { FORMS } from "../tools/fitting.js";
import { connect } from "./line.js";
import { trayShape } from "../drawing/tray_shapes.js";

const STORE = [["New disc", "disc"], ["New seal band", "seal band"]];
const MORE = { "magnet body": "Springs and pressure plate with it" };

const fitKeys = (bench, name) => (PUT_BACK[name] ?? []).map(([words, kind, fields]) =>
  button(words, () => bench.wish(kind, fields), { "aria-label": `${name}: ${words}` }));

/** One thing to press, which opens what can be done with it. */
function entry(bench, { title, shape, more, keys, form }) {
  const work = make("div", { class: "row fit", hidden: true }, ...keys, form?.node);
  const toggle = () => {
    work.hidden = !work.hidden;
    head.setAttribute("aria-expanded", String(!work.hidden));
  };
  const words = make("span", { class: "name" }, title, more ? make("span", { class: "quiet" }, more) : null);
  const head = button("", toggle, { class: "thing", "aria-expanded": "false" });
  head.append(trayShape(shape), words);
  return { node: make("li", {}, head, work), show: (known) => form?.show(known) };
}

const taken = (bench, name) =>
  entry(bench, { title: name, shape: name, more: MORE[name], keys: fitKeys(bench, name), form: FORMS[name]?.(bench, "old") });

const fresh = (bench, [title, name]) =>
  entry(bench, { title, shape: name, keys: fitKeys(bench, `new ${name}`), form: FORMS[name]?.(bench, "new") });

function render({ model, el }) {
  el.classList.add("gal", "gal-tray");
  const entries = new Map(); // by name, kept while the part lies there, so that an open form stays open
  const list = make("ol", { class: "things" });
  const title = make("h2", { tabindex: -1 }, "Taken off, in order");
  const none = make("p", { class: "quiet" }, "Nothing has been taken off yet.");

  const lay = (known) => {
    const { tray } = known.scene;
    for (const name of [...entries.keys()]) if (!tray.includes(name)) entries.delete(name);
    tray.forEach((name) => entries.has(name) || entries.set(name, taken(bench, name)));
    const nodes = tray.map((name) => entries.get(name).node);
    const held = list.contains(document.activeElement);
    if (nodes.length !== list.children.length || nodes.some((node, i) => node !== list.children[i])) list.replaceChildren(...nodes);
    if (held && !list.contains(document.activeElement)) title.focus({ preventScroll: true }); // its part went back on
    none.hidden = tray.length > 0;
    entries.forEach((one) => one.show(known));
    store.forEach((one) => one.show(known));
  };
  const bench = connect(model, (known, { fixed }) => {
    if (fixed) el.hidden = known.fixed.at_the_brake === false;
    if (known.scene) lay(known);
  });
  const store = STORE.map((one) => fresh(bench, one));
  el.append(
    title, none, walk(list),
    make("h3", {}, "From the store"), walk(make("ul", { class: "things" }, ...store.map((one) => one.node))),
  );
  bench.ask();
  return () => bench.close();
}

export default { render };
