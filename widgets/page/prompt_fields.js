// The fields of a form that the kernel describes; what is typed or chosen goes into one object.

/** Return an element: attributes that are not false, listeners (functions) and children. */
export const make = (tag, given = {}, ...children) => {
  const node = document.createElement(tag);
  for (const [name, value] of Object.entries(given)) {
    if (typeof value === "function") node.addEventListener(name, value);
    else if (value !== undefined && value !== null && value !== false) node.setAttribute(name, String(value));
  }
  node.append(...children.filter((child) => child !== null && child !== undefined));
  return node;
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

/** Return a field with its label; its value stands in `chosen` under its name. */
export const drawField = (field, chosen, model, say) => {
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
