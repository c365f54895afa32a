// A number and its unit stay on one line: the space between them is one that does not break.
// Pure; touches no page.

// "in" is an inch only where a bracket or the end of a sentence follows: not "3 in a row".
const UNITS = [
  "mm", "µm", "cm", "km", "m", "in(?=[).,;]|$)", "N·m", "kN", "N", "MPa", "kg", "kJ", "J", "kW", "W", "MΩ", "kΩ", "Ω",
  "mA", "A", "kV", "V", "Hz", "°C", "K", "%", "ms", "min", "s", "h", "t", "r/min", "o’clock",
];
const MEETING = new RegExp(`(\\d) (?=(?:${UNITS.join("|")})(?![\\p{L}\\p{N}]))`, "gu");

/** Return a text with a space that does not break between each number and its unit. */
export const unbroken = (text) => (/\d /.test(text) ? text.replace(MEETING, "$1\u00a0") : text);
