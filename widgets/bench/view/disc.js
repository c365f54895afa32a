// The caliper over both linings of the disc. Sends measure_disc and write_disc.
// The value written down is the one the person types; nothing is filled in for them.

import { at, placeName, snap, sector, wrap } from "./angles.js";
import { button, choices, draw, make, numberField } from "./dom.js";

const PLACES_DEG = [0, 45, 90, 135, 180, 225, 270, 315];

// The caliper seen from its end: the near jaw over the edge of the disc, the beam outside.
const SHAPE = "M-22 -316 H22 V-272 H11 L7 -198 H-7 L-11 -272 H-22 Z M-22 -294 H22 M-4 -316 V-294 M4 -316 V-294";

/** Return the tool: its panel, its mark on the drawing, and what shows a scene. */
export function discTool(bench, drawing) {
  let angle = 0;
  const jaws = draw("g", {}, draw("path", { d: SHAPE, class: "jaws" }));
  const rim = draw("path", { class: "rim", d: `${sector(128, 319, 0, 179.99)} ${sector(128, 319, 180, 359.99)}` });
  const mark = draw("g", {}, rim, jaws);
  const [freeLabel, free] = numberField("Other angle", { min: 0, max: 359, step: 1, change: () => free.value !== "" && turnTo(Number(free.value)) }, "°");
  const [valueLabel, value] = numberField("I read", { min: 0, max: 100, step: 0.01 }, "mm");
  const shown = make("p", { class: "felt" });
  const where = make("b");

  const turnTo = (deg) => {
    if (!Number.isFinite(deg)) return;
    angle = wrap(Math.round(deg * 10) / 10);
    places.set(angle);
    free.value = PLACES_DEG.includes(angle) ? "" : angle;
    where.textContent = placeName(angle);
    const [x, y] = at(0, 0);
    jaws.setAttribute("transform", `translate(${x} ${y}) rotate(${angle})`);
  };

  const write = () => {
    const value_mm = value.value === "" ? NaN : Number(value.value);
    if (!Number.isFinite(value_mm)) return bench.decline("Type what you read on the caliper first.");
    bench.wish("write_disc", { angle_deg: angle, value_mm });
  };

  rim.addEventListener("click", (event) => turnTo(snap(drawing.point(event).deg, 5)));
  const places = choices("Place", PLACES_DEG.map((deg) => [deg, `${deg}°`]), turnTo, { rowClass: "keys places" });
  const panel = make(
    "div", { class: "tool" },
    places.node,
    make("div", { class: "row" }, freeLabel, button("Close the caliper", () => bench.wish("measure_disc", { angle_deg: angle }), { class: "main" })),
    shown,
    make("div", { class: "write", role: "group", "aria-label": "Write a disc reading down" },
      make("div", { class: "row" }, make("b", {}, "Disc"), make("span", {}, "at ", where), valueLabel, button("Write down", write))),
    make("p", { class: "hint" }, "The jaws close over both linings. Choose a place here or tap the rim on the drawing."),
  );
  value.addEventListener("keydown", (event) => {
    if (event.key !== "Enter") return;
    event.preventDefault();
    write();
  });
  turnTo(0);

  let written = 0;
  return {
    name: "Caliper", panel, mark,
    show: ({ scene }, { reply, fixed }) => {
      if (!fixed && reply?.seen?.shown_mm !== undefined) {
        shown.textContent = `The caliper shows ${reply.seen.shown_mm.toFixed(2)} mm at ${reply.seen.angle_deg}°.`;
      }
      if (scene && scene.disc_notes.length > written) value.value = "";
      written = scene?.disc_notes.length ?? written;
    },
  };
}
