// The answer line: what was last seen, felt or heard, in words, and the five before it.
// Speaks for every part of its bench; sends no wish.

import { make } from "../../../page/dom.js";
import { connect } from "./line.js";
import { startWords } from "./stages.js";
import { justBefore } from "./together.js";

const KEPT = 5;
const BACK = "The connection was lost and is back. You see the brake as it is now.";
const LOST = "No answer from the bench. Whatever had been done is kept: load the page again to go on.";

// What a picture shows is said to a voice only: the eye has the picture.
const sentence = (reply) =>
  make(
    "p", { class: reply.done ? "said" : "said is-not" },
    ...(reply.done ? [] : [make("b", {}, "Not possible: ")]),
    (reply.printed ?? reply.words).replace(reply.alarm || "\0", "").trim(),
    reply.pictured ? make("span", { class: "for-voice" }, ` ${reply.pictured}`) : null,
  );

const alarmOf = (reply) =>
  reply.alarm ? make("p", { class: "gal-danger" }, make("b", {}, "Danger. "), reply.alarm) : null;

function render({ model, el }) {
  el.classList.add("gal", "gal-answer");
  const latest = make("div", { role: "status", "aria-live": "polite", "aria-atomic": "true" });
  const alarm = make("div", { role: "alert" });
  const lost = make("div", { role: "alert" });
  const before = make("ol");
  const earlier = make("details", { hidden: true }, make("summary", {}, "Earlier answers"), before);
  let kept = [];

  // For the eye the newest answer, and what the same press did not get done; for a voice all that it brought.
  const say = (reply) => {
    const now = { reply, at_ms: performance.now() };
    const heard = justBefore(kept, now.at_ms);
    const aside = (one) => one.reply.done && !one.reply.alarm;
    latest.replaceChildren(...heard.map((one) => make("div", { class: aside(one) ? "just-before" : "" }, sentence(one.reply))), sentence(reply));
    alarm.replaceChildren(...[...heard, now].map((one) => alarmOf(one.reply)).filter(Boolean));
    before.replaceChildren(...kept.map((old) => make("li", {}, sentence(old.reply), alarmOf(old.reply))));
    earlier.hidden = !kept.length;
    kept = [now, ...kept].slice(0, KEPT);
  };

  // After a cut: what was done last, heard or not, under the sentence that says so.
  const back = (reply) => {
    if (reply && JSON.stringify(reply) !== JSON.stringify(kept[0]?.reply)) say(reply);
    latest.querySelector(".was-cut")?.remove();
    latest.prepend(make("p", { class: "said was-cut" }, reply ? `${BACK} What was done last:` : BACK));
  };

  const bench = connect(model, (known, { reply, fixed }) => {
    if (fixed && known.again) back(reply);
    else if (reply) say(reply);
    else if (fixed) latest.replaceChildren(make("p", { class: "said" }, startWords(fixed.start)));
  });
  bench.answers();
  bench.listen("gal-answer", ({ reply }) => say(reply));
  bench.listen("gal-lost", ({ lost: is }) => {
    if (is === Boolean(lost.firstChild)) return;
    lost.replaceChildren(...(is ? [make("p", { class: "lost" }, LOST)] : []));
  });
  el.append(lost, alarm, latest, earlier);
  bench.ask();
  return () => bench.close();
}

export default { render };
