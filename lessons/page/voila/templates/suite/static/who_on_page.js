// Who is at this browser, in the header; asked again while somebody is in a class.
import { calledHere, minutesNow, offered, pageState, toldNow } from "./who.js";

const EVERY_MS = 5000;
const place = document.getElementById("suite-who");
const base = place.dataset.baseUrl;
const element = (tag, words, properties = {}) => Object.assign(document.createElement(tag), { textContent: words, ...properties });

const PATIENCE_MS = 15000; // a line that is dead and does not know it answers never
const fetched = (path, how) => fetch(base + path, { credentials: "same-origin", signal: AbortSignal.timeout(PATIENCE_MS), ...how });
const send = (path, fields) => fetched(path, { method: "POST", body: new URLSearchParams(fields), redirect: "manual" });

const handBack = async () => {
  try {
    await send("sign-out", {});
  } catch {
    tell("The machine that serves the class does not answer, so this device is not handed back yet. Try again.");
    return;
  }
  try { localStorage.clear(); sessionStorage.clear(); } catch { /* storage is closed */ }
  location.assign(`${base}?back=1`);
};

let shown = "";
const tell = (words) => {
  shown = ""; // whatever comes next is drawn
  const told = place.querySelector(".who-told");
  told.textContent = words;
  told.hidden = !words;
};
const draw = (said) => {
  const now = JSON.stringify(said);
  if (now === shown) return;
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
    hand.addEventListener("click", async () => {
      try {
        await send("hand", { up: said.hand ? "no" : "yes" });
        ask();
      } catch { tell("The machine that serves the class does not answer. Your hand is as it was: try again, or call the trainer."); }
    });
    parts.push(hand);
  }
  if (ways.back) {
    const back = element("button", said.class ? "Hand this device back" : "Sign out", { type: "button", className: "suite-button" });
    back.addEventListener("click", handBack);
    parts.push(back);
  }
  place.querySelector(".who-ways").replaceChildren(...parts);
  tell(toldNow(said));
  shown = now;
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

// The machine has been away, asleep perhaps. A page with a bench says so itself, by its own line.
const away = () => {
  const lost = document.getElementById("suite-lost");
  if (place.dataset.inClass && (!lost || lost.hidden)) {
    tell("The machine that serves the class does not answer. What you did is kept; this page goes on when it is back.");
  }
};

let isUp = false;
let next = 0;
const ask = async () => {
  clearTimeout(next);
  try {
    const answer = await fetched("who");
    if (!answer.ok) throw new Error(String(answer.status));
    const said = await answer.json();
    draw(said);
    drawPages(said);
    const up = Boolean(said.minutes?.kept && said.minutes.left_s <= 0);
    // Asked again with each look until the kernel has closed the sitting.
    if (up || (isUp && !said.minutes)) document.dispatchEvent(new CustomEvent("gal-time-up"));
    isUp = up;
    if (place.dataset.inClass && !said.class) {
      tell("You are no longer in the class: the trainer has closed it, or has freed this place. What you did is kept.");
      place.hidden = false;
    }
    place.dataset.inClass = said.class ? "yes" : "";
    clearTimeout(next); // a press on a button may have asked in between
    if (said.class) next = setTimeout(ask, EVERY_MS);
  } catch { // asleep, or the server is away: ask again
    away();
    clearTimeout(next);
    next = setTimeout(ask, 4 * EVERY_MS);
  }
};
document.addEventListener("gal-line-again", ask);
ask();
