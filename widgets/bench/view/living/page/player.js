// The keys that let time run: begin, slow motion, next moment, and a slider over the time. Sends nothing.

import { button, make, mayMove } from "../../../../page/dom.js";
import { clock, frameTime, nextMoment, run, SLOW } from "./clock.js";

const ms = (time_s) => (time_s < 10 ? `${(1000 * time_s).toFixed(0)} ms` : `${time_s.toFixed(1)} s`);

/**
 * Return the player of a scene. `story` says: `begin` (words of the first key and what it does),
 * `step` (what the next moment is), for a story with an end `end(values)` in s,
 * and `pace: false` for one whose time is not the clock's.
 */
export function player(story, changed) {
  let at = { ...clock(), rate: story.pace === false ? 1 : SLOW };
  const slow = button("Slow motion, 1/20", () => pace(at.rate === 1), { "aria-pressed": "true", class: "toggle" });
  const begins = story.begin.map(([words, act]) => button(words, () => act(control), { class: "main" }));
  const next = button("Next moment", () => story.step(control));
  const id = `gal-t-${Math.random().toString(36).slice(2)}`;
  const time = make("input", { id, type: "range", min: 0, max: 1000, step: 1, value: 0 });
  const shown = make("output", { for: id }, ms(0));
  const scrub = make("div", { class: "living-slider living-scrub" }, make("label", { for: id }, story.scrubWords ?? "Time after power-off"), shown, time);
  time.addEventListener("input", () => go((at.end_s * Number(time.value)) / 1000));
  const pace = (slowly) => {
    at = { ...at, rate: slowly ? SLOW : 1 };
    slow.setAttribute("aria-pressed", String(slowly));
    changed();
  };
  const show = () => {
    if (!story.end) return;
    const value = at.end_s > 0 ? String(Math.round((1000 * at.time_s) / at.end_s)) : "0";
    if (time.value !== value) time.value = value;
    const said = story.timeWords ? story.timeWords(at.time_s) : ms(at.time_s);
    if (shown.textContent === said) return;
    shown.textContent = said;
    time.setAttribute("aria-valuetext", said);
  };
  const go = (time_s) => {
    at = { ...at, time_s: Math.min(Math.max(0, time_s), at.end_s), running: false };
    show();
    changed();
  };
  const control = {
    /** Let the story run from its start; without motion, show its next still instead. */
    play: () => {
      if (!mayMove()) return story.step(control);
      at = { ...at, time_s: 0, running: true };
      changed();
    },
    go,
    next: (moments) => go(nextMoment(moments, at.time_s)[0]),
    time: () => at.time_s,
    rate: () => at.rate,
    running: () => at.running,
    /** How much story a frame takes, s. */
    frame: (frame_s) => frameTime(frame_s, at.rate),
  };
  const node = make("div", { class: "living-player" }, ...begins, next, story.pace === false ? null : slow, story.end ? scrub : null);
  /** Let a frame pass; returns whether time runs on. */
  const tick = (frame_s, values) => {
    if (story.end) at = { ...at, end_s: story.end(values) };
    if (at.time_s > at.end_s) at = { ...at, time_s: at.end_s };
    at = run(at, frame_s);
    show();
    return at.running;
  };
  const ready = (is) => [...begins, next, time].forEach((one) => (one.disabled = !is));
  ready(false);
  return { node, control, tick, ready };
}
