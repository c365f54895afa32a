// The line between a part of the page and the kernel.
import assert from "node:assert/strict";
import { beforeEach, mock, test } from "node:test";

import { connect } from "../../../widgets/bench/view/panels/line.js";

const kernel = (key = "one") => {
  const sent = [];
  let heard = null;
  const model = {
    get: () => key,
    send: (content) => sent.push(content),
    on: (_, handler) => (heard = handler),
    off: () => (heard = null),
  };
  return { model, sent, answers: (message) => heard?.(message), deaf: () => heard === null };
};
const listen = (type) => {
  const details = [];
  document.addEventListener(type, (event) => details.push(event.detail));
  return details;
};

beforeEach(() => {
  globalThis.document = new EventTarget();
  mock.timers.reset();
});

test("connecting sends nothing; asking and wishing send one message each", () => {
  const { model, sent } = kernel();
  const bench = connect(model, () => {});
  assert.deepEqual(sent, []);
  bench.ask();
  bench.wish("land_load");
  bench.wish("loosen_lock", { screw: 2 });
  assert.deepEqual(sent, [{ ask: "everything" }, { wish: { kind: "land_load" } }, { wish: { kind: "loosen_lock", screw: 2 } }]);
  bench.close();
});

test("a refusal from the kernel is shown once, and not passed on to the other parts", () => {
  const said = listen("gal-answer");
  const { model, answers } = kernel();
  const shown = [];
  const bench = connect(model, (_, message) => shown.push(message.reply.words));
  answers({ reply: { done: false, words: "The cover is on." } });
  assert.deepEqual(shown, ["The cover is on."]);
  assert.deepEqual(said, []);
  bench.close();
});

test("what the kernel tells one part, each part of that bench shows once, and no part of another", () => {
  const [asks, beside, other] = [kernel("one"), kernel("one"), kernel("two")];
  const shown = [];
  const benches = [asks, beside, other].map(({ model }, at) => connect(model, (_, { reply }) => shown.push([at, reply.words])));
  const message = { reply: { done: true, words: "Cover off." }, scene: { decision_row: null } };
  asks.answers(message);
  asks.answers(message); // as a second view of the same part would
  assert.deepEqual(shown, [[0, "Cover off."], [1, "Cover off."]]);
  benches.forEach((bench) => bench.close());
});

test("what is declined on the page reaches the answer line without a message to the kernel", () => {
  const said = listen("gal-answer");
  const { model, sent } = kernel();
  const bench = connect(model, () => {});
  bench.decline("Choose a leaf first.");
  assert.deepEqual(said.map(({ reply }) => [reply.done, reply.words]), [[false, "Choose a leaf first."]]);
  assert.deepEqual(sent, []);
  bench.close();
});

test("five seconds without an answer are said, and an answer takes it back", () => {
  mock.timers.enable({ apis: ["setTimeout"] });
  const lost = listen("gal-lost");
  const { model, answers } = kernel();
  const bench = connect(model, () => {});
  bench.ask();
  mock.timers.tick(4999);
  assert.deepEqual(lost, []);
  mock.timers.tick(1);
  assert.deepEqual(lost, [{ table: "one", lost: true }]);
  answers({ scene: { decision_row: null }, fixed: {} });
  assert.equal(lost.at(-1).lost, false);
  bench.close();
});

test("a row chosen at one bench is not the row of another bench on the page", () => {
  const [mine, other] = [kernel("one"), kernel("two")];
  const rows = { one: null, two: null };
  const benches = [connect(mine.model, ({ row }) => (rows.one = row)), connect(other.model, ({ row }) => (rows.two = row))];
  mine.answers({ fixed: {}, scene: { decision_row: null } });
  other.answers({ fixed: {}, scene: { decision_row: null } });
  benches[0].chooseRow("Cedar-47");
  assert.deepEqual(rows, { one: "Cedar-47", two: null });
  benches.forEach((bench) => bench.close());
});

test("a page opened again takes the row from the decision on the record", () => {
  const { model, answers } = kernel();
  let row = null;
  const bench = connect(model, (known) => (row = known.row));
  answers({ fixed: {}, scene: { decision_row: "Elm-140" }, reply: null });
  assert.equal(row, "Elm-140");
  bench.close();
});

test("a part that is closed hears nothing more", () => {
  const { model, deaf } = kernel();
  let shown = 0;
  const bench = connect(model, () => (shown += 1));
  bench.close();
  assert.ok(deaf());
  document.dispatchEvent(new CustomEvent("gal-row", { detail: { table: "one", row: "Elm-140" } }));
  assert.equal(shown, 0);
});

test("an answer line speaks for its own bench and for no other on the page, as long as it is there", () => {
  const [leaf, line, other] = [kernel("one"), kernel("one"), kernel("two")].map(({ model }) => connect(model, () => {}));
  assert.equal(leaf.isAnswered(), false);
  line.answers();
  assert.equal(leaf.isAnswered(), true);
  assert.equal(other.isAnswered(), false);
  line.close();
  assert.equal(leaf.isAnswered(), false);
  [leaf, other].forEach((bench) => bench.close());
});
