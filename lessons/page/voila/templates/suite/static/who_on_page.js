// Who is at this browser, in the header; asked again while somebody is in a class.
import { calledHere, minutesNow, offered, pageState, toldNow } from "./who.js";

const EVERY_MS = 5000;
const place = document.getElementById("suite-who");
const base = place.dataset.baseUrl;
const element = (tag, words, properties = {}) => Object.assign(document.createElement(tag), { textContent: words, ...properties });

const send = async (path, fields) => {
  const body = new URLSearchParams(fields);
  return fetch(base + path, { method: "POST", body, credentials: "same-origin", redirect: "manual" });
};

const handBack = async () => {
  await send("sign-out", {});
  try { localStorage.clear(); sessionStorage.clear(); } catch { /* storage is closed */ }
  location.assign(`${base}?back=1`);
};

let shown = "";
const draw = (said) => {
  const now = JSON.stringify(said);
  if (now === shown) return;
  shown = now;
  const ways = offered(said);
  const parts = [];
  const words = calledHere(said);
  if (words) parts.push(element("span", words, { className: "who" }));
  const time = minutesNow(said);
  if (time) parts.push(element("span", time, { className: "who-time" }));
  if (ways.join) parts.push(element("a", "Join", { href: `${base}join` }));
  if (ways.signIn) parts.push(element("a", "Sign in", { href: `${base}sign-in` }));
  if (ways.hand) {
    const hand = element("button", said.hand ? "Hand is up: take it down" : "Hand up", { type: "button", className: "suite-button" });
    hand.setAttribute("aria-pressed", String(said.hand));
    hand.addEventListener("click", async () => { await send("hand", { up: said.hand ? "no" : "yes" }); ask(); });
    parts.push(hand);
  }
  if (ways.back) {
    const back = element("button", said.class ? "Hand this device back" : "Sign out", { type: "button", className: "suite-button" });
    back.addEventListener("click", handBack);
    parts.push(back);
  }
  place.querySelector(".who-ways").replaceChildren(...parts);
  const told = place.querySelector(".who-told");
  told.textContent = toldNow(said);
  told.hidden = !told.textContent;
  place.hidden = parts.length === 0;
  for (const link of document.querySelectorAll("a[href*='/voila/render/']")) {
    const page = link.getAttribute("href").split("/").pop().split("?")[0];
    link.hidden = (said.closed ?? []).includes(page);
  }
};

// What the class works through, on the first page.
const drawPages = (said) => {
  const block = document.getElementById("class-work");
  if (!block) return;
  block.hidden = !said.class;
  if (!said.class) return;
  const items = (said.pages ?? []).map((page) => {
    const item = element("li", "");
    item.append(element("a", page.title, { href: `${base}voila/render/${page.path}` }), element("span", pageState(page), { className: "state" }));
    return item;
  });
  const last = element("li", "");
  last.append(element("a", `Assessment: ${said.form ?? ""}`.replace(/: $/, ""), { href: `${base}voila/render/assessment.ipynb` }));
  block.querySelector("h2").textContent = `${said.class}: what you work through`;
  block.querySelector("ol").replaceChildren(...items, last);
};

let isUp = false;
const ask = async () => {
  try {
    const answer = await fetch(`${base}who`, { credentials: "same-origin" });
    if (!answer.ok) return;
    const said = await answer.json();
    draw(said);
    drawPages(said);
    const up = Boolean(said.minutes?.kept && said.minutes.left_s <= 0);
    // Asked again with each look until the kernel has closed the sitting.
    if (up || (isUp && !said.minutes)) document.dispatchEvent(new CustomEvent("gal-time-up"));
    isUp = up;
    place.dataset.inClass = said.class ? "yes" : "";
    if (said.class) setTimeout(ask, EVERY_MS);
  } catch { setTimeout(ask, 4 * EVERY_MS); } // asleep, or the server is away: ask again
};
ask();
