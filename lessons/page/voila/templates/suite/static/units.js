// Inches beside millimetres, as text: finds lengths in a sentence and says the same in inches.
// Pure functions; touches no page, stores nothing, sends nothing.

const MM_PER_INCH = 25.4; // exact, by definition of the inch
const FINE_BELOW_MM = 10; // 0.0001 in below, 0.001 in from there on: 0.0025 mm and 0.025 mm

const NUMBER = "[-+−]?\\d+(?:\\.\\d+)?";
const DECIMAL = "[-+−]?\\d+\\.\\d+";
// What may stand between two lengths that share one unit. A comma and "and" only between numbers
// with a decimal point, because "screw 2, 0.30 mm" holds one length.
const BETWEEN = "\\s*[-/–]\\s*|\\s+to\\s+|\\s+or\\s+|\\s+\\+\\s+|\\s*±\\s*";
const LIST = `${NUMBER}(?:(?:${BETWEEN})${NUMBER}){0,11}`; // bounded, so that a long text takes no time
const ROW = `${DECIMAL}(?:,\\s+${DECIMAL}){0,11},?\\s+and\\s+${DECIMAL}|${DECIMAL}(?:,\\s+${DECIMAL}){1,11}`;
const UNIT = "\\s?mm(?![\\w²³/·^⁻])";
const LENGTH = new RegExp(
  `(?<![\\w.,/^·-])(${ROW}|${LIST})${UNIT}(?:(\\s*±\\s*)(${NUMBER})${UNIT})?(?!\\s*\\([^)]*\\sin\\))`, "gu",
);
const ALONE = new RegExp(`^\\s*(?:[±≤≥<>~]\\s*)?(${LIST}|${ROW})\\s*$`, "u");
const NUMBERS = new RegExp(NUMBER, "gu");
const HEAD = /(?:^|[\s,(])mm(?:$|[\s,);:])/u;

const valueOf = (text) => Number(text.replace("−", "-"));

const decimalsOf = (text) => (Math.abs(valueOf(text)) < FINE_BELOW_MM ? 4 : 3);

/** Return a length in inches as one writes it: four decimals below 10 mm, three from there on. */
export const inches = (text, decimals = decimalsOf(text)) => {
  const mm = valueOf(text);
  if (mm === 0) return "0";
  const sign = /^[-+−]/.test(text) ? text[0] : "";
  const said = (Math.abs(mm) / MM_PER_INCH).toFixed(decimals);
  // A length that is there is not said to be nothing.
  return sign + (Number(said) === 0 ? (Math.abs(mm) / MM_PER_INCH).toPrecision(1) : said);
};

/** Return a list of lengths with every number in inches and what is between them left as it is. */
export const listInInches = (list) => {
  let first = true;
  // What is behind ± has the decimals of what is before it.
  const decimals = list.includes("±") ? decimalsOf(list.match(NUMBERS)[0]) : undefined;
  return list.replace(NUMBERS, (text, at) => {
    // A sign that follows a number at once is a dash: "0.30-0.80".
    const dash = !first && /^[-+−]/.test(text) && /\d/.test(list[at - 1] ?? "");
    first = false;
    return dash ? text[0] + inches(text.slice(1), decimals) : inches(text, decimals);
  });
};

/** Return a sentence with inches in brackets after each length in millimetres. */
export const withInches = (sentence) =>
  sentence.includes("mm")
    ? sentence.replace(LENGTH, (whole, list, sign, spread) =>
      `${whole} (${listInInches(list)}${spread ? sign + inches(spread, decimalsOf(list.match(NUMBERS)[0])) : ""}\u00a0in)`)
    : sentence;

/** Return what is in a cell of a column in millimetres with its inches, if it is lengths alone. */
export const cellWithInches = (text) => {
  const found = ALONE.exec(text);
  return found ? text.replace(/\s*$/, ` (${listInInches(found[1])}\u00a0in)`) : withInches(text);
};

/** Return whether the head of a column or row says that what belongs to it is in millimetres. */
export const isHeadOfMillimetres = (words) => HEAD.test(words);
