// One stop at one time: what plate, field, shaft and load do, read from the kernel's courses. Pure.

import { courseAt, lengths } from "./interpolate.js";

/** Return the state of a brake some time after power-off, s: `plate` and `load` are its courses. */
export const stopState = ({ plate, load }, gap_mm, time_s) => {
  const magnet = courseAt(plate, gap_mm, time_s);
  const hook = courseAt(load, gap_mm, time_s);
  return {
    gap_mm, open_mm: Math.min(gap_mm, magnet.open_mm), flux_t: magnet.flux_t, current_a: magnet.current_a,
    pull_n: magnet.pull_n, phase: magnet.phase,
    travel_mm: hook.travel_mm, torque_nm: hook.torque_nm, energy_j: hook.energy_j, turns_rev: hook.turns_rev,
    speed_rev_s: hook.speed_rad_s / (2 * Math.PI), part: hook.over ? "stands" : hook.phase,
  };
};

/** What the load does in each part of its stop. */
export const LOAD_WORDS = { free: "falls, nothing holds it", rises: "the brake bites", slips: "slips to rest", stands: "stands" };

/** Return the moments of one stop worth a still: when, s, and what happens. */
export const stopMoments = ({ plate, load }, gap_mm, name = "") => {
  const [fades, crosses] = lengths(plate, gap_mm);
  const own = lengths(load, gap_mm);
  const stands = own.reduce((sum, one) => sum + one, 0);
  return [
    [0, "Power off"], [fades, `${name}the plate leaves`], [fades + crosses / 2, `${name}half-way across`],
    [fades + crosses, `${name}the plate lands: clack`], [own[0] + own[1], `${name}full torque`], [stands, `${name}the load is at rest`],
  ];
};
