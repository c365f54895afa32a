// Section through one bolt and its hollow screw: locked, the foot stands on the motor end; slack, the springs lift the body.
// Reads the kernel's tables; sends nothing.

import { draw } from "../../../../page/dom.js";
import { coils, hatch } from "../../drawing/hatching.js";
import { glider } from "../page/glide.js";
import { grip } from "../page/grips.js";
import { living } from "../page/living.js";
import { screwState } from "../reading/work_state.js";

const SEAT = 96; // face of the motor end
const PLATE = 190; // face of the pressure plate that looks at the body
const ROOM = 120; // units for the widest gap
const BODY = 210; // how deep the body is
const Y = 104; // axis of the bolt
const OFF = 0.25; // of a turn: how far a bolt is let off to adjust

const rect = ([x, y, width, height], kind) => draw("rect", { x, y, width, height, class: kind });
const cut = (box, way, step) => [rect(box, "f"), draw("path", { d: hatch(box, step, way), class: "l" })];
const thread = (x, half, length, step) => draw("path", { class: "l", d: Array.from({ length: Math.floor(length / step) }, (_, i) => `M${x + i * step + 4} ${Y - half} l-4 ${2 * half}`).join(" ") });
const to = (node, x) => node.setAttribute("transform", `translate(${x.toFixed(2)} 0)`);

function oneScrew({ size, tables }, { by }) {
  const scale = ROOM / size.widest_mm;
  const face = PLATE;
  const body = draw("g", {}, ...cut([face, 40, BODY, 40], 1, 11), ...cut([face, 128, BODY, 150], 1, 11), rect([face, 80, BODY, 48], "f"), rect([face, 216, 120, 26], "f"));
  const hollow = draw("g", {}, rect([SEAT, Y - 32, 34, 64], "f"), draw("path", { class: "l", d: `M${SEAT} ${Y - 12} h34 M${SEAT} ${Y + 12} h34` }), rect([SEAT + 34, Y - 22, 236, 44], "f"), thread(SEAT + 38, 22, 228, 11));
  const mark = draw("path", { class: "turning" });
  hollow.append(mark);
  const bolt = draw("g", {}, rect([40, Y - 11, face + BODY - 40, 22], "f"), thread(44, 11, 48, 8), rect([face + BODY, Y - 26, 9, 52], "f"), rect([face + BODY + 9, Y - 22, 30, 44], "f"));
  const spring = draw("path", { class: "o" });
  const gap = draw("rect", { class: "gap", y: 156, height: 122 });
  const foot = draw("rect", { class: "gap", x: SEAT, y: Y - 32, height: 64 });
  const words = ["is-left", "is-right"].map((kind) => draw("text", { class: `dropped ${kind}` }));
  const push = draw("path", { class: "f force-springs" });
  const picture = draw("g", { role: "img" }, ...cut([20, 24, SEAT - 20, 262], 1, 14), gap, ...cut([PLATE - 28, 156, 28, 122], -1, 9), body, hollow, bolt, spring, foot, push, ...words,
    draw("text", { class: "name", x: 6, y: 300 }, "motor end"), draw("text", { class: "name", x: PLATE - 34, y: 300 }, "plate"));
  const label = draw("text", { class: "name", y: 300 }, "magnet body");
  picture.append(label);
  const head = grip({ control: by.get("let_off"), along: "x", perUnit: () => 1 / 90, label: "Retaining screw, slackened" });
  const glide = glider(by, { let_off: 0.25, hollow_deg: 40 });

  const show = (values) => {
    const now = screwState(tables, values, size.setting_mm);
    const wide = Math.max(0, now.gap_mm * scale);
    const lift = now.lift_mm * scale;
    to(body, wide);
    to(hollow, lift);
    to(bolt, wide);
    gap.setAttribute("x", PLATE);
    gap.setAttribute("width", wide.toFixed(2));
    foot.setAttribute("width", lift.toFixed(2));
    spring.setAttribute("d", coils([PLATE + 1, 218, wide + 119, 22], 9));
    push.setAttribute("d", `M${(PLATE + wide + 124).toFixed(1)} 223 h34 v-8 l20 14 l-20 14 v-8 h-34Z`);
    mark.setAttribute("d", `M${SEAT} ${(Y - 30 * Math.cos(((values.hollow_deg + 60) * Math.PI) / 180)).toFixed(1)} h34`);
    const said = [[`${now.gap_mm.toFixed(2)} mm`, PLATE + wide - 2, 141], [now.lift_mm > 0 ? `${now.lift_mm.toFixed(2)} mm` : "", SEAT + 6, 52]];
    said.forEach(([word, x, y], i) => {
      words[i].textContent = word;
      words[i].setAttribute("x", x.toFixed(1));
      words[i].setAttribute("y", y);
    });
    label.setAttribute("x", (PLATE + wide + 40).toFixed(1));
    head.show(PLATE + wide + BODY + 24, Y);
    const slack = now.lift_mm > 0;
    const facts = [
      ["Gap here, now", `${now.gap_mm.toFixed(2)} mm`, slack ? "too large: the screw is slack" : "counts: the screw is tight"],
      ["The same, locked", `${now.tight_mm.toFixed(2)} mm`, `to be set: ${size.setting_mm} mm`],
      ["Hollow screw", slack ? `${now.lift_mm.toFixed(2)} mm off` : "stands", slack ? "its foot hangs in the air" : "its foot is pressed on the motor end"],
      ["The springs are held by", slack ? "the retaining screw’s head" : "retaining screw and hollow screw", slack ? "the body can tilt and rattle" : "clamped together: the body cannot move"],
    ];
    const sentence = `Retaining screw ${slack ? `let off by ${values.let_off.toFixed(2)} of a turn` : "tight"}. ${facts.map(([name, is]) => `${name}: ${is}`).join(". ")}.`;
    picture.setAttribute("aria-label", sentence);
    return { facts, words: sentence };
  };
  let before = by.get("hollow_deg").get();
  const advance = (values, story_s) => {
    const moves = glide.advance(story_s);
    // The hollow screw does not turn under a tight bolt: a hand that turns it lets the bolt off first.
    if (values.hollow_deg !== before && values.let_off === 0 && !moves) by.get("let_off").set(OFF, true);
    before = values.hollow_deg;
    return moves;
  };
  const flat_in = () => Math.max(by.get("hollow_deg").told.range[0], by.get("hollow_deg").get() - 60);
  const stills = [{ let_off: 0, hollow_deg: 0 }, { let_off: 0.25 }, { hollow_deg: -60 }, { let_off: 0 }];
  let at = 0;
  const story = {
    begin: [
      ["Slacken it a quarter", (control) => glide.to(control, { let_off: OFF })],
      ["Hollow screw in by a flat", (control) => glide.to(control, { let_off: Math.max(OFF, by.get("let_off").get()) }, { hollow_deg: flat_in() })],
      ["Tighten", (control) => glide.to(control, { let_off: 0 })],
    ],
    step: () => {
      at = (at + 1) % stills.length;
      Object.entries(stills[at]).forEach(([name, target]) => by.get(name).set(target, true));
    },
    pace: false,
  };
  const svg = draw("svg", { viewBox: "0 14 630 300", role: "group", "aria-label": "A retaining screw and its hollow screw, cut open" }, picture, head.node);
  return { views: [svg], story, advance, show, courses: () => {} };
}

export default living(oneScrew);
