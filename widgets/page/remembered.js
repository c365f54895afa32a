// What this browser remembers of a form: a random key for its own sitting, the return code, a draft.
// Storage that is closed or full costs only the convenience: everything here answers without it.

const KEY = "gal-browser-key";
const TAB = `gal-at-work ${location.pathname}`; // of this tab, for this page alone

export const browserKey = () => {
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

export const remembers = (set) => {
  try {
    if (set !== undefined) sessionStorage.setItem(TAB, set ? "1" : "");
    return sessionStorage.getItem(TAB) === "1";
  } catch {
    return false;
  }
};

// The return code is told once; this tab keeps it, so that a reload does not take it away.
const CODE = "gal-return-code";
export const codeOf = (form) => {
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
export const draftOf = (form) => {
  try {
    const kept = form.draft ? JSON.parse(localStorage.getItem(DRAFT + form.draft.key)) : null;
    return kept && typeof kept === "object" ? kept : null;
  } catch {
    return null;
  }
};
export const keepDraft = (key, typed) => {
  try {
    if (typed) localStorage.setItem(DRAFT + key, JSON.stringify(typed));
    else localStorage.removeItem(DRAFT + key);
  } catch { /* storage is closed or full: the form itself still holds what was typed */ }
};
export const withDraft = (field, draft) => {
  const typed = draft?.[field.name];
  if (typeof typed !== "string" || (field.options && !field.options.some(([value]) => value === typed))) return field;
  return { ...field, value: typed };
};
