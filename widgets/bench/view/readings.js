// What can be said of the person's own readings: which is latest, what a row of tries brackets.
// Pure: no page, no kernel, and nothing but what the person felt or wrote.

/** Return a thickness or reading with two decimals. */
export const mm = (value) => value.toFixed(2);

/** Return the thickness marked on a stack of leaves, mm. */
export const total = (leaves) =>
  Math.round(leaves.reduce((sum, leaf) => sum + leaf, 0) * 1000) / 1000;

const near = (a, b) => Math.abs(a - b) < 0.5;

/** Return the notes with the mark `latest`, in the order of writing; the last at an angle counts. */
export const withLatest = (notes) =>
  notes.map((note, i) => ({
    ...note,
    latest: !notes.slice(i + 1).some((later) => near(later.angle_deg, note.angle_deg)),
  }));

/** Return one entry a place, by angle: its gap and disc notes, newest first. */
export const byPlace = (gapNotes, discNotes) => {
  const places = [];
  const add = (note, kind) => {
    let place = places.find((other) => near(other.angle_deg, note.angle_deg));
    if (!place) places.push((place = { angle_deg: note.angle_deg, gap: [], disc: [] }));
    place[kind].unshift(note);
  };
  gapNotes.forEach((note) => add(note, "gap"));
  discNotes.forEach((note) => add(note, "disc"));
  return places.sort((a, b) => a.angle_deg - b.angle_deg);
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
