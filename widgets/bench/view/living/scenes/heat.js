// Two hours of stops: what one brings, how warm the faces get, and how much grip is left. Reads the kernel's tables; sends nothing.

import { draw } from "../../../../page/dom.js";
import { livingBrake } from "../drawn/living_brake.js";
import { unitsPerMm } from "../drawn/stance.js";
import { trace } from "../drawn/trace.js";
import { living } from "../page/living.js";
import { heatState } from "../reading/work_state.js";

const STORY_S = 16; // how long the two hours take on the page
const BURNS_C = 60; // a hand on it is burnt; the mark on the scale

function heat({ size, tables }, { by }) {
  const brake = livingBrake({ scale: unitsPerMm(size), right: 430 });
  const glow = [[134, 13], [165, 13]].map(([x, width]) => draw("rect", { class: "glow", x: x - 3, y: 142, width: width + 6, height: 58 }));
  const [foot, top] = [262, 96];
  const height = (c) => foot - (Math.min(c, size.most_c) / size.most_c) * (foot - top);
  const column = draw("rect", { x: 493, width: 14, class: "column" });
  const scale = draw("g", {}, draw("rect", { x: 488, y: top - 6, width: 24, height: foot - top + 12, rx: 12, class: "f" }), column,
    ...[0, 100, 200, 300, 400, 500, 600].filter((c) => c <= size.most_c).flatMap((c) => [draw("path", { class: "l", d: `M512 ${height(c)} h8` }), draw("text", { class: "tick", x: 526, y: height(c) + 1 }, String(c))]),
    draw("text", { class: "sign", x: 500, y: top - 22 }, "°C"), draw("path", { class: "from", d: `M470 ${height(size.fade_c)} H560` }), draw("text", { class: "mm", x: 564, y: height(size.fade_c) }, "fades"));
  const picture = draw("g", { role: "img" }, brake.node, ...glow, scale);
  const strip = trace([`faces, 0 to ${size.most_c} °C`, "grip left"]);
  const hours = size.hours * 3600;
  const read = (values, time_s) => heatState(tables, values, Math.min(hours, time_s), size.air_c, size.most_c);
  const show = (values, control) => {
    const time_s = (control.time() / STORY_S) * hours;
    const now = read(values, time_s);
    const at = brake.show({ gap_mm: values.gap_mm, open_mm: values.gap_mm });
    glow.forEach((one) => {
      one.setAttribute("transform", `translate(${at.disc.toFixed(1)} 0)`);
      one.style.opacity = Math.min(0.85, Math.max(0, (now.face_c - size.air_c) / (size.most_c - size.air_c))).toFixed(2);
    });
    column.setAttribute("y", height(now.face_c).toFixed(1));
    column.setAttribute("height", (foot - height(now.face_c)).toFixed(1));
    const along = (when) => read(values, (when / STORY_S) * hours);
    strip.show(JSON.stringify([values.side, values.stops, values.gap_mm]), [(when) => along(when).face_c / size.most_c, (when) => along(when).share], control.time(), STORY_S);
    const beyond = now.face_c > size.most_c;
    const facts = [
      ["One stop makes", `${now.stop_kj.toFixed(2)} kJ`, `warms the faces by ${now.one_k.toFixed(1)} K`],
      ["Faces, after a stop", beyond ? `over ${size.most_c} °C` : `${now.face_c.toFixed(0)} °C`, now.face_c > BURNS_C ? "burns the hand: wait" : "warm", now.face_c > BURNS_C],
      ["Grip left", `${(100 * now.share).toFixed(0)} %`, now.share < 0.999 ? "the brake fades" : "no fade yet"],
      ["Holds", `${now.times_load.toFixed(2)} times the load`, beyond ? "beyond 600 °C nothing is known" : "with sound, dry linings", now.times_load < size.asked],
    ];
    const words = `After ${(time_s / 60).toFixed(0)} minutes: ${facts.map(([name, is, note]) => `${name} ${is}, ${note}`).join(". ")}.`;
    picture.setAttribute("aria-label", words);
    return { facts, words };
  };
  const story = {
    begin: [["Let it work", (control) => control.play()]],
    step: (control) => control.next([0, 0.125, 0.25, 0.5, 0.75, 1].map((share) => [share * STORY_S])),
    end: () => STORY_S,
    pace: false,
    scrubWords: "Time in work",
    timeWords: (time_s) => `${((time_s / STORY_S) * size.hours * 60).toFixed(0)} min`,
  };
  const svg = draw("svg", { viewBox: "54 56 570 234", role: "group", "aria-label": "The brake, cut open, with its temperature" }, picture);
  return { views: [svg, strip.node], story, show, courses: () => {} };
}

export default living(heat);
