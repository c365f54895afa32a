// Where the plate is while the voltage creeps up and down: on the disc, on the magnet, or crossing. Pure.
// It compares the kernel's numbers; how long a crossing takes and how it goes is in the kernel's course.

/** The plate at rest on the disc. */
export const RESTS = { where: "disc", since_s: 0 };

/** Return the plate after a voltage: `release` pulls it in, below `let_go` it leaves, all in % of the rated voltage. */
export const decided = (plate, supply, { release, let_go }) => {
  if (plate.where === "disc" && supply >= release) return { where: "in", since_s: 0 };
  if (plate.where === "magnet" && supply < let_go) return { where: "out", since_s: 0 };
  return plate;
};

/** Return the plate some time on, s; a crossing ends after `crossing_s`. */
export const after = (plate, story_s, crossing_s) => {
  if (plate.where === "disc" || plate.where === "magnet") return plate;
  const since_s = plate.since_s + story_s;
  if (since_s < crossing_s) return { ...plate, since_s };
  return { where: plate.where === "in" ? "magnet" : "disc", since_s: 0, clack: true };
};
