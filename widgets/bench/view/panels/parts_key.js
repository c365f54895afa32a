// The key under the side view: the number and name of each part and how it stands, in words.
// Tells the same as the drawing; sends nothing.

import { make } from "../../../page/dom.js";
import { PARTS } from "../drawing/standing.js";

const SIGN = { on: "", off: "off", covered: "out of sight" };

/** Return the key: its node and what shows how the parts stand. */
export function partsKey() {
  const entries = PARTS.map(([, name]) => {
    const state = make("span", { class: "quiet" });
    return { state, node: make("li", {}, make("span", {}, name), state) };
  });
  const node = make("ol", { class: "parts-key", "aria-hidden": "true" }, ...entries.map((one) => one.node));
  const show = (stands) =>
    PARTS.forEach(([part], i) => {
      const { is } = stands[part];
      entries[i].state.textContent = SIGN[is] ? ` ${SIGN[is]}` : "";
      entries[i].node.setAttribute("data-is", is);
    });
  return { node, show };
}
