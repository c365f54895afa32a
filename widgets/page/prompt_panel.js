// A form or a list that the kernel describes: draws it, sends what was typed and pressed.
// Knows no page and no rule.

import { drawField, make } from "./prompt_fields.js";
import { browserKey, codeOf, draftOf, keepDraft, remembers, withDraft } from "./remembered.js";

const drawProgress = ({ done, of, words }) => {
  const id = `gal-p-${Math.random().toString(36).slice(2)}`;
  return make("div", { class: "form-progress" }, make("progress", { max: of, value: done, "aria-labelledby": id }), make("p", { class: "quiet", id }, words));
};

const saveFile = (file, bytes) => {
  const address = URL.createObjectURL(new Blob([bytes], { type: file.kind }));
  make("a", { href: address, download: file.name }).click();
  setTimeout(() => URL.revokeObjectURL(address), 60000);
};

const drawRows = (list, open) => {
  if (!list.rows.length) return make("p", { class: "empty" }, list.empty);
  const head = make("tr", {}, ...list.columns.map((words) => make("th", { scope: "col" }, words)), make("th", { scope: "col" }, "Look at"));
  const rows = list.rows.map((row) => make("tr", { "aria-current": row.current ? "true" : null, class: row.alarm ? "alarm" : null },
    ...row.cells.map((words, index) => make(index ? "td" : "th", { "data-label": list.columns[index], scope: index ? null : "row" }, words)),
    make("td", { "data-label": "Look at" }, make("button", { type: "button", click: () => open(row.id), "aria-label": `${list.open ?? "Evidence"} of ${row.cells.join(", ")}` }, list.open ?? "Evidence"))));
  return make("table", { class: "form-rows" }, make("caption", {}, list.caption), make("thead", {}, head), make("tbody", {}, ...rows));
};

/** @param {{ model: import("@anywidget/types").AnyModel, el: HTMLElement }} context */
function render({ model, el }) {
  el.classList.add("gal", "gal-form");
  const waiting = make("p", { class: "quiet", role: "status" }, "Asking…");
  el.append(waiting);
  const LATE = "No answer yet. If this stays, load the page again; nothing is lost.";
  let late = setTimeout(() => { waiting.textContent = LATE; }, 8000);

  const draw = (form) => {
    clearTimeout(late);
    const chosen = {};
    const code = codeOf(form);
    const send = (name) => {
      if (name === "full screen") { // the browser's business, not the kernel's
        if (document.fullscreenElement) document.exitFullscreen();
        else document.documentElement.requestFullscreen?.();
        return;
      }
      if (form.remember) remembers(true);
      el.querySelectorAll("button").forEach((button) => { button.disabled = true; });
      clearTimeout(late);
      late = setTimeout(() => tell(LATE), 8000);
      waits = true;
      model.send({ send: name, values: chosen });
    };
    const say = (words) => hear({ reply: { words } });
    const draft = draftOf(form);
    const fields = (form.fields ?? []).map((field) => drawField(withDraft(field, draft), chosen, model, say));
    const buttons = (form.buttons ?? []).map(([name, words], index) => make("button", { type: index || !form.fields?.length ? "button" : "submit", class: index ? "" : "main",
      click: (event) => { event.preventDefault(); send(name); } }, words));
    const words = form.said || (draft ? form.draft.back : "");
    const said = words ? make("p", { class: "form-said", role: "status", tabindex: "-1" }, words) : null;
    const danger = form.danger ? make("p", { class: "form-danger" }, make("strong", {}, "Danger. "), form.danger) : null;
    const alarm = form.alarm ? make("p", { class: "form-danger", role: "alert" }, form.alarm) : null;
    // Where nothing is to be filled in, the danger stands over the key with which one begins.
    const begins = !fields.length && !form.list && Boolean(danger);
    const told = [
      form.progress ? drawProgress(form.progress) : null,
      ...(form.words ?? []).map((words) => make("p", { class: "form-words" }, words)),
      code ? make("p", { class: "form-code" }, make("span", {}, code[0]), make("output", {}, code[1])) : null,
      alarm, begins ? null : danger];
    const asked = [begins ? danger : null, ...fields, said, make("div", { class: "row" }, ...buttons)];
    // What is told stands beside what is asked, each in a box of its own; a list goes under both.
    const apart = begins || (fields.length && !form.list);
    const parts = apart ? [make("div", { class: "form-told" }, ...told), make("div", { class: "form-asked" }, ...asked)] : [...told, ...asked];
    const body = make("form", { submit: (event) => { event.preventDefault(); if (form.buttons?.length) send(form.buttons[0][0]); } },
      form.title ? make("h2", { tabindex: "-1" }, form.title) : null,
      ...parts,
      form.list ? drawRows(form.list, (id) => model.send({ open: id })) : null);
    if (form.draft) ["input", "change"].forEach((what) => body.addEventListener(what, () => keepDraft(form.draft.key, chosen)));
    const had = el.contains(document.activeElement) || form.focus;
    el.replaceChildren(body);
    // What is under this form is to be seen beside it, once it is drawn.
    if (form.top) setTimeout(() => el.scrollIntoView({ block: "start" }), 150);
    // The sheet that the kernel put beside this form is what the person asked to see.
    if (form.reveal) setTimeout(() => el.closest(".gal-page-stack")?.querySelector(".gal-result")?.scrollIntoView({ block: "start" }), 150);
    else if (had) (said ?? body.querySelector(form.focus === "key" ? "button.main" : "h2"))?.focus({ preventScroll: !form.focus });
  };
  const tell = (words) => {
    el.querySelector(".form-said")?.remove();
    // Beside the keys, where the person looks: under a long list nobody would see it.
    const said = make("p", { class: "form-said", role: "alert" }, words);
    const keys = el.querySelector("form > .row, .form-asked > .row");
    if (keys) keys.before(said);
    else el.append(said);
  };
  let waits = false;
  const hear = (message, buffers) => {
    clearTimeout(late);
    waits = false;
    if (message.forget_draft) keepDraft(message.forget_draft, null);
    if (message.form) draw(message.form);
    if (message.reply) {
      el.querySelectorAll("button").forEach((button) => { button.disabled = false; });
      el.querySelector(".form-said[role=alert]")?.remove(); // "No answer yet"
      if (message.reply.words) tell(message.reply.words);
    }
    if (message.forget) remembers(false);
    if (message.file) {
      el.querySelector(".form-said[role=alert]")?.remove(); // "No answer yet"
      el.querySelectorAll("button").forEach((button) => { button.disabled = false; });
      saveFile(message.file, buffers[0]);
    }
  };
  // The header has seen the last minute pass; the kernel looks at its own clock.
  const timeUp = () => model.send({ send: "time up" });
  document.addEventListener("gal-time-up", timeUp);
  const ask = () => model.send({ ask: "form", browser_key: browserKey(), at_work: remembers() });
  // What was typed stays, unless an answer to a press was lost with the line.
  const again = () => { if (waits) ask(); };
  document.addEventListener("gal-line-again", again);
  model.on("msg:custom", hear);
  ask();
  return () => {
    clearTimeout(late);
    document.removeEventListener("gal-time-up", timeUp);
    document.removeEventListener("gal-line-again", again);
    model.off("msg:custom", hear);
  };
}

export default { render };
