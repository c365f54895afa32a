// Questions, one below another or one at a time: draws what the kernel describes, sends answers.
// Marks nothing and knows no right answer; feedback is what the kernel says, if it says any.

import { button, make } from "../../../widgets/page/dom.js";
import { answering } from "./question_kinds.js";
import { lacks, unbroken, verdict } from "./question_order.js";

const LATE = 8000; // ms until a person is told that nothing came back

/** Return one question on the page. */
const card = (send, at, count, feedback) => {
  const body = make("div", { class: "q-body" });
  const reply = make("div", { class: "q-reply", role: "status" });
  const heading = make("h3", { tabindex: "-1" }, `Question ${at + 1} of ${count}`);
  const node = make("section", { class: "q-card", "aria-label": `Question ${at + 1} of ${count}` }, heading, body, reply);
  let late = 0;
  let posed = null;

  const say = (...children) => reply.replaceChildren(...children);
  const tell = (words) => say(make("p", { class: "q-said" }, words));
  const busy = (on) => {
    clearTimeout(late);
    body.querySelectorAll("button").forEach((one) => { one.disabled = on; });
    if (on) late = setTimeout(() => { busy(false); tell("No answer came back. Press again; if that does not help, load the page again."); }, LATE);
  };

  const pose = (question) => {
    posed = question;
    busy(false);
    const has = node.contains(document.activeElement);
    const answer = answering(question, (words) => tell(words));
    const give = () => {
      const given = answer.get();
      const missing = lacks(question, given);
      if (missing) return tell(missing);
      busy(true);
      send({ at, answer: given });
    };
    const another = feedback && question.another
      ? button("Another one", () => { busy(true); send({ another: at }); }, { "aria-label": `Another one like question ${at + 1}` }) : null;
    const form = make("form", { submit: (event) => { event.preventDefault(); give(); } },
      make("p", { class: "q-text" }, unbroken(question.text)), ...answer.nodes,
      make("div", { class: "row" }, make("button", { type: "submit", class: "main" }, feedback ? "Check my answer" : "Keep this answer"), another));
    body.replaceChildren(form);
    if (question.given) answer.set(question.given);
    say();
    if (question.kept) kept();
    if (question.marked) show(question.marked);
    if (has) heading.focus();
  };

  // The same question, empty: whoever has read why may answer it now.
  const onceMore = () => {
    delete node.dataset.state;
    pose({ ...posed, given: null, marked: null });
    body.querySelector("input, select, button")?.focus();
  };
  const show = (marked) => {
    busy(false);
    node.dataset.state = marked.right ? "right" : "wrong";
    const parts = [make("p", { class: "q-verdict" }, verdict(marked))];
    parts.push(...marked.caught.map((words) => make("p", {}, make("b", {}, "Behind this answer: "), unbroken(words))));
    if (!marked.right) parts.push(make("p", {}, make("b", {}, "Right is: "), unbroken(marked.answer)));
    parts.push(make("p", {}, make("b", {}, "Why: "), unbroken(marked.words)));
    if (marked.source) parts.push(make("p", { class: "quiet" }, `Source: ${marked.source}`));
    if (!marked.right) parts.push(make("div", { class: "row" }, posed.another ? button("Try one like it", () => { busy(true); send({ another: at }); }) : button("Try once more", onceMore)));
    say(make("div", { class: marked.right ? "q-told right" : "q-told" }, ...parts));
  };
  const kept = () => {
    busy(false);
    node.dataset.state = "kept";
    tell("Kept. You may change it until you hand in.");
  };
  const refused = (words) => { busy(false); tell(words); };
  return { node, pose, show, kept, refused, heading, close: () => clearTimeout(late) };
};

/** @param {{ model: import("@anywidget/types").AnyModel, el: HTMLElement }} context */
function render({ model, el }) {
  el.classList.add("gal", "gal-questions");
  const waiting = make("p", { class: "quiet", role: "status" }, "Asking for the questions…");
  el.append(waiting);
  const late = setTimeout(() => { waiting.textContent = "No questions yet. If this stays, load the page again."; }, LATE);
  const send = (content) => model.send(content);
  let cards = [];
  let now = 0;

  const draw = ({ questions, title, words, feedback, one }) => {
    clearTimeout(late);
    cards.forEach((each) => each.close());
    cards = questions.map((_, at) => card(send, at, questions.length, feedback));
    cards.forEach((each, at) => each.pose(questions[at]));
    const foot = make("div", { class: "row q-foot" });
    const said = make("p", { class: "q-said", role: "status" });
    if (one && cards.length > 1) foot.append(back, next);
    if (!feedback) foot.append(handIn());
    el.replaceChildren(...[
      title ? make("h2", {}, title) : null,
      words ? make("p", { class: "q-words" }, words) : null,
      ...cards.map((each) => each.node), said, foot].filter(Boolean));
    turn = (to, focus) => {
      now = Math.max(0, Math.min(cards.length - 1, to));
      if (one) cards.forEach((each, at) => { each.node.hidden = at !== now; });
      back.setAttribute("aria-disabled", String(now === 0));
      next.setAttribute("aria-disabled", String(now === cards.length - 1));
      if (focus) cards[now].heading.focus();
    };
    tell = (sentence) => { said.textContent = sentence; };
    turn(Math.min(now, cards.length - 1), false);
  };
  let turn = () => {};
  let tell = () => {};
  const back = button("Back", () => turn(now - 1, true));
  const next = button("Next question", () => turn(now + 1, true));

  const handIn = () => button("Hand in my answers", () => send({ hand_in: true }), { class: "q-hand-in" });
  // Another answer is kept: what was said of those left open no longer holds.
  const goOn = () => {
    tell("");
    el.querySelector(".q-hand-in")?.replaceWith(handIn());
  };
  const confirm = (sentence) => {
    tell(sentence);
    el.querySelector(".q-hand-in")?.replaceWith(button("Hand in as it is", () => send({ hand_in: true, sure: true }), { class: "main q-hand-in" }));
  };
  const close = (sentence) => {
    cards.forEach((each) => each.close());
    el.replaceChildren(make("p", { class: "q-said", role: "status", tabindex: "-1" }, sentence));
    el.firstChild.focus();
  };
  const hear = (message) => {
    if (message.questions) draw(message);
    if (message.question) cards[message.at]?.pose(message.question);
    if (message.marked) cards[message.at]?.show(message.marked);
    if (message.kept) { cards[message.at]?.kept(); goOn(); }
    if (message.refused) cards[message.at]?.refused(message.refused);
    if (message.open) confirm(message.open);
    if (message.finished) close(message.finished);
    if (message.reply) tell(message.reply.words);
  };
  model.on("msg:custom", hear);
  send({ ask: "questions" });
  return () => { clearTimeout(late); cards.forEach((each) => each.close()); model.off("msg:custom", hear); };
}

export default { render };
