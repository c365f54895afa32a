// Angles and places on the end view: clockwise seen from the fan end, zero at 12 o'clock (screw 1).
// Pure: no page, no kernel.

export const CENTRE = 320; // the drawing is 640 by 640
// Radii of the end view, in units of the drawing. Each limits sheet has its screws outside the circle
// on which the gap is gauged: the ring of the readings ends inside of them.
export const SCREW_CIRCLE = 192;
export const GAUGED = 168;
export const SCREWS_DEG = [0, 120, 240];
const NAMES = new Map([
  [0, "12\u00a0o’clock, screw 1"], [30, "1\u00a0o’clock"], [60, "2\u00a0o’clock"], [90, "3\u00a0o’clock"],
  [120, "4\u00a0o’clock, screw 2"], [150, "5\u00a0o’clock"], [180, "6\u00a0o’clock"], [210, "7\u00a0o’clock"],
  [240, "8\u00a0o’clock, screw 3"], [270, "9\u00a0o’clock"], [300, "10\u00a0o’clock"], [330, "11\u00a0o’clock"],
]);

/** Return an angle as 0 up to, not including, 360. */
export const wrap = (deg) => ((deg % 360) + 360) % 360;

/** Return the shortest way from one angle to another, -180 to 180. */
export const shortest = (from, to) => wrap(to - from + 180) - 180;

/** Return the nearest multiple of a step, as 0 to 360. */
export const snap = (deg, step) => wrap(Math.round(deg / step) * step);

/** Return the point at a radius and an angle. */
export const at = (radius, deg, x = CENTRE, y = CENTRE) => {
  const angle = (deg * Math.PI) / 180;
  return [x + radius * Math.sin(angle), y - radius * Math.cos(angle)];
};

/** Return radius and angle of a point as seen from another. */
export const polar = (x, y, fromX = CENTRE, fromY = CENTRE) => ({
  radius: Math.hypot(x - fromX, y - fromY),
  deg: wrap((Math.atan2(x - fromX, fromY - y) * 180) / Math.PI),
});

const text = ([x, y]) => `${x.toFixed(1)} ${y.toFixed(1)}`;

/** Return the path of an arc. */
export const arc = (radius, from, to) => {
  const large = to - from > 180 ? 1 : 0;
  return `M${text(at(radius, from))} A${radius} ${radius} 0 ${large} 1 ${text(at(radius, to))}`;
};

/** Return the closed path between two radii and two angles. */
export const sector = (inner, outer, from, to) => {
  const large = to - from > 180 ? 1 : 0;
  return (
    `${arc(outer, from, to)} L${text(at(inner, to))} ` +
    `A${inner} ${inner} 0 ${large} 0 ${text(at(inner, from))} Z`
  );
};

/** Return the path of a straight line between two radii at one angle. */
export const spoke = (inner, outer, deg, skew = 0) =>
  `M${text(at(inner, deg))} L${text(at(outer, deg + skew))}`;

/** Return the path of a hexagon. */
export const hexagon = (radius, x = 0, y = 0) =>
  `${[0, 60, 120, 180, 240, 300].map((deg, i) => (i ? "L" : "M") + text(at(radius, deg, x, y))).join(" ")} Z`;

/** Return a place in the trade's words: the clock where it fits, else degrees. */
export const placeName = (deg) => NAMES.get(wrap(deg)) ?? `${Number(wrap(deg).toFixed(1))}°`;

/** Return a place as it is spoken: the clock and the degrees. */
export const spokenPlace = (deg) =>
  NAMES.has(wrap(deg)) ? `${placeName(deg)}, ${wrap(deg)} degrees` : placeName(deg);

/** Return a turn of a hollow screw in words: plus is out and opens the gap. */
export const turnWords = (deg) => {
  if (deg === 0) return "not turned";
  const way = deg > 0 ? "out, opens the gap" : "in, closes the gap";
  return `${Number(Math.abs(deg).toFixed(1))}° (${(Math.abs(deg) / 60).toFixed(1)} flats) ${way}`;
};
