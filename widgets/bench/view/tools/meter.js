// The meter at the brake's terminals, the thermometer on its coil, and the test supply that is raised
// slowly until the plate is pulled in. Sends measure_coil, find_release, write_value; judges nothing.

import { button, choices, draw, make, mayMove } from "../../../page/dom.js";
import { displayText, spokenDisplay, valueForm } from "./values.js";

// Setting of the meter: words on its dial, unit, what the reading is called on the notes sheet.
const SETTINGS = [
  ["resistance", "Resistance, Ω", "coil_ohm", "Ω"],
  ["insulation", "Insulation, MΩ", "insulation_mohm", "MΩ"],
  ["voltage", "Voltage, V DC", "voltage_v", "V"],
];
const DIAL_TOP = 120; // percent of the rated voltage, where the test supply ends
const RAISE_MS = 2500; // for the eye; at the brake it takes longer
const CAUTION = "Set to ohms or megohms, the meter may only meet a coil that is switched off, locked and proved dead. For voltage: insulated tips, and touch nothing else. The insulation tester itself puts out 500 V, and a coil returns a high voltage when its circuit is opened.";
const SLOWLY = "From zero, slowly, on the DC side, with the load landed: watch the plate, and let go once it pulls in.";

/** Return the setting of the meter that a reading came from. */
export const settingOf = (what) => SETTINGS.find(([own]) => own === what) ?? SETTINGS[0];

/** Return where the pointer of the test supply stands, in degrees from upright. */
export const pointerDeg = (percent) => (240 * Math.max(0, Math.min(DIAL_TOP, percent))) / DIAL_TOP - 120;

// What is at the tips: once it changes, they are off and the display says nothing of it.
const circuitOf = (scene) => scene && [scene.cover_on, scene.isolated, scene.energised, scene.leads];

const around = (radius, deg) => {
  const angle = (deg * Math.PI) / 180;
  return [100 + radius * Math.sin(angle), 96 - radius * Math.cos(angle)].map((x) => x.toFixed(1));
};

function display(label) {
  const figures = make("span", { class: "figures" });
  const unit = make("span", { class: "unit" });
  const node = make("div", { class: "display", role: "img", "aria-label": `${label}: nothing shown` }, make("span", { class: "of", "aria-hidden": "true" }, label), figures, unit);
  const show = (value, name, over) => {
    figures.textContent = displayText(value, name, over);
    unit.textContent = figures.textContent ? name : "";
    node.setAttribute("aria-label", `${label}: ${spokenDisplay(value, name, over)}`);
  };
  return { node, show };
}

function meterGroup(bench, pick) {
  const face = display("Meter");
  const warmth = display("On the coil");
  const setting = choices("Meter set to", SETTINGS.map(([what, words]) => [what, words]), () => dark(), { rowClass: "keys settings" });
  let warm = false; // whether the coil's temperature stands on the thermometer
  const dark = () => {
    warm = false;
    face.show(null, "");
    warmth.show(null, "");
  };
  const measure = (leads_lifted) => () => bench.wish("measure_coil", { what: setting.get(), leads_lifted });
  const node = make(
    "section", { role: "group", "aria-label": "Meter and thermometer" },
    make("h3", {}, "At the terminals"),
    make("p", { class: "gal-danger" }, make("b", {}, "Danger. "), CAUTION),
    setting.node,
    make("div", { class: "faces" }, face.node, warmth.node),
    button("Tips on, leads as they are", measure(false)), button("Coil’s leads lifted, tips on, leads back", measure(true)),
  );
  const show = (seen) => {
    const [what, , quantity, unit] = settingOf(seen.what);
    setting.set(what);
    face.show(seen.shown, seen.unit ?? unit, Boolean(seen.over));
    warmth.show(seen.coil_c, "°C");
    warm = typeof seen.coil_c === "number";
    pick(quantity);
  };
  setting.set(SETTINGS[0][0]);
  return { node, show, dark, isWarm: () => warm };
}

function dial() {
  const fives = Array.from({ length: DIAL_TOP / 5 + 1 }, (_, i) => 5 * i);
  const long = (percent) => (percent % 20 === 0 ? 60 : percent % 10 === 0 ? 65 : 70); // inner end of a mark
  const pointer = draw("path", { d: "M0 0 V-66", class: "pointer" });
  const node = draw(
    "svg", { class: "dial", viewBox: "-10 -8 220 170", role: "img", "aria-label": "Test supply, 0 to 120 % of the rated voltage: at zero" },
    ...fives.map((percent) => {
      const [[x, y], [u, v]] = [around(76, pointerDeg(percent)), around(long(percent), pointerDeg(percent))];
      return draw("path", { d: `M${x} ${y} L${u} ${v}`, class: "mark" });
    }),
    ...fives.filter((percent) => percent % 20 === 0).map((percent) => {
      const [x, y] = around(90, pointerDeg(percent));
      return draw("text", { x, y }, String(percent));
    }),
    draw("g", { transform: "translate(100 96)" }, pointer), draw("circle", { cx: 100, cy: 96, r: 5, class: "hub" }),
    draw("text", { x: 100, y: 140 }, "% of rated"),
  );
  const raise = (percent) => {
    const to = pointerDeg(percent);
    pointer.setAttribute("transform", `rotate(${to})`);
    if (mayMove()) {
      pointer.animate([{ transform: `rotate(${pointerDeg(0)}deg)` }, { transform: `rotate(${to}deg)` }], { duration: RAISE_MS * (percent / DIAL_TOP), easing: "linear" });
    }
  };
  const name = (words) => node.setAttribute("aria-label", `Test supply, 0 to ${DIAL_TOP} % of the rated voltage: ${words}`);
  pointer.setAttribute("transform", `rotate(${pointerDeg(0)})`);
  return { node, raise, name };
}

function releaseGroup(bench, pick) {
  const supply = dial();
  const said = make("p", { class: "felt" }, "The pointer is at zero.");
  const node = make(
    "section", { role: "group", "aria-label": "Release voltage" },
    make("h3", {}, "When does it pull in?"),
    make("p", {}, SLOWLY),
    make("div", { class: "supply" }, supply.node, said),
    button("Raise the voltage slowly", () => bench.wish("find_release"), { class: "main" }),
  );
  const show = ({ percent }) => {
    supply.raise(percent ?? DIAL_TOP);
    const words = percent === null ? "raised to the end, the plate did not move" : "the pointer is where the plate pulled in";
    supply.name(percent === null ? words : `${words}, ${percent} %`);
    said.textContent = percent === null ? "To the end of the scale: the plate did not move." : "The pointer is where the plate pulled in. Read it.";
    pick("release_percent");
  };
  return { node, show };
}

/** Return the tool: its node and what shows a scene. */
export function meterTool(bench) {
  const form = valueForm(bench, ["coil_ohm", "coil_c", "insulation_mohm", "voltage_v", "release_percent"], (what) => (what === "coil_ohm" && measuring.isWarm() ? "coil_c" : null));
  const measuring = meterGroup(bench, form.pick);
  const releasing = releaseGroup(bench, form.pick);
  let circuit = "";
  const show = (known, { reply }) => {
    form.show(known);
    const now = JSON.stringify(circuitOf(known.scene));
    if (now !== circuit) measuring.dark();
    circuit = now;
    if (!reply?.done) return;
    if (reply.seen?.shown !== undefined) measuring.show(reply.seen);
    if (reply.seen?.percent !== undefined) releasing.show(reply.seen);
  };
  return { node: make("div", { class: "gal-meter" }, measuring.node, releasing.node, form.node), show };
}
