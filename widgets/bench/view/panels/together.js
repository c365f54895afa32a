// Which answers a voice has to say together: one press can bring two, and the second must not silence the first.

const TOGETHER_MS = 1000;
const MOST = 2; // earlier answers that are said again with the newest

/** Return the answers that came just before the newest, oldest first. `said` holds times, newest first. */
export const justBefore = (said, now_ms) => {
  const before = [];
  let next_ms = now_ms;
  for (const one of said.slice(0, MOST)) {
    if (next_ms - one.at_ms >= TOGETHER_MS) break;
    before.unshift(one);
    next_ms = one.at_ms;
  }
  return before;
};
