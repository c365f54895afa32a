// The geometry of what a caliper and a rule show: where the lines stand and which of them agree.
// Pure: no page, no kernel. Gives places and words, never the reading as a number.

export const LINES = 50; // divisions of the vernier, as long together as 49 mm
export const LINE_MM = 0.98;
const HUNDREDTHS_A_STEP = 2; // one line is worth 0.02 mm
const LINES_A_FIGURE = 5;

const ordinal = (n) => {
  const last = n % 100 >= 11 && n % 100 <= 13 ? 0 : n % 10;
  return `${n}${["th", "st", "nd", "rd"][last] ?? "th"}`;
};

// A half goes to the even step, so that rounding leans neither way.
const halfToEven = (x) => {
  const low = Math.floor(x);
  if (x - low !== 0.5) return Math.round(x);
  return low % 2 ? low + 1 : low;
};

/**
 * Return how the vernier stands: `whole`, the last main mark at or before its zero; `line`, the one
 * of its lines 0 to 49 that agrees with a main mark; `zero_mm`, where its zero stands.
 */
export const setVernier = (shown_mm) => {
  if (!(shown_mm >= 0 && shown_mm <= 150)) throw new RangeError(`shown_mm must be 0 to 150 mm, got ${shown_mm}`);
  const steps = halfToEven(Math.round(shown_mm * 100) / HUNDREDTHS_A_STEP);
  return { whole: Math.floor(steps / LINES), line: steps % LINES, zero_mm: steps / LINES };
};

/** Return where a vernier line stands on the main scale, mm. */
export const lineAt = (set, line) => set.zero_mm + LINE_MM * line;

/** Return by how much a vernier line stands right (+) or left (-) of its nearest main mark, mm. */
export const offMark = (set, line) => {
  const at = lineAt(set, line);
  return Math.round((at - Math.round(at)) * 100) / 100;
};

/** Return the place of a vernier line in words, by the figures 0 to 10 that stand on the vernier. */
export const lineWords = (line) => {
  const [figure, after] = [Math.floor(line / LINES_A_FIGURE), line % LINES_A_FIGURE];
  return after ? `the ${ordinal(after)} line after figure ${figure}` : `the line at figure ${figure}`;
};

/** Return the figure at a vernier line, or nothing where there is none. */
export const figureAt = (line) => (line % LINES_A_FIGURE ? "" : String(line / LINES_A_FIGURE));

/** Return what the glass shows over one vernier line, in words. */
export const glassWords = (set, line) => {
  const off = offMark(set, line);
  const stands = off === 0 ? "in line with a main mark" : `a little ${off > 0 ? "right" : "left"} of a main mark`;
  return `vernier line ${line} of ${LINES}, ${lineWords(line)}: ${stands}`;
};

/** Return both scales in words, to be read as the eye reads them. */
export const vernierWords = (set) => {
  const zero = set.line
    ? `zero of the vernier lies between the ${ordinal(set.whole)} and the ${ordinal(set.whole + 1)} millimetre mark`
    : `zero of the vernier is in line with the ${ordinal(set.whole)} millimetre mark`;
  const agrees = set.line
    ? `Vernier: line ${set.line} of ${LINES} is in line, ${lineWords(set.line)}`
    : `Vernier: its first and its last line are in line`;
  return `Caliper closed over both linings. Main scale: ${zero}. ${agrees}.`;
};

/** Return where the edge stands on a rule: the last whole mark at or before it, and whether half a mark on. */
export const setRule = (shown_mm) => {
  if (!(shown_mm >= 0 && shown_mm <= 300)) throw new RangeError(`shown_mm must be 0 to 300 mm, got ${shown_mm}`);
  const halves = halfToEven(shown_mm * 2);
  return { whole: Math.floor(halves / 2), half: halves % 2 === 1, edge_mm: halves / 2 };
};

/** Return where the edge stands on a rule in words. */
export const ruleWords = ({ whole, half }) => {
  const at = half
    ? `the short mark between the ${ordinal(whole)} and the ${ordinal(whole + 1)} millimetre mark`
    : `the ${ordinal(whole)} millimetre mark`;
  return `Steel rule against the edge of the disc, its end at one face. The other face is at ${at}.`;
};

/** Return the marks of a scale from one place to another, mm apart `step`: place and rank 0 (long) to 3 (short). */
export const marks = (from_mm, to_mm, step_mm) => {
  const first = Math.ceil(Math.max(0, from_mm) / step_mm - 1e-9);
  const last = Math.floor(to_mm / step_mm + 1e-9);
  const rank = (at) => (at % 10 === 0 ? 0 : at % 5 === 0 ? 1 : Number.isInteger(at) ? 2 : 3);
  return Array.from({ length: Math.max(0, last - first + 1) }, (_, i) => {
    const at = Math.round((first + i) * step_mm * 100) / 100;
    return { at, rank: rank(at) };
  });
};
