// The order of steps, what an answer still lacks, and words. Pure: no page, no kernel, marks nothing.

/** Return a list with the member at `from` moved to `to`; out of range changes nothing. */
export const moved = (list, from, to) => {
  if (from < 0 || to < 0 || from >= list.length || to >= list.length) return list;
  const rest = list.filter((_, at) => at !== from);
  return [...rest.slice(0, to), list[from], ...rest.slice(to)];
};

/** Return the place among rows (their middles, in page order) that a height belongs to. */
export const placeAt = (middles, y) => {
  const below = middles.findIndex((middle) => y < middle);
  return below === -1 ? middles.length - 1 : below;
};

const ASKS = {
  single: ["choice", "Choose an answer first."],
  decide: ["choice", "Choose a decision first."],
  multiple: ["choices", "Choose at least one answer first."],
  numeric: ["value", "Type a number first."],
  scale: ["value", "Type what you read first."],
  order: ["order", "Put the steps in order first."],
  mark: ["place", "Choose a place on the drawing first."],
};

/** Return a sentence on what an answer lacks, or nothing. */
export const lacks = (question, answer) => {
  const [field, words] = ASKS[question.kind];
  const given = answer[field];
  if (given === null || given === undefined || given.length === 0) return words;
  if (question.confidence.length && !answer.confidence) return "Say how sure you are first.";
  return "";
};

/** Return the word for a mark. */
export const verdict = (marked) => {
  if (marked.right) return "Right.";
  return marked.share > 0 ? `Partly right, ${Math.round(100 * marked.share)} %. Nearly there.` : "Not yet. Read why, and try again.";
};

/** Return a text in which no line ends between a number and its unit. */
export const unbroken = (text) => text.replace(/(\d) (?=(?:mm|N·m|N|V|A|Ω|°C|K|kg|%|ms|s)(?![\p{L}\d]))/gu, "$1\u00a0");
