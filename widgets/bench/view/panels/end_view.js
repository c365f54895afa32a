// The brake from the side and from the end, and what is in the hand: nothing, leaves, wrench, caliper or meter.
// Draws the scene and the person's own readings, never the true gap; sends the wishes of the tool.

import { caliperTool } from "../tools/caliper.js";
import { choices, make } from "../../../page/dom.js";
import { endDrawing, sceneWords } from "../drawing/drawing.js";
import { handsTool } from "../tools/jobs.js";
import { leafTool } from "../tools/leaf.js";
import { connect } from "./line.js";
import { lookTool } from "../sights/look.js";
import { meterTool } from "../tools/meter.js";
import { partsKey } from "./parts_key.js";
import { showRing } from "../drawing/ring.js";
import { sideView } from "../drawing/section.js";
import { wrenchTool } from "../tools/wrench.js";

const VIEWS = [["side", "From the side"], ["end", "From the end"]];
const SEEN_FROM = { hands: "side", leaf: "end", wrench: "end", caliper: "end", meter: "side" };
const RING = "The ring is the gap, unfolded, from the readings in the notes.";
// Which tool an action that is followed takes in the hand; bare hands for all others.
const TOOL_OF = {
  gauge_gap: "leaf", write_gap: "leaf", measure_disc: "caliper", write_disc: "caliper",
  measure_coil: "meter", find_release: "meter", write_value: "meter",
  try_lock: "wrench", loosen_lock: "wrench", tighten_lock: "wrench", turn_screw: "wrench",
  change_shim: "wrench", loosen_adjusting_ring: "wrench", turn_adjusting_ring: "wrench", lock_adjusting_ring: "wrench",
};
const NOT_HERE = "The brake is not here: there is nothing to work on. Read the notes, choose your row, and decide.";

// A tool of another module: a node and what shows a scene.
const plain = (name, { node, mark, show }) => ({ name, panel: make("div", { class: "tool" }, node), mark: mark ?? null, show });

function allTools(bench, drawing, hold) {
  return {
    hands: handsTool(bench, { take: hold, looks: lookTool(bench) }),
    leaf: leafTool(bench, drawing, hold),
    wrench: wrenchTool(bench, drawing),
    caliper: plain("Caliper", caliperTool(bench, drawing, hold)),
    meter: plain("Meter", meterTool(bench)),
  };
}

function twoViews(pickScrew, openPart) {
  const end = endDrawing(pickScrew, openPart);
  const side = sideView(openPart);
  const key = partsKey();
  const words = make("p");
  const look = (name) => {
    side.svg.style.display = key.node.style.display = name === "side" ? "" : "none";
    end.svg.style.display = words.style.display = name === "end" ? "" : "none";
    pick.set(name);
  };
  const pick = choices("View", VIEWS, look, { rowClass: "keys views" });
  const show = (known) => {
    words.textContent = known.fixed.at_the_brake === false ? RING : sceneWords(known.scene);
    end.show(known.scene, words.textContent);
    showRing(end.ring, known);
    key.show(side.show(known));
  };
  const figure = make("figure", {}, pick.node, side.svg, end.svg, make("figcaption", {}, key.node, words));
  /** Leave only the ring of the readings: the brake itself is somewhere else. */
  const ringOnly = () => {
    pick.node.hidden = true;
    look("end");
  };
  look("side");
  return { end, side, figure, look, show, ringOnly };
}

function render({ model, el }) {
  el.classList.add("gal", "gal-end", "gal-lines");
  let held = null;
  const hold = (name) => {
    held = name;
    views.end.tool.replaceChildren(...[tools[name].mark].filter(Boolean));
    Object.entries(tools).forEach(([own, tool]) => (tool.panel.hidden = own !== name));
    views.look(SEEN_FROM[name]);
    hand.set(name);
    views.side.work(null);
  };
  const views = twoViews(
    (number) => {
      hold("wrench");
      tools.wrench.pick(number);
    },
    (part) => {
      hold("hands");
      views.side.work(part);
      tools.hands.openPart(part);
    },
  );
  const show = (known, message) => {
    if (known.scene) views.show(known);
    if (message.fixed) {
      work.hidden = known.fixed.at_the_brake === false;
      absent.hidden = !work.hidden;
      if (work.hidden) views.ringOnly();
    }
    if (message.act) follow(message.act);
    Object.values(tools).forEach((tool) => tool.show(known, message));
  };
  // Somebody else works: the tool goes where their hand is.
  const follow = (act) => {
    const name = TOOL_OF[act.kind] ?? "hands";
    if (name !== held) hold(name);
    tools[name].follow?.(act);
  };
  const bench = connect(model, show);
  const take = (name) => {
    hold(name);
    hand.boxes.get(name).focus();
  };
  const tools = allTools(bench, views.end, take);
  const hand = choices("In your hand", Object.entries(tools).map(([name, tool]) => [name, tool.name]), hold, { rowClass: "keys hand" });
  const work = make("div", { class: "work" }, hand.node, ...Object.values(tools).map((tool) => tool.panel));
  const absent = make("p", { class: "work absent", hidden: true }, NOT_HERE);

  el.append(views.figure, work, absent);
  hold("hands");
  bench.ask();
  return () => bench.close();
}

export default { render };
