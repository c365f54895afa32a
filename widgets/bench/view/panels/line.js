// The line from one part of the page to the kernel, and between the parts of one bench.
// Sends wishes, keeps the last scene, says when no answer comes. Knows nothing of brakes.

const PATIENCE_MS = 5000; // a local kernel answers in milliseconds
const passed = new WeakSet(); // messages that went on to the other parts

/**
 * Connect a part. `show(known, message)` is called with all that is known and what has just come.
 * The kernel tells the part that it last heard what was done or refused. Parts tell each other four
 * things by events on the document: `gal-told` (what the kernel said), `gal-row` (the row of the sheet
 * that the person chose), `gal-answer` (what was declined here, before anything was sent), `gal-lost`.
 * And they ask each other one: `gal-asked`, whether an answer line speaks for this bench.
 * When a line that was cut is back, the page says `gal-line-again`, and each part asks for everything again.
 */
export function connect(model, show) {
  const table = model.get("table_key");
  const known = { row: null };
  const off = [];
  let timer = 0;
  let asked = false;

  const tell = (type, detail) =>
    document.dispatchEvent(new CustomEvent(type, { detail: { table, ...detail } }));

  const listen = (type, heard) => {
    const own = (event) => event.detail?.table === table && heard(event.detail);
    document.addEventListener(type, own);
    off.push(() => document.removeEventListener(type, own));
  };

  const send = (content) => {
    clearTimeout(timer);
    timer = setTimeout(() => tell("gal-lost", { lost: true }), PATIENCE_MS);
    model.send(content);
  };

  const hear = (message) => {
    clearTimeout(timer);
    tell("gal-lost", { lost: false });
    Object.assign(known, message);
    known.row ??= message.fixed ? message.scene.decision_row : null;
    show(known, message);
  };

  // What a part has asked for is its own; what is new comes to one part, and goes on to all.
  const pass = (message) => {
    if (message.fixed) return hear(message);
    if (passed.has(message)) return; // a second view of the same part got it too
    passed.add(message);
    tell("gal-told", { message });
  };

  model.on("msg:custom", pass);
  off.push(() => model.off("msg:custom", pass));
  listen("gal-told", ({ message }) => hear(message));
  listen("gal-row", ({ row }) => {
    known.row = row;
    if (known.scene) show(known, {});
  });

  const ask = () => {
    asked = true;
    send({ ask: "everything" });
  };
  const again = () => {
    if (!asked) return;
    known.again = true;
    ask();
  };
  document.addEventListener("gal-line-again", again);
  off.push(() => document.removeEventListener("gal-line-again", again));

  return {
    ask,
    wish: (kind, fields = {}) => send({ wish: { kind, ...fields } }),
    /** Say on the answer line why nothing was sent. */
    decline: (words) => tell("gal-answer", { reply: { done: false, words, seen: {}, alarm: "" } }),
    /** Say that this part is the answer line of its bench. */
    answers: () => listen("gal-asked", (asked) => (asked.answered = true)),
    /** Return whether an answer line speaks for this bench. */
    isAnswered: () => {
      const asked = { table, answered: false };
      document.dispatchEvent(new CustomEvent("gal-asked", { detail: asked }));
      return asked.answered;
    },
    chooseRow: (row) => tell("gal-row", { row }),
    listen,
    close: () => {
      clearTimeout(timer);
      off.forEach((undo) => undo());
    },
  };
}
