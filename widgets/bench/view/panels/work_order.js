// The work order: what was asked, where the job begins, what a colleague found, how long the work
// has taken and what is done. Draws; sends nothing. The time is what the work would take at a brake.

import { make } from "../../../page/dom.js";
import { connect } from "./line.js";
import { doneLines, startWords, timeWords } from "./stages.js";

function render({ model, el }) {
  el.classList.add("gal", "gal-order");
  const asked = make("p", { class: "what" });
  const begins = make("p");
  const authority = make("ul", { class: "given" });
  const given = make("ul", { class: "given" });
  const colleague = make("section", { "aria-label": "What a colleague found", hidden: true }, make("h3", {}, "What a colleague found"), given);
  const time = make("b");
  const done = make("ul", { class: "done" });
  const none = make("span", { class: "quiet" }, "nothing yet");

  const bench = connect(model, ({ fixed, scene }, message) => {
    if (message.fixed) {
      asked.textContent = fixed.work_order;
      begins.textContent = startWords(fixed.start);
      authority.replaceChildren(...(fixed.authority ?? []).map((line) => make("li", {}, line)));
      given.replaceChildren(...(fixed.given ?? []).map((line) => make("li", {}, line)));
      colleague.hidden = !fixed.given?.length;
    }
    if (!scene) return;
    time.textContent = timeWords(scene.elapsed_s);
    const lines = doneLines(scene);
    done.replaceChildren(...lines.map((line) => make("li", {}, line)));
    none.hidden = lines.length > 0;
  });
  el.append(
    make("h2", {}, "Work order"), asked, begins, authority, colleague,
    make("p", { class: "so-far" }, make("span", { class: "quiet" }, "So far: "), time, make("span", { class: "quiet" }, " · done: "), none),
    done,
  );
  bench.ask();
  return () => bench.close();
}

export default { render };
