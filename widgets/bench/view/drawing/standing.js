// How each part of the brake stands, in words: on, off, covered, none. Pure: it knows a scene, no page.
// What a part covers has no word but "out of sight": a drawing must not tell what the eye cannot.

/** The parts of the side view, in the order of their numbers: the upper row, then the lower. */
export const PARTS = [
  ["wear", "Wear plate"], ["disc", "Disc"], ["plate", "Pressure plate"], ["seal", "Seal band"],
  ["body", "Magnet body"], ["lever", "Hand release"], ["ring", "Ring of the fan"],
  ["end", "Motor end"], ["hub", "Hub"], ["springs", "Springs"], ["screws", "Screws"],
  ["leads", "Leads"], ["fan", "Fan"], ["cover", "Cover"],
];
/** What the tray calls a part, and its name on the side view. */
export const IN_TRAY = new Map([
  ["cover", "cover"], ["ring", "ring"], ["fan", "fan"], ["seal band", "seal"], ["hand release", "lever"],
  ["magnet body", "body"], ["disc", "disc"], ["wear plate", "wear"],
]);
const LEADS = {
  dc: "on the DC side", ac: "on the AC side", off: "off, marked", torn: "one is torn off",
};
const LOCKS = {
  untried: "not tried", tight: "tight", slack: "slack", out: "out", started: "started by hand",
};

/** Return a retaining screw's state in words. */
export const lockWords = (lock) => LOCKS[lock] ?? lock;

/** Return all three retaining screws in words. */
export const allLocks = (locks) => locks.map((lock, i) => `${i + 1} ${lockWords(lock)}`).join(", ");

const on = (words = "on") => ({ is: "on", words });
const off = (scene, name, none = "none there") =>
  scene.tray.includes(name) ? { is: "off", words: "off, in the tray" } : { is: "off", words: none };
const covered = (part) => ({ is: "covered", words: `behind the ${part}, out of sight` });

const wear = (scene, row) => {
  if (row?.wear_plate_mm === 0) return { is: "off", words: "this size has none" };
  if (scene.wear_plate_on === null) return covered("disc");
  if (!scene.wear_plate_on) return off(scene, "wear plate", "none on");
  if (scene.plate_smooth_to_disc === null) return on();
  return on(scene.plate_smooth_to_disc ? "on, smooth side to the disc" : "on, smooth side to the motor");
};

const disc = (scene) => {
  if (!scene.disc_on) {
    const lies = off(scene, "disc", "none on the hub");
    const stood = scene.disc_reversed ? "brake" : "motor";
    return scene.tray.includes("disc") && scene.disc_reversed !== null ? { ...lies, words: `${lies.words}; its collar stood to the ${stood}` } : lies;
  }
  const which = scene.disc_part === "old" ? "on the hub" : "on the hub, a new one";
  if (scene.disc_reversed === null) return on(which);
  return on(`${which}, collar to the ${scene.disc_reversed ? "brake" : "motor"}`);
};

const body = (scene) => {
  if (!scene.body_on) return off(scene, "magnet body");
  const more = [scene.body_held && "in the sling", scene.body_cocked && "hangs askew"].filter(Boolean);
  return on(["on", ...more].join(", "));
};

const seal = (scene) => {
  if (scene.cover_on) return covered("cover");
  if (scene.fan_on) return covered("fan");
  if (!scene.seal_on) return off(scene, "seal band");
  return on(scene.seal_seated ? "on" : "on, its lip stands out");
};

const fan = (scene) => {
  if (scene.cover_on) return covered("cover");
  return scene.fan_on ? on("on the shaft") : off(scene, "fan", "none on the shaft");
};

const ring = (scene) => {
  if (scene.cover_on) return covered("cover");
  return scene.ring_on ? on("in its groove") : off(scene, "ring", "none in the groove");
};

const lever = (scene) => {
  if (!scene.lever_on) return off(scene, "hand release");
  return on(scene.lever_drawn ? "on, it stays pulled" : "on");
};

const hub = (scene) => {
  if (scene.disc_on) return covered("disc");
  return on(scene.spline_cleaned ? "bare, spline clean" : "bare, spline as it was");
};

const springs = (scene) => (scene.body_on ? covered("pressure plate") : { is: "off", words: "off with the magnet body" });

const plate = (scene) => {
  if (!scene.body_on) return { is: "off", words: "off with the magnet body" };
  return on(scene.released ? "pulled in, brake open" : "not seen to move");
};

/**
 * Return how every part stands: its place on the drawing to `is` ("on", "off", "covered") and words.
 * `row` is the row of the sheet of the size that was read off the plate, if it was.
 */
export const standing = (scene, row = null) => ({
  wear: wear(scene, row), disc: disc(scene), plate: plate(scene), seal: seal(scene), body: body(scene),
  lever: lever(scene), cover: scene.cover_on ? on() : off(scene, "cover"),
  end: on(`keyway at ${Number(scene.shaft_deg.toFixed(1))}°`), hub: hub(scene), springs: springs(scene),
  screws: scene.body_on ? on(allLocks(scene.locks)) : { is: "off", words: "out" },
  leads: scene.box_on ? covered("cover of their box") : { is: scene.leads === "off" ? "off" : "on", words: LEADS[scene.leads] ?? scene.leads },
  fan: fan(scene), ring: ring(scene),
});

/** Return the row of the sheet for the size read off the plate, or null. */
export const ownRow = ({ fixed, scene }) => fixed?.sheet.rows.find((row) => row.name === scene?.size) ?? null;

/** Return in one sentence or two what the side view shows. */
export const sideWords = (stands) => {
  const names = (wanted) => PARTS.filter(([part]) => stands[part].is === wanted).map(([, name]) => name.toLowerCase()).join(", ");
  const words = [["On", names("on")], ["Off", names("off")], ["Not seen", names("covered")]];
  return words.filter(([, list]) => list).map(([head, list]) => `${head}: ${list}.`).join(" ");
};
