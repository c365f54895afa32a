// Places on the drawing that one can drag, each another hand on a slider below it: pointer, finger, arrow keys.

import { draw, keepFinger } from "../../../../page/dom.js";
import { spoken } from "./sliders.js";

const KEYS = { ArrowRight: 1, ArrowUp: 1, ArrowLeft: -1, ArrowDown: -1, PageUp: 10, PageDown: -10 };
const ARROWS = { x: "M-13 -6 L-20 0 L-13 6 M13 -6 L20 0 L13 6", y: "M-6 -13 L0 -20 L6 -13 M-6 13 L0 20 L6 13" };

/** Return the value that a key leads to on a slider, or null if the key is none of its own. Pure. */
export const keyed = (key, [low, high, step], value) => {
  if (key === "Home") return low;
  if (key === "End") return high;
  return key in KEYS ? value + KEYS[key] * step : null;
};

/**
 * Return a grip. `control` is the slider it moves, `along` "x" or "y", `perUnit` how much the value
 * grows for each unit of the drawing that the grip is moved right or up.
 */
export function grip({ control, along, perUnit, label }) {
  const { told } = control;
  const node = draw(
    "g", { class: `grip grip-${along}`, role: "slider", tabindex: "0", "aria-label": label ?? told.label, "aria-orientation": along === "x" ? "horizontal" : "vertical" },
    draw("circle", { r: 30, class: "tap" }), draw("circle", { r: 9, class: "knob" }), draw("path", { d: ARROWS[along], class: "arrows" }),
  );
  const [low, high] = told.range;
  node.setAttribute("aria-valuemin", low);
  node.setAttribute("aria-valuemax", high);
  const point = (event) => {
    const seen = new DOMPoint(event.clientX, event.clientY).matrixTransform(node.ownerSVGElement.getScreenCTM().inverse());
    return along === "x" ? seen.x : -seen.y;
  };
  let from = null;
  node.addEventListener("pointerdown", (event) => {
    node.setPointerCapture(event.pointerId);
    from = { at: point(event), value: control.get() };
    node.classList.add("is-held");
  });
  node.addEventListener("pointermove", (event) => {
    if (from) control.set(from.value + (point(event) - from.at) * perUnit(), true);
  });
  const drop = () => {
    from = null;
    node.classList.remove("is-held");
  };
  node.addEventListener("pointerup", drop);
  node.addEventListener("pointercancel", drop);
  node.addEventListener("keydown", (event) => {
    const next = keyed(event.key, told.range, control.get());
    if (next === null) return;
    event.preventDefault();
    control.set(next, true);
  });
  keepFinger(node);
  let place = "";
  let words = "";
  /** Put the grip where its part is now. */
  const show = (x, y) => {
    const next = `translate(${x.toFixed(1)} ${y.toFixed(1)})`;
    if (next !== place) node.setAttribute("transform", (place = next));
    const said = spoken(told, control.get());
    if (said === words) return;
    words = said;
    node.setAttribute("aria-valuenow", control.get());
    node.setAttribute("aria-valuetext", said);
  };
  return { node, show };
}
