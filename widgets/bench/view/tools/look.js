// Looking: the places of the brake that one can look at, and what was seen there since the page opened.
// Sends look; what is seen stays listed, in the order of the places, and is nobody's judgement.

import { button, make, walk } from "../../../page/dom.js";
import { isDrawn, sign } from "../drawing/sign_pictures.js";

const KEPT = 4; // symptoms of one place; an earlier one that said the same is not kept twice

/** Return the symptoms of a place with one more, newest first. */
export const withSight = (symptoms, words) => [words, ...symptoms.filter((one) => one !== words)].slice(0, KEPT);

function placeLine(bench, at, words) {
  let symptoms = [];
  const mark = make("span", { class: "mark", "aria-hidden": "true" });
  const stand = make("span", { class: "stand" }, "not looked at");
  const key = button("Look", () => bench.wish("look", { at }), { "aria-label": `Look: ${words}` });
  const seen = make("ul", { class: "seen", hidden: true, "aria-label": `Seen: ${words}` });
  const node = make("li", { class: "place" }, mark, make("span", { class: "name" }, words), stand, key, seen);

  const show = (looked) => {
    mark.classList.toggle("is-done", looked);
    stand.textContent = looked ? "looked at" : "not looked at";
    key.textContent = looked ? "Again" : "Look";
    key.setAttribute("aria-label", `${looked ? "Look again" : "Look"}: ${words}`);
  };
  const see = (said, codes = []) => {
    symptoms = withSight(symptoms, said);
    seen.replaceChildren(...symptoms.map((one, i) => make("li", {}, i ? make("span", { class: "quiet" }, "Before: ") : null, one)));
    const drawn = codes.filter(isDrawn);
    if (drawn.length) seen.prepend(make("li", { class: "signs" }, ...drawn.map(sign)));
    seen.hidden = false;
  };
  return { node, show, see };
}

/** Return the tool: its node and what shows a scene. */
export function lookTool(bench) {
  const places = new Map();
  const list = walk(make("ul", { class: "lines" }));
  const node = make("div", { class: "gal-look" }, list);
  const setOut = (looks) => {
    if (places.size) return;
    looks.forEach(([at, words]) => places.set(at, placeLine(bench, at, words)));
    list.append(...[...places.values()].map((one) => one.node));
  };
  const show = ({ scene }, { fixed, reply }) => {
    if (fixed) {
      setOut(fixed.looks);
      Object.entries(scene.seen_there).forEach(([at, words]) => places.get(at)?.see(words, scene.signs_there[at]));
    }
    if (reply?.done && reply.seen?.symptoms && places.has(reply.seen.at)) places.get(reply.seen.at).see(reply.words, reply.seen.symptoms);
    if (scene) places.forEach((one, at) => one.show(scene.looks.includes(at)));
  };
  return { node, show };
}
