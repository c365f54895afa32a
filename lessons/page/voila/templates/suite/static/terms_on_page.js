// In a lesson: makes each word of the trade a key where it is first used; pressed, it says what the
// word means and leads to the glossary. Works with mouse, touch, keyboard and screen reader.
import { firstUses, lexicon } from "./terms.js";

const NOT_IN = "h1, h2, h3, h4, a, button, code, pre, mjx-container, math, svg, table, summary";
const STOPS = /^[.,;:!?)’”]*/; // what may not begin a line
const OPENS = /[(“‘]*$/; // what may not end one
const settings = () => JSON.parse(document.getElementById("jupyter-config-data").textContent);

const make = (tag, given = {}, ...children) => {
  const node = document.createElement(tag);
  for (const [name, value] of Object.entries(given)) {
    if (typeof value === "function") node.addEventListener(name, value);
    else node.setAttribute(name, value);
  }
  node.append(...children);
  return node;
};

const start = () => {
  const { suite, baseUrl } = settings();
  const words = lexicon(suite.terms);
  const glossary = `${baseUrl}voila/render/${suite.folder}glossary.ipynb`;
  const says = make("div", { class: "suite-gloss", id: "suite-gloss", popover: "auto" });
  if (typeof says.showPopover !== "function") return; // an old browser: the glossary page is still there
  document.body.append(says);
  let pressed = null;

  says.addEventListener("toggle", (event) => {
    pressed?.setAttribute("aria-expanded", String(event.newState === "open"));
  });
  const place = (key) => {
    const box = key.getBoundingClientRect();
    const { offsetWidth: wide, offsetHeight: high } = says;
    const left = Math.max(12, Math.min(box.left, innerWidth - wide - 12));
    const under = box.bottom + 6;
    const top = under + high < innerHeight - 8 ? under : Math.max(8, box.top - high - 6);
    Object.assign(says.style, { left: `${left}px`, top: `${top}px` });
  };
  const explain = (key, term) => {
    pressed?.setAttribute("aria-expanded", "false");
    pressed = key;
    says.replaceChildren(
      make("p", {}, make("strong", {}, term.term), `: ${term.means}`),
      make("a", { href: `${glossary}#${term.anchor}`, target: "_blank", rel: "noopener" }, "In the glossary (new tab)"),
    );
    key.after(says); // next in the order of the Tab key
    says.showPopover({ source: key });
    place(key);
  };
  const keyFor = (text, term) => {
    const key = make("button", { type: "button", class: "suite-term", "aria-expanded": "false", click: () => {
      if (pressed === key && says.matches(":popover-open")) says.hidePopover();
      else explain(key, term);
    } }, text);
    return key;
  };

  // A term that is bold by itself: the comma behind it and the bracket before it stand outside.
  const keepTogether = (bold) => {
    const text = (node) => (node?.nodeType === Node.TEXT_NODE ? node : null);
    const [before, behind] = [text(bold.previousSibling), text(bold.nextSibling)];
    const [opens, stop] = [before?.data.match(OPENS)[0] ?? "", behind?.data.match(STOPS)[0] ?? ""];
    if (!opens && !stop) return;
    if (opens) before.data = before.data.slice(0, -opens.length);
    if (stop) behind.data = behind.data.slice(stop.length);
    const kept = make("span", { class: "suite-with-stop" });
    bold.replaceWith(kept);
    kept.append(opens, bold, stop);
  };

  const met = new Set();
  const mark = (node) => {
    const found = firstUses(node.data, words, met);
    for (const { term, start: from, end } of found.reverse()) {
      const rest = node.splitText(from);
      const after = rest.splitText(end - from);
      const [stop] = after.data.match(STOPS);
      after.data = after.data.slice(stop.length);
      const [opens] = node.data.match(OPENS);
      node.data = node.data.slice(0, node.data.length - opens.length);
      const key = keyFor(rest.data, term);
      rest.replaceWith(opens || stop ? make("span", { class: "suite-with-stop" }, opens, key, stop) : key);
      const bold = key.parentElement;
      if (bold.matches("strong, b, em, i") && bold.textContent === key.textContent) keepTogether(bold);
    }
  };
  const seen = new WeakSet();
  const markAll = () => {
    for (const part of document.querySelectorAll("#rendered_cells .jp-RenderedMarkdown")) {
      if (seen.has(part)) continue;
      seen.add(part);
      const walker = document.createTreeWalker(part, NodeFilter.SHOW_TEXT);
      const texts = [];
      while (walker.nextNode()) texts.push(walker.currentNode);
      // What is between dollar signs is a formula that is not set yet.
      for (const text of texts) if (!text.parentElement.closest(NOT_IN) && !text.data.includes("$")) mark(text);
    }
  };
  const body = document.getElementById("rendered_cells");
  if (!body.hidden) { markAll(); return; }
  const waiting = new MutationObserver(() => {
    if (body.hidden) return;
    waiting.disconnect();
    markAll();
  });
  waiting.observe(body, { attributes: true, attributeFilter: ["hidden"] });
};

if (document.readyState === "loading") document.addEventListener("DOMContentLoaded", start);
else start();
