// What can be said of the person's own readings: which is latest, what a row of tries brackets.
// Pure: no page, no kernel, and nothing but what the person felt or wrote.

/** Return a thickness or reading with two decimals. */
export const mm = (value) => value.toFixed(2);

/** Return the thickness marked on a stack of leaves, mm. */
export const total = (leaves) =>
  Math.round(leaves.reduce((sum, leaf) => sum + leaf, 0) * 1000) / 1000;

const near = (a, b) => Math.abs(((a - b + 540) % 360) - 180) < 0.5;

/** Return the notes with the mark `latest`, in the order of writing; the last that stands at an angle counts. */
export const withLatest = (notes) =>
  notes.map((note, i) => ({
    ...note,
    latest: !note.struck && !notes.slice(i + 1).some((later) => !later.struck && near(later.angle_deg, note.angle_deg)),
  }));

/** Return the notes with the number of their line, as a line is struck out by. */
export const withLine = (notes) => notes.map((note, line) => ({ ...note, line }));

/** Return one entry a place, by angle: its notes, newest first. The marked places are always there. */
export const byPlace = (notes, marked_deg) => {
  const places = marked_deg.map((angle_deg) => ({ angle_deg, notes: [] }));
  for (const note of notes) {
    let place = places.find((other) => near(other.angle_deg, note.angle_deg));
    if (!place) places.push((place = { angle_deg: note.angle_deg, notes: [] }));
    place.notes.unshift(note);
  }
  return places.sort((a, b) => a.angle_deg - b.angle_deg);
};

/**
 * Return the notes of before the decision and of after it; all are before one of which no step is known.
 * What a colleague left stands at step 0, and so may the decision: it was there before.
 */
export const byDecision = (notes, decision_step) => {
  const isAfter = (note) => Number.isInteger(decision_step) && note.step > 0 && note.step >= decision_step;
  return { before: notes.filter((note) => !isAfter(note)), after: notes.filter(isAfter) };
};

/**
 * Return the step at which the decision was first written, kept from the scenes as they come: null
 * while there is none, NaN where a page was opened after it and nobody can say.
 */
export const decisionStep = (kept, scene, opened = false) => {
  if (Number.isInteger(scene.decision_step)) return scene.decision_step;
  if (kept !== null || !scene.decision) return kept;
  return opened ? NaN : scene.step;
};

/** Return the tries with one more; a new place starts a new row of tries. */
export const withTry = (tries, seen) => {
  const here = tries.filter((other) => near(other.angle_deg, seen.angle_deg));
  const thickness = total(seen.leaves_mm);
  return [
    ...here.filter((other) => other.mm !== thickness),
    { angle_deg: seen.angle_deg, mm: thickness, went: seen.feel !== "will not enter" },
  ];
};

/** Return the thickest stack that went and the thinnest above it that did not, or null. */
export const bracket = (tries) => {
  const went = tries.filter((one) => one.went).map((one) => one.mm);
  if (!went.length) return null;
  const go = Math.max(...went);
  const not = tries.filter((one) => !one.went && one.mm > go).map((one) => one.mm);
  return not.length ? { go_mm: go, no_go_mm: Math.min(...not) } : null;
};

/** Return the leaf one step thicker or thinner, or the same at either end. */
export const nextLeaf = (leaves, now, step) => {
  const place = leaves.indexOf(now) + step;
  return leaves[Math.max(0, Math.min(leaves.length - 1, place))];
};

/** Split the set: the common leaves, in steps of 0.05 mm, and the thin ones up to 0.10 mm. */
export const split = (marks) => ({
  common: marks.filter((mark) => Math.abs(mark / 0.05 - Math.round(mark / 0.05)) < 1e-6),
  thin: marks.filter((mark) => mark <= 0.1 + 1e-9),
});

const MOST_ADDED = 2; // three leaves in all: more act as a spring

const sumTo = (want_um, leaves_um, count) => {
  if (count === 0) return want_um === 0 ? [] : null;
  for (const [at, um] of leaves_um.entries()) {
    const rest = um <= want_um && sumTo(want_um - um, leaves_um.slice(at + 1), count - 1);
    if (rest) return [um, ...rest];
  }
  return null;
};

/** Return the fewest leaves of a set that make up a thickness, a common one first; null if none do. */
export const stackOf = (marks, thickness_mm) => {
  const um = (mark) => Math.round(mark * 1000);
  const { common } = split(marks);
  const thickFirst = (set) => set.map(um).sort((a, b) => b - a);
  for (let added = 0; added <= MOST_ADDED; added += 1) {
    for (const first of thickFirst(common)) {
      const others = thickFirst(marks).filter((one) => one !== first);
      const rest = first <= um(thickness_mm) ? sumTo(um(thickness_mm) - first, others, added) : null;
      if (rest) return [first, ...rest].map((one) => one / 1000);
    }
  }
  return null;
};
