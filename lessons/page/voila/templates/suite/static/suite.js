// What a page does around its bench: says how far it is, what to do when it is slow or cut off,
// and lets its kernel go when it closes. Loaded first, alone of all scripts in the head.
// Knows nothing of brakes; reads no notebook content; sends nothing but a cookie.
"use strict";
(() => {
  const LATE_MS = 30000;
  const PATIENCE_MS = 4000; // a dropped line often comes back by itself
  const base = document.currentScript.dataset.baseUrl;
  const part = (id) => document.getElementById(id);

  // The page asks the server to end its kernel when it closes; without this cookie the server
  // refuses, and kernels pile up.
  if (!/(^|; )_xsrf=/.test(document.cookie)) {
    const bytes = crypto.getRandomValues(new Uint8Array(16));
    const value = Array.from(bytes, (b) => b.toString(16).padStart(2, "0")).join("");
    document.cookie = `_xsrf=${value}; path=${base}; SameSite=Strict`;
  }

  // ---- setting out ----
  let parsed = false;
  let shown = false;

  const sayHowFar = () => {
    const wait = part("loading");
    if (!wait || shown) return;
    const done = document.querySelectorAll("[cell-index]").length;
    const all = Number(wait.dataset.parts);
    const words = parsed ? "Fitting the controls." : done ? `Part ${done} of ${all}.` : "";
    const told = part("loading_text"); // not there yet while the page is still being read
    if (told && told.textContent !== words) told.textContent = words;
  };
  const growing = new MutationObserver(sayHowFar);
  growing.observe(document, { childList: true, subtree: true });

  const show = () => {
    if (shown || !parsed || !window.themeLoaded) return;
    shown = true;
    growing.disconnect();
    part("loading").remove();
    part("rendered_cells").hidden = false;
    part("rendered_cells").style.display = "";
    keepFooterLast();
    new MutationObserver(nameHandles).observe(part("rendered_cells"), { childList: true, subtree: true });
    nameHandles();
  };
  // The notebook front end calls these by name.
  window.voila_process = sayHowFar;
  window.voila_heartbeat = () => {};
  window.voila_finish = show;
  window.display_cells = show;

  document.addEventListener("DOMContentLoaded", () => {
    parsed = true;
    window.cellLoaded = true;
    for (const id of ["suite-again", "suite-reload"]) {
      part(id).addEventListener("click", (event) => {
        event.preventDefault();
        location.reload();
      });
    }
    sayHowFar();
    show();
  });
  setTimeout(() => {
    const late = document.querySelector(".suite-late");
    if (late) late.hidden = false;
  }, LATE_MS);

  // The front end moves the page's content to the end of the body; the footer follows it.
  const keepFooterLast = () => {
    const last = () => {
      const foot = document.querySelector(".suite-foot");
      const main = part("main");
      if (foot && main && main.compareDocumentPosition(foot) & Node.DOCUMENT_POSITION_PRECEDING) {
        document.body.append(foot, part("suite-lost"));
      }
    };
    last();
    new MutationObserver(last).observe(document.body, { childList: true });
  };

  // The library's slider handles have no name for those who do not see the label beside them.
  const nameHandles = () => {
    for (const handle of document.querySelectorAll(".noUi-handle:not([aria-label])")) {
      const label = handle.closest(".jupyter-widgets")?.querySelector(".widget-label");
      if (label?.textContent) handle.setAttribute("aria-label", label.textContent);
    }
  };

  // ---- cut off ----
  let leaving = false;
  let ended = false;
  let timer = 0;
  let cut = false;
  const open = new Set();

  const tell = (words) => {
    part("suite-lost-text").textContent = words;
    part("suite-lost").hidden = false;
  };
  const cutOff = () => {
    if (leaving || ended || open.size) return;
    tell("The connection to the bench is lost. Whatever had been recorded is kept. Load the page again to go on.");
  };
  const gone = () => {
    ended = true;
    tell("The bench behind this page has stopped. Whatever had been recorded is kept. Load the page again to go on.");
  };
  const lineOpened = (socket) => {
    open.add(socket);
    clearTimeout(timer);
    if (!ended) part("suite-lost").hidden = true;
    // What was said while the line was down is lost: whoever waits for an answer asks again.
    if (cut) document.dispatchEvent(new Event("gal-line-again"));
    cut = false;
  };
  const lineClosed = (socket) => {
    open.delete(socket);
    cut = !open.size;
    clearTimeout(timer);
    timer = setTimeout(cutOff, PATIENCE_MS);
  };
  const listen = (data) => {
    // Only the short messages about the kernel's own state are looked at.
    if (data.byteLength > 4000) return;
    const text = typeof data === "string" ? data : new TextDecoder().decode(data);
    if (/"execution_state":\s*"(dead|restarting)"/.test(text)) gone();
    else if (!ended && /"msg_type":\s*"error"/.test(text)) {
      tell("That did not work, and has been written down. Whatever had been recorded is kept. If it happens again, load the page again.");
    }
  };
  window.addEventListener("pagehide", () => (leaving = true));
  window.addEventListener("pageshow", () => (leaving = false));

  window.WebSocket = class extends window.WebSocket {
    constructor(...address) {
      super(...address);
      if (!String(address[0]).includes("/channels")) return;
      this.addEventListener("open", () => lineOpened(this));
      this.addEventListener("close", () => lineClosed(this));
      this.addEventListener("message", (event) => listen(event.data));
    }
  };
})();
