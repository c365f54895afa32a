// What bare hands do at the hoist: a stage of the job, or a part that was pressed, with its lines.
// Every stage is one press away, in whatever order; the bench refuses what cannot be done.

import { LINES, PART_LINES, STAGE_LINES, stageOfAct } from "./acts.js";
import { button, choices, goTo, make, walk } from "../../../page/dom.js";
import { FORMS } from "./fitting.js";
import { sightNode } from "../sights/look.js";
import { STAGES, stageOf } from "../panels/stages.js";
import { PARTS } from "../drawing/standing.js";

function line(bench, [name, stand, acts, formName, there]) {
  const mark = make("span", { class: stand ? "mark" : "mark is-none", "aria-hidden": "true" });
  const words = make("span", { class: "stand" });
  const keys = acts.map(([text, kind, fields]) => button(text, () => bench.wish(kind, fields), { "aria-label": `${name}: ${text}` }));
  const form = formName ? FORMS[formName](bench) : null;
  const head = make("div", { class: keys.length > 1 ? "line is-many" : "line" }, mark, make("span", { class: "name" }, name), words, make("span", { class: "acts" }, ...keys));
  const node = form ? make("div", { class: "with-form" }, head, form.node) : head;
  const show = (known) => {
    if (there) node.hidden = !there(known);
    form?.show(known);
    if (!stand) return;
    const [done, text] = stand(known.scene);
    mark.classList.toggle("is-done", done);
    words.textContent = text;
  };
  return { node, show };
}

const toolKeys = (tools, take) =>
  tools?.length ? make("div", { class: "take" }, ...tools.map(([tool, words]) => button(words, () => take(tool), { class: "to" }))) : null;

function placeKeys(places) {
  if (!places?.length) return null;
  const key = ([selector, words]) => button(words, (event) => goTo(event.target, selector), { class: "to" });
  return make("div", { class: "take" }, ...places.map(key));
}

/** Return a group: its heading, caution, lines, and keys for tools and other parts of the page. */
function group(bench, title, { caution, lines, tools, places, look }, take) {
  const made = lines.map((one) => line(bench, LINES[one]));
  const lookKey = look && button("Look at it", () => bench.wish("look", { at: look }), { "aria-label": `${title}: look at it` });
  const sight = look && make("div", { class: "sight-here" });
  const node = walk(
    make(
      "section", { role: "group", "aria-label": `Hands: ${title}` },
      make("h2", { tabindex: -1 }, title),
      caution && make("p", { class: "gal-danger" }, make("b", {}, caution[0]), caution[1]),
      lookKey && make("div", { class: "take" }, lookKey), sight,
      toolKeys(tools, take), placeKeys(places),
      ...made.map((one) => one.node),
    ),
  );
  let drawn = "";
  const show = (known) => {
    made.forEach((one) => one.show(known));
    const there = look && known.scene.seen_there[look];
    if (!there || JSON.stringify(there) === drawn) return;
    drawn = JSON.stringify(there);
    sight.replaceChildren(sightNode(there));
  };
  return { node, show };
}

/**
 * Return the tool: its panel, no mark on the drawing, and what shows a scene. `take` puts another
 * tool in the hand, `looks` is the looking tool of the bench.
 */
export function handsTool(bench, { take, looks }) {
  const groups = new Map();
  let known = null;
  let shown = null;
  const place = make("div", { class: "group-place" });
  const folded = make("details", { class: "looks" }, make("summary", {}, "Look at a place"));
  const now = make("p", { class: "quiet now" });

  const open = (key, title, what) => {
    if (!groups.has(key)) groups.set(key, group(bench, title, what, take));
    shown = groups.get(key);
    // At the stage of looking the places are laid out; at any other they fold away, and stay as they were left.
    (what.looks ? shown.node : folded).append(looks.node);
    place.replaceChildren(shown.node, ...(what.looks ? [] : [folded]));
    if (known?.scene) shown.show(known);
  };
  const openStage = (name) => open(`stage ${name}`, STAGES.find(([own]) => own === name)[1], STAGE_LINES[name]);
  const stages = choices("Stage of the job", STAGES, openStage, { rowClass: "keys stages" });

  const openPart = (name) => {
    stages.set(null);
    open(`part ${name}`, PARTS.find(([own]) => own === name)[1], PART_LINES[name]);
    shown.node.querySelector("h2").focus({ preventScroll: true });
    shown.node.scrollIntoView({ block: "nearest" });
  };

  const show = (all, message) => {
    known = all;
    looks.show?.(all, message);
    if (!all.scene) return;
    const here = stageOf(all.scene);
    if (message.fixed && !shown) {
      stages.set(here);
      openStage(here);
    }
    stages.boxes.forEach((box, name) => box.parentNode.classList.toggle("is-here", name === here));
    now.textContent = `The work is at: ${STAGES.find(([own]) => own === here)[1].toLowerCase()}.`;
    shown?.show(all);
  };
  const panel = make("div", { class: "tool jobs" }, stages.node, now, place);
  const follow = ({ kind }) => {
    const stage = stageOfAct(kind);
    if (!stage) return;
    stages.set(stage);
    openStage(stage);
  };
  return { name: "Hands", mark: null, panel, show, openPart, follow };
}
