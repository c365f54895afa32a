// What was found, as boxes that look like keys: any of the list, or nothing, and not too many.
// Keeps the choice; sends nothing and judges nothing.

import { make } from "../../../page/dom.js";

export const MOST_FOUND = 8;
const NOTHING = "nothing"; // stands alone

/** Return the choice once a finding was pressed, or null where it would be too many. */
export const withFinding = (chosen, pressed) => {
  if (chosen.includes(pressed)) return chosen.filter((one) => one !== pressed);
  if (pressed === NOTHING) return [NOTHING];
  const others = chosen.filter((one) => one !== NOTHING);
  return others.length < MOST_FOUND ? [...others, pressed] : null;
};

const countWords = (chosen, words) => (chosen.length ? `${chosen.length} of at most ${MOST_FOUND} chosen: ${chosen.map((one) => words.get(one)).join(", ")}` : `none chosen yet, at most ${MOST_FOUND}`);

/** Return the boxes: their node, what sets out the list, and the choice. `tooMany` is told of one too many. */
export function findings(tooMany) {
  let chosen = [];
  const boxes = new Map();
  const words = new Map();
  const row = make("div", { class: "keys found" });
  const count = make("p", { class: "quiet" });
  const show = () => {
    boxes.forEach((box, code) => (box.checked = chosen.includes(code)));
    count.textContent = countWords(chosen, words);
  };
  const press = (code) => {
    const next = withFinding(chosen, code);
    if (next) chosen = next;
    else tooMany();
    show();
  };
  const key = ([code, word]) => {
    const box = make("input", { type: "checkbox", change: () => press(code) });
    boxes.set(code, box);
    words.set(code, word);
    return make("label", { class: "key" }, box, make("span", {}, word));
  };
  const setOut = (list) => {
    if (boxes.size) return;
    row.append(...list.map(key));
    show();
  };
  const node = make("fieldset", { class: "choice" }, make("legend", {}, "What you found"), row, count);
  return { node, setOut, get: () => [...chosen] };
}
