// A row of pictures of signs, each with its name and what to look for. Asks for them once; sends nothing else.

import { make } from "../../../widgets/page/dom.js";
import { sign } from "../../../widgets/bench/view/drawing/sign_pictures.js";

function render({ model, el }) {
  el.classList.add("gal", "gal-signs");
  const show = ({ signs }) => {
    if (!signs) return;
    el.replaceChildren(make("ul", { class: "signs" }, ...signs.map(([code, name, words]) => make("li", {}, sign(code), make("b", {}, name), make("span", {}, words)))));
  };
  model.on("msg:custom", show);
  model.send({ ask: "signs" });
  return () => model.off("msg:custom", show);
}

export default { render };
