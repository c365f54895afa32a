// A form or a list that the kernel describes: draws fields, buttons and rows, sends what was typed.
// Knows no page and no rule; keeps a random key so that this browser finds its own sitting again.

const KEY = "gal-browser-key";
const TAB = `gal-at-work ${location.pathname}`; // of this tab, for this page alone

const make = (tag, given = {}, ...children) => {
  const node = document.createElement(tag);
  for (const [name, value] of Object.entries(given)) {
    if (typeof value === "function") node.addEventListener(name, value);
    else if (value !== undefined && value !== null && value !== false) node.setAttribute(name, String(value));
  }
  node.append(...children.filter((child) => child !== null && child !== undefined));
  return node;
};

const browserKey = () => {
  try {
    let key = localStorage.getItem(KEY);
    if (!/^[0-9a-f]{64}$/.test(key ?? "")) {
      key = [...crypto.getRandomValues(new Uint8Array(32))].map((b) => b.toString(16).padStart(2, "0")).join("");
      localStorage.setItem(KEY, key);
    }
    return key;
  } catch {
    return null; // storage is closed: the return code still works
  }
};

const remembers = (set) => {
  try {
    if (set !== undefined) sessionStorage.setItem(TAB, set ? "1" : "");
    return sessionStorage.getItem(TAB) === "1";
  } catch {
    return false;
  }
};

// The return code is told once; this tab keeps it, so that a reload does not take it away.
const CODE = "gal-return-code";
const codeOf = (form) => {
  if (!form.code_of) return form.code;
  try {
    if (form.code) sessionStorage.setItem(CODE, JSON.stringify([form.code_of, ...form.code]));
    const [of, label, code] = JSON.parse(sessionStorage.getItem(CODE) ?? "[]");
    return of === form.code_of ? [label, code] : form.code;
  } catch {
    return form.code;
  }
};

// What is typed into a long form stays on this device until the kernel has kept it: tablets sleep.
const DRAFT = "gal-draft ";
const draftOf = (form) => {
  try {
    const kept = form.draft ? JSON.parse(localStorage.getItem(DRAFT + form.draft.key)) : null;
    return kept && typeof kept === "object" ? kept : null;
  } catch {
    return null;
  }
};
const keepDraft = (key, typed) => {
  try {
    if (typed) localStorage.setItem(DRAFT + key, JSON.stringify(typed));
    else localStorage.removeItem(DRAFT + key);
  } catch { /* storage is closed or full: the form itself still holds what was typed */ }
};
const withDraft = (field, draft) => {
  const typed = draft?.[field.name];
  if (typeof typed !== "string" || (field.options && !field.options.some(([value]) => value === typed))) return field;
  return { ...field, value: typed };
};

// A file goes over in pieces, as one message holds few characters; see upload.py.
const PIECE = 15000;
const sendFile = async (field, file, model, say) => {
  if (file.size > field.most) {
    // The kernel hears of it as well, so that it does not go on with the file chosen before.
    model.send({ piece: 0, of: 1e9, field: field.name, name: file.name, text: "" });
    say(`The file is larger than ${field.most.toLocaleString("en")} bytes.`);
    return;
  }
  const bytes = new Uint8Array(await file.arrayBuffer());
  let binary = "";
  for (let at = 0; at < bytes.length; at += 8192) binary += String.fromCharCode(...bytes.subarray(at, at + 8192));
  const text = btoa(binary);
  const of = Math.max(1, Math.ceil(text.length / PIECE));
  for (let piece = 0; piece < of; piece += 1) {
    model.send({ piece, of, field: field.name, name: file.name, text: text.slice(piece * PIECE, (piece + 1) * PIECE) });
  }
};

// Boxes to tick, folded away under a line that says what is ticked; sent as one text with commas.
const drawSeveral = (field, chosen) => {
  const wanted = new Set((field.value ?? "").split(",").filter(Boolean));
  const said = make("summary", {});
  const tell = () => {
    chosen[field.name] = [...wanted].join(",");
    const named = field.options.filter(([value]) => wanted.has(value)).map(([, words]) => words.split(":")[0]);
    said.textContent = `${field.label}: ${named.length ? named.join(", ") : field.none}`;
  };
  const ticks = field.options.map(([value, words]) => make("label", { class: "form-tick" },
    make("input", { type: "checkbox", checked: wanted.has(value), change: (event) => { wanted[event.target.checked ? "add" : "delete"](value); tell(); } }),
    make("span", {}, words)));
  tell();
  return make("div", { class: "form-field" }, make("details", { class: "form-several" }, said, make("div", { role: "group", "aria-label": field.label }, ...ticks)),
    field.help ? make("p", { class: "quiet" }, field.help) : null);
};

// One of few, each a press: on a phone in one hand a list to open would cost two.
const drawMarks = (field, chosen) => {
  const name = `gal-m-${Math.random().toString(36).slice(2)}`;
  chosen[field.name] = field.value;
  return make("fieldset", { class: "form-field form-marks" }, make("legend", {}, field.label),
    make("div", {}, ...field.options.map(([value, words]) => make("label", {},
      make("input", { type: "radio", name, value, checked: value === field.value, change: () => { chosen[field.name] = value; } }),
      make("span", {}, words)))));
};

const drawField = (field, chosen, model, say) => {
  if (field.kind === "several") return drawSeveral(field, chosen);
  if (field.kind === "marks") return drawMarks(field, chosen);
  const id = `gal-f-${Math.random().toString(36).slice(2)}`;
  let control;
  if (field.kind === "choice") {
    control = make("select", { id, change: (event) => { chosen[field.name] = event.target.value; } },
      ...field.options.map(([value, words]) => make("option", { value, selected: value === field.value }, words)));
    chosen[field.name] = control.value;
  } else if (field.kind === "file") {
    control = make("input", { id, type: "file", accept: field.accept, change: (event) => { const [file] = event.target.files; if (file) sendFile(field, file, model, say); } });
  } else if (field.kind === "long") {
    control = make("textarea", { id, rows: field.rows ?? 4, maxlength: field.most ?? 500, input: (event) => { chosen[field.name] = event.target.value; } }, field.value ?? "");
    chosen[field.name] = control.value;
  } else {
    control = make("input", { id, type: "text", maxlength: field.most ?? 80, autocomplete: "off", value: field.value ?? "",
      input: (event) => { chosen[field.name] = event.target.value; } });
    chosen[field.name] = control.value;
  }
  const from = field.kind !== "long" || !field.file ? null : make("label", { class: "form-file" }, field.file,
    make("input", { type: "file", accept: ".csv,.txt,text/csv,text/plain", change: async (event) => {
      const [file] = event.target.files;
      if (file) chosen[field.name] = control.value = (await file.slice(0, 60000).text()).slice(0, 15000);
    } }));
  return make("div", { class: "form-field" }, make("label", { for: id }, field.label), control, from,
    field.help ? make("p", { class: "quiet" }, field.help) : null);
};

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
