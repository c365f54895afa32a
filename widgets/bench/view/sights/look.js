// Looking: the places of the brake that one can look at, and what was seen there since the page opened.
// Sends look. A place is shown as a picture, sound or not; its description is for who cannot see it, and nobody's judgement.

import { button, make, walk } from "../../../page/dom.js";
import { pictureOf } from "./places.js";

const KEPT = 4; // sights of one place; an earlier one that was the same is not kept twice
const asText = (sight) => JSON.stringify(sight);

/** Return the sights of a place with one more, newest first. */
export const withSight = (sights, sight) => [sight, ...sights.filter((one) => asText(one) !== asText(sight))].slice(0, KEPT);

/** Return what is shown of one sight: a picture with its description folded, and words for what no picture shows. */
export function sightNode({ seen, pictured, told }) {
  const described = pictured ? make("details", { class: "described" }, make("summary", {}, "Describe the picture"), make("p", {}, pictured)) : null;
  return make("div", { class: "sight-shown" }, pictureOf(seen, pictured), told ? make("p", {}, told) : null, described);
}

function placeLine(bench, at, words) {
  let sights = [];
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
  const see = (sight, mayScroll) => {
    sights = withSight(sights, sight);
    seen.replaceChildren(...sights.map((one, i) => make("li", { class: i ? "before" : "" }, i ? make("span", { class: "quiet" }, "Before:") : null, sightNode(one))));
    seen.hidden = false;
    if (mayScroll && node.checkVisibility?.()) requestAnimationFrame(() => node.scrollIntoView({ block: "nearest" }));
  };
  return { node, show, see };
}

/** Return the sight of a reply, if it is one. */
export const sightOf = (reply) => (reply?.done && reply.printed ? { seen: reply.seen, pictured: reply.pictured, told: reply.told } : null);

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
      Object.entries(scene.seen_there).forEach(([at, sight]) => places.get(at)?.see(sight, false));
    }
    const sight = fixed ? null : sightOf(reply);
    if (sight) places.get(sight.seen.at)?.see(sight, true);
    if (scene) places.forEach((one, at) => one.show(scene.looks.includes(at)));
  };
  return { node, show };
}
