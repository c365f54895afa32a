// The stages of the job: which one a scene is in, how long the work has taken, what is done.
// Pure, and no judge: a stage is a place to look for things, never a gate.

/** The stages in the order of a work order: name and words. */
export const STAGES = [
  ["safe", "Make safe"], ["open", "Open, close"], ["look", "Look, clean"], ["measure", "Measure"],
  ["decide", "Decide"], ["adjust", "Adjust"], ["apart", "Take apart, fit"], ["prove", "Prove"], ["over", "Hand over"],
];

const isApart = (scene) =>
  !scene.body_on || !scene.disc_on || scene.body_held || scene.locks.some((lock) => lock === "out");
const isAdjusting = (scene) =>
  scene.locks.some((lock) => lock === "slack") || scene.turned_deg.some((deg) => deg !== 0) || scene.set_mm?.some((mm) => mm !== 0) || Boolean(scene.ring_loose);

const isMeasured = (scene) => scene.gap_notes.length > 0 || scene.disc_notes.length > 0;

// Under its cover a brake is either not yet opened, or closed again.
const closedStage = (scene) => {
  if (scene.decision) return scene.isolated ? "over" : "prove";
  if (isMeasured(scene)) return scene.isolated ? "decide" : "prove";
  return scene.isolated && scene.proved_dead ? "open" : "safe";
};

/** Return the stage in which a scene finds the work: by what is off and written, not by what is right. */
export const stageOf = (scene) => {
  if (scene.handed_over) return "over";
  if (scene.cover_on) return closedStage(scene);
  if (scene.energised || (scene.decision && !scene.isolated)) return "prove";
  if (isApart(scene)) return "apart";
  if (scene.fan_on || scene.seal_on) return "open";
  if (isAdjusting(scene)) return "adjust";
  if (scene.decision) return scene.decision === "replace" ? "apart" : scene.decision === "adjust" ? "adjust" : "open";
  if (scene.dusty || !scene.size) return "look";
  return scene.gap_notes.length && scene.disc_notes.length ? "decide" : "measure";
};

/** Return how long the work so far would have taken, in words. */
export const timeWords = (elapsed_s) => {
  if (!elapsed_s) return "no work yet";
  const min = Math.max(1, Math.round(elapsed_s / 60));
  if (min < 60) return `about ${min} min of work`;
  const rest = min % 60;
  return `about ${Math.floor(min / 60)} h${rest ? ` ${rest} min` : ""} of work`;
};

const STARTS = {
  "work order": "The hoist stands before you, closed and live.",
  open: "Isolated, proved dead and open: cover, fan and seal band are off, the nameplate is read.",
  "body off": "Isolated, open, and the magnet body is off: the disc is in front of you.",
  notes: "The brake is not here. You have a colleague’s notes to work from.",
};

/** Return where the job began, in words. */
export const startWords = (start) => STARTS[start] ?? "";

const count = (notes, word) => {
  const many = notes.filter((note) => !note.struck).length;
  return many ? `${many} ${word} reading${many > 1 ? "s" : ""} written` : "";
};

/** Return what is done, as short lines, in the order of a work order; nothing is said of the rest. */
export const doneLines = (scene) => {
  const here = scene.start !== "notes"; // elsewhere a colleague did it
  return [
    here && scene.load_landed && "load landed",
    here && scene.isolated && "locked off",
    scene.start === "work order" && scene.second_isolated && "second feed locked off",
    here && scene.proved_dead && "proved dead",
    scene.size && `nameplate read: ${scene.size}`,
    count(scene.gap_notes, "gap"),
    count(scene.disc_notes, "disc"),
    count(scene.value_notes ?? [], "other"),
    scene.decision && "decision on the record",
    scene.handed_over && "handed over",
  ].filter(Boolean);
};
