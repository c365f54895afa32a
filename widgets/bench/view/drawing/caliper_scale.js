// The caliper as it stands over the disc: the whole of it, and a glass that goes along the vernier.
// Draws two scales for the eye and the same two in words; writes no reading anywhere.

import { button, draw, keepFinger, make } from "../../../page/dom.js";
import { hatch } from "./hatching.js";
import { figureAt, glassWords, LINE_MM, lineAt, LINES, marks, setVernier, vernierWords } from "./vernier.js";

const UNITS = 10; // of the whole drawing, a millimetre
const GLASS = 100; // of the glass, a millimetre
const SEEN_MM = 4; // under the glass
const BEFORE_MM = 16; // of the main scale left of a far vernier zero, so that a numbered mark is in sight
const MEET = 150; // height at which the two scales meet on the whole drawing
const HEIGHT = 230;
const BEAM = 68; // its upper edge, where the jaws stand on it
const IN_GLASS = { height: 150, meet: 84 };
const MAIN = [44, 34, 24, 16]; // length of a main mark by rank, units
const path = (d, kind) => draw("path", { d, class: kind });
const at = (x) => x.toFixed(1);

const mainScale = (from, to, unit, meet, size) =>
  marks(from - 1, to + 1, 1).map(({ at: mm, rank }) => {
    const x = (mm - from) * unit;
    const mark = path(`M${at(x)} ${meet} V${meet - MAIN[rank] * size}`, "mark");
    return rank ? mark : draw("g", {}, mark, draw("text", { x: at(x), y: meet - MAIN[0] * size - 16 }, String(mm)));
  });

const vernierScale = (set, from, unit, meet, size) =>
  Array.from({ length: LINES + 1 }, (_, line) => {
    const x = (lineAt(set, line) - from) * unit;
    const figure = figureAt(line);
    const mark = path(`M${at(x)} ${meet} V${meet + (figure ? 32 : 20) * size}`, "mark");
    return figure ? draw("g", {}, mark, draw("text", { x: at(x), y: meet + 32 * size + 16 }, figure)) : mark;
  });

// Jaws up, the disc between them: the near jaw with the beam, the far one with the slide.
const whole = (set) => {
  const from = Math.min(-8, set.zero_mm - BEFORE_MM);
  const width = (set.zero_mm + LINES * LINE_MM + 3 - from) * UNITS;
  const [near, far] = [-from * UNITS, (set.zero_mm - from) * UNITS];
  const end = far + (LINES * LINE_MM + 2) * UNITS;
  const left = Math.max(near, 0);
  const disc = [
    path(`M${at(left)} 8 H${at(far)} V54 H${at(left)} Z`, "disc"),
    path(hatch([left, 8, far - left, 46], 9), "hatch"),
  ];
  const parts = [
    ...disc,
    path(`M0 ${BEAM} H${at(width)} V${MEET} H0 Z`, "part"),
    near > 0 && path(`M${at(near)} 4 V${BEAM} H${at(near - 70)} V54 Q${at(near - 12)} 46 ${at(near - 10)} 4 Z`, "part"),
    path(`M${at(far)} 4 V${BEAM} H${at(far + 70)} V54 Q${at(far + 12)} 46 ${at(far + 10)} 4 Z`, "part"),
    path(`M${at(far - 12)} ${MEET} H${at(end)} V${HEIGHT - 8} H${at(far - 12)} Z`, "part"),
    ...mainScale(from, from + width / UNITS, UNITS, MEET, 1),
    ...vernierScale(set, from, UNITS, MEET, 1),
  ];
  return { from, width, parts: parts.filter(Boolean) };
};

const glassParts = (set, middle_mm) => {
  const from = middle_mm - SEEN_MM / 2;
  const { height, meet } = IN_GLASS;
  const width = SEEN_MM * GLASS;
  return [
    path(`M0 0 H${width} V${meet} H0 Z`, "beam"),
    path(`M0 ${meet} H${width} V${height} H0 Z`, "slide"),
    path(`M0 ${meet} H${width}`, "meet"),
    ...mainScale(from, from + SEEN_MM, GLASS, meet, 1.2),
    ...vernierScale(set, from, GLASS, meet, 1.2),
  ];
};

/** Return the scale: its node, what sets it to a length and what takes it off. */
export function caliperScale() {
  let set = null;
  let line = 0;
  const picture = draw("svg", { class: "scale-whole", role: "img" });
  const glass = draw("svg", { class: "scale-glass", role: "img", viewBox: `0 0 ${SEEN_MM * GLASS} ${IN_GLASS.height}` });
  const frame = draw("rect", { class: "frame", y: MEET - 50, height: 110, rx: 8, width: SEEN_MM * UNITS });
  const slider = make("input", { type: "range", min: 0, max: LINES, step: 1, "aria-label": "Glass along the vernier", input: () => lookAt(Number(slider.value)) });
  const by = (step) => lookAt(line + step);

  const lookAt = (wanted) => {
    line = Math.max(0, Math.min(LINES, Math.round(wanted)));
    slider.value = line;
    const middle_mm = lineAt(set, line);
    frame.setAttribute("x", at((middle_mm - SEEN_MM / 2 - from) * UNITS));
    glass.replaceChildren(...glassParts(set, middle_mm));
    const said = glassWords(set, line);
    slider.setAttribute("aria-valuetext", said);
    glass.setAttribute("aria-label", `Under the glass: ${said}`);
  };

  let from = 0;
  let width = 1;
  const close = (shown_mm) => {
    set = setVernier(shown_mm);
    const drawn = whole(set);
    [from, width] = [drawn.from, drawn.width];
    picture.setAttribute("viewBox", `0 0 ${at(width)} ${HEIGHT}`);
    picture.setAttribute("aria-label", vernierWords(set));
    picture.replaceChildren(...drawn.parts, frame);
    lookAt(0);
    node.hidden = false;
  };

  const lineUnder = (event) => {
    const box = picture.getBoundingClientRect();
    const mm = from + (((event.clientX - box.left) / box.width) * width) / UNITS;
    return (mm - set.zero_mm) / LINE_MM;
  };
  follow(picture, (event) => lookAt(lineUnder(event)));
  dragGlass(glass, () => line, lookAt);

  const keys = make("div", { class: "glass-keys" }, button("‹", () => by(-1), { "aria-label": "Glass one line back" }), slider, button("›", () => by(1), { "aria-label": "Glass one line on" }));
  const node = make("div", { class: "gal-scale", hidden: true }, picture, glass, keys);
  return { node, close, open: () => (node.hidden = true) };
}

// A finger or the mouse on the whole scale takes the glass along.
function follow(node, lookAt) {
  let held = false;
  keepFinger(node);
  node.addEventListener("pointerdown", (event) => {
    held = true;
    node.setPointerCapture(event.pointerId);
    lookAt(event);
  });
  node.addEventListener("pointermove", (event) => held && lookAt(event));
  for (const end of ["pointerup", "pointercancel"]) node.addEventListener(end, () => (held = false));
}

// In the glass the scale itself is pulled along, line by line.
function dragGlass(node, lineNow, lookAt) {
  let grip = null;
  keepFinger(node);
  node.addEventListener("pointerdown", (event) => {
    grip = { x: event.clientX, line: lineNow() };
    node.setPointerCapture(event.pointerId);
  });
  node.addEventListener("pointermove", (event) => {
    if (!grip) return;
    const units = ((event.clientX - grip.x) / node.getBoundingClientRect().width) * SEEN_MM * GLASS;
    lookAt(grip.line - units / (GLASS * LINE_MM));
  });
  for (const end of ["pointerup", "pointercancel"]) node.addEventListener(end, () => (grip = null));
}
