// The report: what the brake needs, by which row, what was found and why; and the hand-over that is signed.
// Sends decide and hand_over; judges nothing.

import { button, choices, make, numberField } from "../../../page/dom.js";
import { findings, MOST_FOUND } from "./findings.js";
import { connect } from "./line.js";

const MOST_WORDS = 600;
const MOST_DAYS = 1000;
// By the alphabet, so that the order says nothing.
const OUTCOMES = [
  ["adjust", "Adjust the gap"],
  ["fit", "Fit for service as it is"],
  ["replace", "Replace the friction disc"],
  ["refer", "Take out of service and refer"],
];
const SERVICE = [["in", "Into service"], ["out", "Kept out of service, locked and tagged"], ["test", "Locked and tagged: left for a load test by somebody who may do one"]];
const NO_ROW = "Choose your row first: on the limits sheet, or here.";
const words = (options, value) => options.find(([own]) => own === value)?.[1] ?? value;

const writing = (label) => {
  const field = make("textarea", { maxlength: MOST_WORDS, rows: 3 });
  return [make("label", { class: "writing" }, make("span", {}, label), field), field];
};

// A question before what cannot be taken back.
function signing(title, warning, press, sign) {
  const what = make("p", { class: "felt" });
  const ask = make(
    "dialog", { class: "sure", "aria-label": title },
    make("h3", {}, title), what, make("p", {}, warning),
    make("div", { class: "row" }, button(press, () => (ask.close(), sign()), { class: "main" }), button("Go back", () => ask.close(), { autofocus: "" })),
  );
  return { node: ask, open: (text) => ((what.textContent = text), ask.showModal()) };
}

function rowChoice(bench) {
  const select = make("select", { change: () => select.value && bench.chooseRow(select.value) });
  const option = (name) => make("option", { value: name }, name || "not chosen yet");
  const setOut = (rows) => select.replaceChildren(...["", ...rows.map((row) => row.name)].map(option));
  const node = make("label", { class: "field" }, make("span", {}, "By the row"), select);
  return { node, setOut, set: (row) => (select.value = row ?? "") };
}

/** Return the record in words: the decision, its row, what was found. */
export const recordWords = ({ decision, decision_row, decision_found }) => {
  if (!decision) return "On the record: no decision yet.";
  const found = decision_found.length ? ` Found: ${decision_found.join(", ")}.` : "";
  return `On the record: ${words(OUTCOMES, decision)}, by the row ${decision_row}.${found}`;
};

const inDays = (days) => (days === 1 ? "1 day" : `${days} days`);

/** Return what is on the stamp once the job is over. */
export const stampWords = (scene, ends) => {
  if (ends) return `Decided: ${words(OUTCOMES, scene.decision)}. The case ends here; the record is signed.`;
  const next = scene.next_days === null ? "" : ` Next inspection in ${inDays(scene.next_days)} at the latest.`;
  return `Handed over: ${scene.into_service ? "into service" : scene.awaits_test ? "locked and tagged, left for its load test" : "kept out of service, locked and tagged"}.${next} The record is signed.`;
};

/** Return the days until the next inspection as typed: null for none, NaN for what is no such number. */
export const daysTyped = (text) => {
  if (text === "") return null;
  const days = Number(text);
  return Number.isInteger(days) && days >= 1 && days <= MOST_DAYS ? days : NaN;
};

function decidePart(bench, rowNow, endsNow) {
  const outcome = choices("What does this brake need?", OUTCOMES, () => {}, { class: "choice list" });
  const found = findings(() => bench.decline(`At most ${MOST_FOUND} findings: take one away first.`));
  const byRow = rowChoice(bench);
  const [whyLabel, why] = writing("Why, from your readings");
  const send = () => bench.wish("decide", { outcome: outcome.get(), row: rowNow(), why: why.value, found: found.get() });
  const sure = signing("Is that your decision?", "The case ends with it: after that nothing on this job can be changed.", "Sign the decision", send);
  const decide = () => {
    if (!rowNow()) return bench.decline(NO_ROW);
    if (!outcome.get()) return bench.decline("Choose first what this brake needs.");
    if (endsNow()) return sure.open(`${words(OUTCOMES, outcome.get())}, by the row ${rowNow()}`);
    send();
  };
  const press = button("Write the decision", decide, { class: "main" });
  const setOut = (fixed) => {
    byRow.setOut(fixed.sheet.rows);
    found.setOut(fixed.findings);
    press.textContent = fixed.ends_at_decision ? "Decide: the case ends here…" : "Write the decision";
  };
  const node = make("section", { role: "group", "aria-label": "Decide" }, make("h3", {}, "Decide"), outcome.node, byRow.node, found.node, whyLabel, press);
  return { node, dialog: sure.node, setOut, showRow: byRow.set };
}

function handOverPart(bench) {
  const service = choices("The hoist goes", SERVICE, () => {}, { class: "choice list" });
  const [daysLabel, days] = numberField("Next inspection in", { min: 1, max: MOST_DAYS, step: 1 }, "days");
  const [remarksLabel, remarks] = writing("Remarks for the next person");
  const duty = make("p", { class: "quiet" });
  const send = () => bench.wish("hand_over", { into_service: service.get() === "in", awaits_test: service.get() === "test", remarks: remarks.value, next_days: daysTyped(days.value) });
  const sure = signing("Sign the record?", "You put your signature to it, and after that nothing on this job can be changed.", "Sign and hand over", send);
  const ask = () => {
    if (!service.get()) return bench.decline("Choose first where the hoist goes: into service, or kept out.");
    const typed = daysTyped(days.value);
    if (Number.isNaN(typed)) return bench.decline(`Next inspection: a whole number of days from 1 to ${MOST_DAYS}, or nothing.`);
    sure.open(`${words(SERVICE, service.get())}. ${typed === null ? "No next inspection is set." : `Next inspection in ${inDays(typed)} at the latest.`}`);
  };
  const setOut = (fixed) => {
    const planned = fixed.planned_days ? ` The next inspection is planned in ${fixed.planned_days} days.` : "";
    duty.textContent = `This hoist makes about ${Math.round(fixed.stops_per_day)} stops a day. The local rule allows ${fixed.most_days} days at the most.${planned}`;
    node.hidden = fixed.ends_at_decision;
  };
  const node = make(
    "section", { role: "group", "aria-label": "Hand over" },
    make("h3", {}, "Hand over"), service.node, daysLabel, duty, remarksLabel, button("Hand over…", ask, { class: "main" }),
  );
  return { node, dialog: sure.node, setOut };
}

function render({ model, el }) {
  el.classList.add("gal", "gal-report");
  let row = null;
  let ends = false;
  const record = make("p", { class: "record" });
  const done = make("p", { class: "stamp", tabindex: -1, hidden: true });

  const bench = connect(model, (known, message) => {
    const { scene } = known;
    if (message.fixed) {
      ends = known.fixed.ends_at_decision;
      [decision, handOver].forEach((part) => part.setOut(known.fixed));
    }
    row = known.row;
    decision.showRow(row);
    if (!scene) return;
    record.textContent = recordWords(scene);
    work.hidden = scene.handed_over;
    done.hidden = !scene.handed_over;
    done.textContent = scene.handed_over ? stampWords(scene, ends) : "";
    if (scene.handed_over && message.scene && !message.fixed) done.focus(); // the key that had the focus is gone
  });
  const decision = decidePart(bench, () => row, () => ends);
  const handOver = handOverPart(bench);
  const work = make("div", { class: "two" }, decision.node, handOver.node);
  el.append(make("h2", {}, "Report"), record, work, done, decision.dialog, handOver.dialog);
  bench.ask();
  return () => bench.close();
}

export default { render };
