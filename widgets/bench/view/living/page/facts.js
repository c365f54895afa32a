// The numbers under a living drawing, and the sentence that a screen reader hears now and then.

import { make } from "../../../../page/dom.js";

const PAUSE_MS = 1500; // between two sentences, so that speech can keep up

/** Put a text into a node if it is another one. */
export const write = (node, text) => {
  if (node.textContent !== text) node.textContent = text;
};

/** Return the list of facts: its node, and what shows them: name, value, note, danger or not. */
export function factList() {
  const node = make("dl", { class: "living-facts" });
  let rows = [];
  const build = (facts) => {
    rows = facts.map(([name]) => {
      const value = make("b");
      const note = make("span", { class: "quiet" });
      return { value, note, node: make("div", {}, make("dt", {}, name), make("dd", {}, value, note)) };
    });
    node.replaceChildren(...rows.map((one) => one.node));
  };
  const show = (facts) => {
    if (rows.length !== facts.length) build(facts);
    facts.forEach(([, value, note = "", danger = false], i) => {
      write(rows[i].value, value);
      write(rows[i].note, note);
      rows[i].node.classList.toggle("fact-danger", danger);
    });
  };
  return { node, show };
}

/** Return a polite live region that speaks at most once in a while, and the newest sentence last. */
export function voice() {
  const node = make("p", { class: "living-voice", role: "status", "aria-live": "polite" });
  let wanted = "";
  let timer = 0;
  const speak = () => {
    timer = 0;
    write(node, wanted);
  };
  const say = (words) => {
    if (words === wanted) return;
    wanted = words;
    timer ||= setTimeout(speak, PAUSE_MS);
  };
  return { node, say, hush: () => clearTimeout(timer) };
}
