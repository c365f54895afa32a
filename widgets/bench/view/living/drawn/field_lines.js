// The magnet's field round its coil: closed lines through body, gap and plate. Pure paths, and how strong each is drawn.

export const LINES = 5;
const FULL_T = 1.5; // flux density at which all lines are drawn at their heaviest
const HEAVIEST = 3.6; // stroke, px

const text = (value) => Number(value.toFixed(1));

/** Return the path of one line, in the upper half of the section, for the faces of plate and body. */
export const loop = (index, plateFace, bodyFace) => {
  const left = plateFace - 20 + index * 3.2; // in the plate, which is 24 thick
  const right = bodyFace + 152 - index * 11; // in the back of the body
  const top = 116 + index * 6; // in the outer pole
  const foot = 211 - index * 3.4; // in the inner pole
  const bend = 6;
  return (
    `M${text(left + bend)} ${top} H${text(right - bend)} Q${text(right)} ${top} ${text(right)} ${top + bend} ` +
    `V${text(foot - bend)} Q${text(right)} ${text(foot)} ${text(right - bend)} ${text(foot)} H${text(left + bend)} ` +
    `Q${text(left)} ${text(foot)} ${text(left)} ${text(foot - bend)} V${top + bend} Q${text(left)} ${top} ${text(left + bend)} ${top} Z`
  );
};

/** Return the stroke of a line for a flux density, T: more lines and heavier ones for more flux. */
export const weight = (index, flux_t) => {
  const share = Math.min(1, Math.max(0, flux_t / FULL_T));
  const own = Math.min(1, Math.max(0, share * LINES - index * 0.72));
  return own * HEAVIEST * (0.35 + 0.65 * share);
};
