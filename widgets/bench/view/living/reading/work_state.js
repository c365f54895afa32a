// What screws, leaf, jaws and heat come to for the values of the controls, read from the kernel's tables. Pure.

import { value } from "./interpolate.js";

const STEP_DEG = 5;
const PLACES = Array.from({ length: 360 / STEP_DEG }, (_, i) => i * STEP_DEG);

/** Return the gap round the rim every 5°, mm; `slack` is 0 with the retaining screws tight and 1 with all let off. */
export const gapRound = (tables, { first_deg, second_deg, third_deg, parts }, slack) =>
  PLACES.map((angle) => {
    const turned = [["first", first_deg], ["second", second_deg], ["third", third_deg]].reduce((sum, [name, deg]) => sum + value(tables.turned, name, deg, angle), 0);
    const warp = parts === "warped" ? value(tables.rim, "warp", angle) : 0;
    return Math.max(0, value(tables.rim, "found", angle) + warp + slack * value(tables.rim, "slack", angle) + turned);
  });

/** Return mean, widest, narrowest and their difference of a gap round the rim. */
export const roundFacts = (gaps) => {
  const [widest_mm, narrowest_mm] = [Math.max(...gaps), Math.min(...gaps)];
  return { mean_mm: gaps.reduce((sum, gap) => sum + gap, 0) / gaps.length, widest_mm, narrowest_mm, spread_mm: widest_mm - narrowest_mm };
};

/** Return height of the body, lift off the hollow screw and gap at one screw, mm. */
export const screwState = (tables, { let_off, hollow_deg }, setting_mm) => {
  const lift_mm = value(tables.lift, "lift_mm", let_off);
  const tight_mm = setting_mm + value(tables.height, "height_mm", hollow_deg);
  return { lift_mm, tight_mm, gap_mm: tight_mm + lift_mm };
};

/** Return the smallest gap that a stack in the hand must find, and the room that is left to it at a depth, mm. */
export const leafRoom = (tables, { angle_deg, tilt_mm, skew_deg, leaf_mm }, depth_mm) =>
  value(tables.under, "smallest", angle_deg, tilt_mm) - value(tables.skew, "lost_mm", skew_deg) + value(tables.depth, "won_mm", depth_mm) - leaf_mm;

/** Return how far a leaf goes in before it has no room, mm, up to what was asked. */
export const reach = (tables, values, asked_mm) => {
  if (leafRoom(tables, values, asked_mm) >= 0) return asked_mm;
  let [low, high] = [0, asked_mm];
  for (let i = 0; i < 24; i += 1) {
    const middle = (low + high) / 2;
    if (leafRoom(tables, values, middle) >= 0) low = middle;
    else high = middle;
  }
  return low;
};

/** Return the leaf in its gap: edges, how far it is in, room, and what the hand feels. */
export const leafState = (tables, values, { drag_mm, full_mm }) => {
  const under = (column) => value(tables.under, column, values.angle_deg, values.tilt_mm);
  const depth_mm = reach(tables, values, values.depth_mm);
  const room_mm = leafRoom(tables, values, values.depth_mm);
  const feel = room_mm < -1e-9 ? "will not enter" : room_mm > drag_mm ? "slides" : "drags";
  const honest_mm = under("smallest");
  const error_mm = value(tables.depth, "won_mm", depth_mm) - value(tables.skew, "lost_mm", values.skew_deg);
  return { left_mm: under("left"), middle_mm: under("middle"), right_mm: under("right"), smallest_mm: honest_mm, depth_mm, room_mm, feel, error_mm, fully: depth_mm >= full_mm - 1e-6 };
};

/** Return thickness between the jaws, what they span, and the thinnest place of the disc, mm. */
export const jawState = (tables, { angle_deg, square_deg }) => {
  const thickness_mm = value(tables.thickness, "thickness_mm", angle_deg);
  const span_mm = thickness_mm * value(tables.span, "times", square_deg);
  return { thickness_mm, span_mm, too_much_mm: span_mm - thickness_mm, thinnest_mm: Math.min(...tables.thickness.columns.thickness_mm) };
};

/** Return heat of a stop, kJ, temperature of the faces, °C, and the grip that is left after so long in work. */
export const heatState = (tables, { gap_mm, side, stops }, time_s, air_c, most_c) => {
  const stop_kj = value(tables.heat, side, gap_mm) / 1000;
  const face_c = air_c + stop_kj * value(tables.warming, "kelvin_per_kj", stops, time_s);
  const known_c = Math.min(most_c, face_c);
  const share = value(tables.grip, "share", known_c);
  return { stop_kj, one_k: stop_kj * value(tables.warming, "kelvin_per_kj", stops, 0), face_c, share, times_load: share * value(tables.hold, "times_load", gap_mm) };
};
