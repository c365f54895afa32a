// One figure with its caption. Asks the kernel for it when it comes near the window, or when the
// page has been still for a while; draws what it is told and works out nothing.

const STILL_MS = 4000;
const NEAR = "900px 0px";

/** @param {{ model: import("@anywidget/types").AnyModel, el: HTMLElement }} context */
function render({ model, el }) {
  el.classList.add("gal", "gal-figure");
  const figure = document.createElement("figure");
  const waiting = document.createElement("p");
  const picture = document.createElement("img");
  const words = document.createElement("figcaption");
  waiting.className = "figure-waiting";
  waiting.textContent = "Drawing the figure…";
  figure.append(waiting);
  el.append(figure);

  let asked = false;
  const ask = () => {
    if (asked) return;
    asked = true;
    clearTimeout(still);
    watch.disconnect();
    model.send({ ask: "figure" });
  };
  const watch = new IntersectionObserver((seen) => { if (seen.some((one) => one.isIntersecting)) ask(); }, { rootMargin: NEAR });
  const still = setTimeout(ask, STILL_MS);
  watch.observe(el);
  const hear = (told) => {
    if (!told.figure) return;
    picture.src = told.figure.url;
    picture.alt = told.figure.alt;
    words.textContent = told.figure.alt;
    figure.replaceChildren(picture, words);
  };
  model.on("msg:custom", hear);
  return () => {
    clearTimeout(still);
    watch.disconnect();
    model.off("msg:custom", hear);
  };
}

export default { render };
