// Time on the page: real, slow or scrubbed. Pure: it is told how long a frame was.

export const SLOW = 1 / 20;
const LONGEST_FRAME_S = 0.1; // a tab that slept does not jump

/** Return a clock that stands at zero: `time_s`, `end_s`, whether it runs, and at what rate. */
export const clock = () => ({ time_s: 0, end_s: 0, running: false, rate: SLOW });

/** Return how much of the story a frame takes, s. */
export const frameTime = (frame_s, rate) => Math.min(Math.max(frame_s, 0), LONGEST_FRAME_S) * rate;

/** Let a clock run on by a frame; it stops at its end. */
export const run = (at, frame_s) => {
  if (!at.running) return at;
  const time_s = Math.min(at.end_s, at.time_s + frameTime(frame_s, at.rate));
  return { ...at, time_s, running: time_s < at.end_s };
};

/** Return the first of the moments after a time, s; the last one leads to the first. */
export const nextMoment = (moments, time_s) => moments.find(([at]) => at > time_s + 1e-6) ?? moments[0];
