// Which leaves are in the hand: one of the common ones, and up to two more.
// Chooses and adds up marks; sends nothing.

import { button, choices, make } from "../../../page/dom.js";
import { mm, nextLeaf, split, stackOf, total } from "./readings.js";

const MOST = 3; // more leaves act as a spring
const FIRST = 7; // the leaf in the hand at the start: the eighth of the common ones

/** Return the stack: its controls, its leaves, and what changes it. `changed` is called after each change. */
export function leafStack(bench, changed) {
  let main = null;
  let added = [];
  let common = [];
  let every = [];
  const thin = new Map(); // leaf to its box
  const mainRow = make("div");
  const thinRow = make("div", { class: "keys leaves" });
  const more = make("select", { change: () => addMore() });
  const thickness = make("output", { class: "big" });
  const parts = make("span", { class: "parts" });
  let keys = null;

  const leaves = () => [main, ...added].filter((leaf) => leaf !== null);
  const words = () => (leaves().length ? mm(total(leaves())) : "–");

  const show = () => {
    thin.forEach((box, leaf) => (box.checked = added.includes(leaf)));
    more.value = String(added.find((leaf) => !thin.has(leaf)) ?? "");
    thickness.textContent = `${words()} mm`;
    parts.textContent = leaves().length > 1 ? `= ${leaves().map(mm).join(" + ")}` : "";
    changed();
  };

  const take = (leaf) => {
    main = leaf;
    keys.set(leaf);
    added = added.filter((other) => other !== leaf);
    show();
  };

  const add = (leaf) => {
    if (leaf === main) bench.decline("Each leaf is in the set only once: choose different leaves.");
    else if (leaves().length >= MOST) bench.decline("More than three leaves together act as a spring: put one back first.");
    else added = [...added, leaf];
  };
  const drop = (unwanted) => (added = added.filter((leaf) => !unwanted(leaf)));

  const addMore = () => {
    drop((leaf) => !thin.has(leaf));
    if (more.value) add(Number(more.value));
    show();
  };

  const thinKey = (leaf) => {
    const change = () => {
      if (box.checked) add(leaf);
      else drop((other) => other === leaf);
      show();
    };
    const box = make("input", { type: "checkbox", change });
    thin.set(leaf, box);
    return make("label", { class: "key" }, box, make("span", {}, mm(leaf)));
  };

  const setOut = (marks) => {
    const set = split(marks);
    common = set.common;
    every = marks;
    keys = choices("Leaf, mm", common.map((leaf) => [leaf, mm(leaf)]), take, { rowClass: "keys leaves" });
    mainRow.replaceChildren(keys.node);
    thinRow.replaceChildren(...set.thin.map(thinKey));
    const others = common.filter((leaf) => !thin.has(leaf)).map((leaf) => make("option", { value: leaf }, mm(leaf)));
    more.replaceChildren(make("option", { value: "" }, "none"), ...others);
    take(common[Math.min(FIRST, common.length - 1)]);
  };

  const step = (by) => take(nextLeaf(common, main, by));
  /** Return the leaf so many steps thicker or thinner than what is held, or null beyond either end of the set. */
  const next = (by) => {
    const held = total(leaves());
    const beyond = by > 0 ? common.filter((leaf) => leaf > held + 1e-6) : common.filter((leaf) => leaf < held - 1e-6).reverse();
    return beyond[Math.abs(by) - 1] ?? null;
  };
  /** Return the leaves that make up a thickness, or null. */
  const of = (thickness_mm) => stackOf(every, thickness_mm);
  /** Take up a stack that was in the hand before the page was opened. */
  const hold = ([first, ...more]) => {
    if (!common.includes(first)) return;
    added = more;
    take(first);
  };
  const stepper = make(
    "div", { class: "stepper" },
    button("−", () => step(-1), { "aria-label": "One leaf thinner" }),
    make("span", { class: "stack" }, thickness, parts),
    button("+", () => step(1), { "aria-label": "One leaf thicker" }),
  );
  const thinChoice = make(
    "fieldset", { class: "choice" },
    make("legend", {}, "Thin leaves to add"), thinRow,
    make("label", { class: "field more" }, make("span", {}, "Another leaf"), more),
  );
  return { stepper, mainRow, thinChoice, leaves, words, step, next, of, hold, setOut, isSetOut: () => keys !== null };
}
