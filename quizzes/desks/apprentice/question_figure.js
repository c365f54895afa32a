// Draws a figure from plain shapes: brake, scale or leaves. Balloons on it can be chosen with a
// pointer; the keys under it are native radio buttons for keyboard and screen reader.

import { choices, draw, make } from "../../../widgets/page/dom.js";

const BALLOON = 21; // radius, units of the drawing
const REACH = 44; // radius of what a finger may hit, units of the drawing
const NAMES = { line: ["x1", "y1", "x2", "y2"], rect: ["x", "y", "width", "height"], circle: ["cx", "cy", "r"], text: ["x", "y"] };

const stroke = (shape) => {
  if (shape.kind === "path") return draw("path", { d: shape.text, class: `q-${shape.look}` });
  const at = Object.fromEntries(NAMES[shape.kind].map((name, index) => [name, shape.at[index]]));
  return draw(shape.kind, { ...at, class: `q-${shape.look}` }, shape.kind === "text" ? shape.text : "");
};

// Hatching by lines of its own: a pattern needs an id, and two questions on a page would share it.
const hatching = ({ at: [x, y, width, height], kind }) => {
  if (kind !== "rect") return null;
  const lines = [];
  for (let step = 12; step < width + height; step += 12) {
    const from = [Math.min(step, width), Math.max(0, step - width)];
    const to = [Math.max(0, step - height), Math.min(step, height)];
    lines.push(`M${x + from[0]} ${y + from[1]} L${x + to[0]} ${y + to[1]}`);
  }
  return draw("path", { d: lines.join(" "), class: "q-hatching" });
};

/** Return the drawing without places. */
export function figure(given) {
  const svg = draw("svg", { viewBox: `0 0 ${given.width} ${given.height}`, role: "img", "aria-label": given.title });
  for (const shape of given.shapes) {
    svg.append(stroke(shape));
    const lines = shape.look === "hatch" ? hatching(shape) : null;
    if (lines) svg.append(lines);
  }
  if (!given.wide) return [make("div", { class: "q-figure" }, svg), svg];
  // A scale is kept large enough to be read; a narrow page moves along it.
  svg.style.minWidth = `${Math.round(given.width * 0.8)}px`;
  svg.style.maxWidth = `${Math.round(given.width)}px`;
  const box = make("div", { class: "q-figure q-wide", tabindex: "0", role: "group", "aria-label": "Drawing of the scale, scrolls sideways" }, svg);
  return [box, svg];
}

/** Return the drawing with its places and their keys, with the get and set of the choice. */
export function places(given, changed) {
  const [box, svg] = figure(given);
  const balloons = new Map();
  const show = (id) => balloons.forEach((node, own) => node.setAttribute("class", own === id ? "q-place chosen" : "q-place"));
  const choose = (id) => { show(id); changed(); };
  const keys = choices("Place on the drawing", given.places.map((one) => [one.id, one.label]), choose, { class: "q-keys" });
  keys.boxes.forEach((input, id) => {
    const { label, name } = given.places.find((one) => one.id === id);
    input.setAttribute("aria-label", `${label}: ${name}`);
  });
  for (const one of given.places) {
    const hit = () => { keys.set(one.id); choose(one.id); };
    const wide = one.label.length > 3 ? 13 : one.label.length > 2 ? 8 : 0;
    const away = one.x !== one.to_x || one.y !== one.to_y;
    const node = draw("g", { class: "q-place", click: hit, "aria-hidden": "true" },
      away && one.group !== "angles" ? draw("path", { d: `M${one.x} ${one.y} L${one.to_x} ${one.to_y}`, class: "q-leader" }) : null,
      away && one.group !== "angles" ? draw("circle", { cx: one.to_x, cy: one.to_y, r: 4, class: "q-dot" }) : null,
      draw("circle", { cx: one.x, cy: one.y, r: REACH, class: "q-reach" }),
      draw("circle", { cx: one.x, cy: one.y, r: BALLOON + wide, class: "q-balloon" }),
      draw("text", { x: one.x, y: one.y, class: "q-label" }, one.label));
    balloons.set(one.id, node);
    svg.append(node);
  }
  const set = (id) => { keys.set(id); show(id); };
  return { nodes: [box, keys.node], get: keys.get, set };
}
