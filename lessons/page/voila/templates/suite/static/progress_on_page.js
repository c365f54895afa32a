// Ticks on the lessons that are done, and the watch over a lesson's check that sets them.
// Kept in this browser, and in a class on the trainer's board; no grade leans on it.
import { checkDone, doneLessons, withLesson } from "./progress.js";

const KEY = "gal-lessons-done";
const read = () => { try { return doneLessons(localStorage.getItem(KEY)); } catch { return []; } };
const keep = (done) => { try { localStorage.setItem(KEY, JSON.stringify(done)); } catch { /* storage is closed */ } };

const tick = (done) => {
  for (const link of document.querySelectorAll("a[data-lesson]")) {
    if (!done.includes(Number(link.dataset.lesson)) || link.dataset.done) continue;
    link.dataset.done = "yes";
    const words = document.createElement("span");
    words.className = "suite-unseen";
    words.textContent = ", done";
    link.append(words);
  }
  const head = document.querySelector(".suite-progress[data-lesson]");
  if (head && done.includes(Number(head.dataset.lesson))) head.querySelector(".suite-done-words").hidden = false;
};

// In a class the trainer's board is told how many of the check are right; elsewhere nothing is sent.
const tellBoard = (right, of) => {
  const place = document.getElementById("suite-who");
  if (place?.dataset.inClass !== "yes") return;
  const body = new URLSearchParams({ page: location.pathname.split("/").pop(), right, of });
  fetch(`${place.dataset.baseUrl}seen`, { method: "POST", body, credentials: "same-origin" }).catch(() => {});
};

const watch = (head) => {
  const number = Number(head.dataset.lesson);
  const right = new Set();
  let told = 0;
  const look = () => {
    const cards = [...document.querySelectorAll(".gal-questions .q-card")];
    // A question that was answered right stays so, also when another of its kind is asked for.
    cards.forEach((card, index) => { if (card.dataset.state === "right") right.add(index); });
    if (right.size > told) tellBoard(told = right.size, cards.length);
    if (!checkDone(right, cards.length)) return;
    watching.disconnect();
    const done = withLesson(read(), number);
    keep(done);
    tick(done);
  };
  const watching = new MutationObserver(look);
  watching.observe(document.body, { subtree: true, childList: true, attributes: true, attributeFilter: ["data-state"] });
};

const begin = () => {
  const done = read();
  tick(done);
  const head = document.querySelector(".suite-progress[data-lesson]");
  if (head) watch(head);
};
if (document.readyState === "loading") document.addEventListener("DOMContentLoaded", begin);
else begin();
