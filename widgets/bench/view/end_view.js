// The end view of the brake, and what is in the hand: nothing, feeler leaves, wrench or caliper.
// Draws the scene and the person's own readings, never the true gap; sends the wishes of the tool.

import { choices, make } from "./dom.js";
import { discTool } from "./disc.js";
import { endDrawing, sceneWords } from "./drawing.js";
import { handsTool } from "./jobs.js";
import { leafTool } from "./leaf.js";
import { connect } from "./line.js";
import { showRing } from "./ring.js";
import { wrenchTool } from "./wrench.js";

function render({ model, el }) {
  el.classList.add("gal", "gal-end");
  const title = make("p", { class: "order" });
  const state = make("p");

  const drawing = endDrawing((number) => {
    hand.set("wrench");
    hold("wrench");
    tools.wrench.pick(number);
  });

  const show = (known, message) => {
    if (known.scene) {
      const words = sceneWords(known.scene);
      if (message.fixed) title.textContent = known.fixed.work_order;
      drawing.show(known.scene, words);
      showRing(drawing.ring, known);
      state.textContent = words;
    }
    Object.values(tools).forEach((tool) => tool.show(known, message));
  };
  const bench = connect(model, show);
  const tools = {
    hands: handsTool(bench),
    leaf: leafTool(bench, drawing),
    wrench: wrenchTool(bench, drawing),
    disc: discTool(bench, drawing),
  };

  const hold = (name) => {
    drawing.tool.replaceChildren(...[tools[name].mark].filter(Boolean));
    Object.entries(tools).forEach(([own, tool]) => (tool.panel.hidden = own !== name));
  };
  const hand = choices("In your hand", Object.entries(tools).map(([name, tool]) => [name, tool.name]), hold, { rowClass: "keys hand" });

  el.append(
    make("figure", {}, title, drawing.svg, make("figcaption", {}, state)),
    make("div", { class: "work" }, hand.node, ...Object.values(tools).map((tool) => tool.panel)),
  );
  hand.set("hands");
  hold("hands");
  bench.ask();
  return () => bench.close();
}

export default { render };
