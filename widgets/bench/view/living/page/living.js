// What all living drawings share: the tables come once, the page draws them frame by frame while anything moves.
// Asks for tables and then for courses; sends nothing else; works out no physics.

import { make } from "../../../../page/dom.js";
import { factList, voice } from "./facts.js";
import { player } from "./player.js";
import { controls } from "./sliders.js";

/**
 * Return an anywidget module for a scene.
 * `makeScene(told, hands)` returns: `views` (drawings), `story` (for the player), `show(values, control)` to
 * `{ facts, words }`, and if it moves by itself `advance(values, story_s)` to whether it moves on.
 */
export const living = (makeScene) => ({
  render({ model, el }) {
    el.classList.add("gal", "gal-living", "gal-lines");
    const waiting = make("p", { class: "quiet", role: "status" }, "Setting out the brake…");
    el.append(waiting);
    let scene = null;
    let hands = null;
    let keys = null;
    let handle = 0;
    let last = 0;
    const facts = factList();
    const said = voice();

    const wake = () => {
      if (handle || !scene) return;
      last = performance.now();
      handle = requestAnimationFrame(frame);
    };
    const frame = (now) => {
      handle = 0;
      const frame_s = Math.max(0, now - last) / 1000;
      last = now;
      const values = hands.values();
      const runs = keys.tick(frame_s, values);
      const moves = scene.advance?.(values, keys.control.frame(frame_s), keys.control) ?? false;
      const { facts: rows, words } = scene.show(values, keys.control);
      facts.show(rows);
      said.say(words);
      if (runs || moves) handle = requestAnimationFrame(frame);
    };
    const build = (told) => {
      hands = controls(told.controls, wake);
      scene = makeScene(told, hands);
      keys = player(scene.story, wake);
      const views = make("div", { class: `living-views living-views-${told.scene}` }, ...scene.views);
      const caption = make("p", { class: "living-caption quiet" }, told.caption);
      el.replaceChildren(views, keys.node, hands.node, facts.node, caption, said.node);
      el.dataset.scene = told.scene;
      wake();
      model.send({ ask: "courses" });
    };
    const hear = (heard) => {
      if (heard.tables && !scene) build(heard);
      if (heard.courses && scene) {
        scene.courses(heard.courses);
        keys.ready(true);
        wake();
      }
    };
    model.on("msg:custom", hear);
    model.send({ ask: "tables" });
    return () => {
      cancelAnimationFrame(handle);
      handle = -1;
      said.hush();
      model.off("msg:custom", hear);
    };
  },
});
