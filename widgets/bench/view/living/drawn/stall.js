// A brake with its own hoist beside it: the section above, the load to its right.

import { draw } from "../../../../page/dom.js";
import { write } from "../page/facts.js";
import { hoist } from "./hoist.js";
import { livingBrake } from "./living_brake.js";

const CLACK_S = 0.012; // of the story, on either side of the blow: how long the word is shown

/** Return a stall: `title`, the hoist's figures, and what shows a state of `stopState`. */
export function stall({ scale, most_mm, kg, title }) {
  const brake = livingBrake({ scale, right: 448 });
  const load = hoist({ x: 500, y: 98, room: 128, most_mm, kg });
  const word = draw("text", { class: "clack-word", y: 90 });
  const picture = draw("g", { role: "img" }, brake.node, load.node, word, draw("text", { class: "name", x: 62, y: 82 }, title));
  const node = draw("svg", { viewBox: "54 70 570 240", role: "group", "aria-label": title }, picture);
  let said = "";
  /** Show a state; `rate` is how fast the story runs on the page, `landed_s` how long ago the plate struck. */
  const show = (state, rate, landed_s, words) => {
    const at = brake.show({ ...state, speed_rev_s: state.speed_rev_s * rate });
    load.show(state.travel_mm);
    word.setAttribute("x", (250 + at.plate).toFixed(1));
    write(word, landed_s >= 0 && landed_s < CLACK_S * Math.max(1, rate * 20) ? "clack" : "");
    if (words !== said) picture.setAttribute("aria-label", (said = words));
  };
  return { node, show };
}
