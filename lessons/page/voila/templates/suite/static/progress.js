// Which lessons a reader has done, as this browser remembers it. Pure: no page, no storage.
// A lesson is done once every question of its check was answered right.
"use strict";

export const MOST_LESSONS = 99;

/** Read what was stored: a list of lesson numbers, or nothing at all for anything else. */
export const doneLessons = (stored) => {
  let read;
  try { read = JSON.parse(stored ?? "[]"); } catch { return []; }
  if (!Array.isArray(read)) return [];
  const good = read.filter((number) => Number.isInteger(number) && number > 0 && number <= MOST_LESSONS);
  return [...new Set(good)].sort((one, other) => one - other);
};

/** Add a lesson to those that are done. */
export const withLesson = (done, number) => doneLessons(JSON.stringify([...done, number]));

/** Say whether a check is done: it has questions, and each was answered right. */
export const checkDone = (rightOnes, count) => count > 0 && rightOnes.size >= count;
