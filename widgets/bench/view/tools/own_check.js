// The keys that look an instrument over, beside the instrument itself: it is in the hand already.
// The same acts as at the stage of measuring or adjusting.

import { LINES } from "./acts.js";
import { button, make } from "../../../page/dom.js";

/** Return a row with the keys of one line, named as there. */
export function checkRow(bench, line) {
  const [name, , acts] = LINES[line];
  const keys = acts.map(([text, kind, fields]) => button(text, () => bench.wish(kind, fields), { "aria-label": `${name}: ${text}` }));
  return make("div", { class: "row" }, make("span", { class: "quiet" }, name), ...keys);
}
