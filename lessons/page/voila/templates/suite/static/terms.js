// Finds the words of the trade in running text, each where it is first used.
// Pure functions; touches no page.

const plain = (text) => text.toLowerCase().replaceAll("’", "'").replace(/\s+/gu, " ");
const escaped = (text) => plain(text).replace(/[.*+?^${}()|[\]\\]/gu, "\\$&").replaceAll(" ", "\\s+");

/** Return one pattern for all names of all terms, and the term that each name belongs to. */
export const lexicon = (terms) => {
  const owner = new Map();
  for (const term of terms) {
    for (const name of [term.term, ...term.also]) if (!owner.has(plain(name))) owner.set(plain(name), term);
  }
  // The longest name first, so that "air gap" is not found as "gap".
  const names = [...owner.keys()].sort((one, other) => other.length - one.length).map(escaped);
  const pattern = names.length ? new RegExp(`(?<![\\p{L}\\d-])(${names.join("|")})(s|es)?(?![\\p{L}\\d-])`, "giu") : null;
  return { owner, pattern };
};

/** Return where the terms that were not met before are first used in a text; adds them to `met`. */
export const firstUses = (text, { owner, pattern }, met) => {
  if (!pattern) return [];
  const found = [];
  for (const match of text.replaceAll("’", "'").matchAll(pattern)) {
    const term = owner.get(plain(match[1]));
    if (!term || met.has(term.anchor)) continue;
    met.add(term.anchor);
    found.push({ term, start: match.index, end: match.index + match[0].length });
  }
  return found;
};
