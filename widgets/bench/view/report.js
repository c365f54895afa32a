// The report: what the brake needs, by which row, and the hand-over that is signed.
// Sends decide and hand_over; judges nothing.

import { button, choices, make } from "./dom.js";
import { connect } from "./line.js";

const MOST_WORDS = 600;
// By the alphabet, so that the order says nothing.
const OUTCOMES = [
  ["adjust", "Adjust the gap"],
  ["fit", "Fit for service as it is"],
  ["replace", "Replace the friction disc"],
  ["refer", "Take out of service and refer"],
];
const SERVICE = [["in", "Into service"], ["out", "Kept out of service, locked and tagged"]];
const words = (options, value) => options.find(([own]) => own === value)?.[1] ?? value;

const writing = (label) => {
  const field = make("textarea", { maxlength: MOST_WORDS, rows: 3 });
  return [make("label", { class: "writing" }, make("span", {}, label), field), field];
};

function signing(sign) {
  const what = make("p", { class: "felt" });
  const ask = make(
    "dialog", { class: "sure", "aria-label": "Sign the record?" },
    make("h3", {}, "Sign the record?"),
    what,
    make("p", {}, "Your signature stands under it, and after that nothing on this job can be changed."),
    make("div", { class: "row" }, button("Sign and hand over", () => (ask.close(), sign()), { class: "main" }), button("Go back", () => ask.close(), { autofocus: "" })),
  );
  return { node: ask, open: (text) => ((what.textContent = text), ask.showModal()) };
}

function render({ model, el }) {
  el.classList.add("gal", "gal-report");
  const outcome = choices("What does this brake need?", OUTCOMES, () => {}, { class: "choice list" });
  const service = choices("The hoist goes", SERVICE, () => {}, { class: "choice list" });
  const [whyLabel, why] = writing("Why, from your readings");
  const [remarksLabel, remarks] = writing("Remarks for the next person");
  const rowWords = make("p");
  const record = make("p", { class: "record" });
  const done = make("p", { class: "stamp", tabindex: -1 });

  const sure = signing(() => bench.wish("hand_over", { into_service: service.get() === "in", remarks: remarks.value }));
  const decide = () => {
    if (!row) return bench.decline("Choose your row on the limits sheet first.");
    if (!outcome.get()) return bench.decline("Choose first what this brake needs.");
    bench.wish("decide", { outcome: outcome.get(), row, why: why.value });
  };
  const handOver = () => {
    if (!service.get()) return bench.decline("Choose first where the hoist goes: into service, or kept out.");
    sure.open(words(SERVICE, service.get()));
  };
  let row = null;

  const bench = connect(model, (known, message) => {
    const { scene } = known;
    row = known.row;
    rowWords.textContent = row ? `By the row ${row} of the limits sheet.` : "No row chosen yet: choose it on the limits sheet.";
    if (!scene) return;
    record.textContent = scene.decision
      ? `On the record: ${words(OUTCOMES, scene.decision)}, by the row ${scene.decision_row}.`
      : "On the record: no decision yet.";
    work.hidden = scene.handed_over;
    done.hidden = !scene.handed_over;
    done.textContent = scene.handed_over
      ? `Handed over: ${scene.into_service ? "into service" : "kept out of service, locked and tagged"}. The record is signed.`
      : "";
    if (scene.handed_over && message.scene && !message.fixed) done.focus(); // the key that had the focus is gone
  });
  const work = make(
    "div", { class: "two" },
    make("section", { role: "group", "aria-label": "Decide" }, make("h3", {}, "Decide"), outcome.node, rowWords, whyLabel, button("Write the decision", decide, { class: "main" })),
    make("section", { role: "group", "aria-label": "Hand over" }, make("h3", {}, "Hand over"), service.node, remarksLabel, button("Hand over…", handOver, { class: "main" })),
  );
  done.hidden = true;
  el.append(make("h2", {}, "Report"), record, work, done, sure.node);
  bench.ask();
  return () => bench.close();
}

export default { render };
