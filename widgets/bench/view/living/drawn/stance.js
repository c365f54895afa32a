// Where the parts of the section stand for a gap and a wear: offsets from where the bench draws them. Pure.
// Lengths of the brake come in mm from the kernel; the drawing enlarges them, and the page says how much.

export const STANDARD_GAP = 17; // units between plate and magnet body on the bench's own drawing
const PLATE = [179, 203]; // its faces on that drawing
const BODY = 220; // face of the magnet body
const BORE_END = 296; // where the springs' holes end
const FACE = 134; // of the wear plate
const CARRIER = 18;
const MOST_OPEN = 68; // units that the widest gap may take

/** Return how many units a millimetre is drawn: the setting gap as the bench draws it, the widest gap in the room there is. */
export const unitsPerMm = ({ setting_mm, widest_mm }, most = MOST_OPEN) => Math.min(STANDARD_GAP / setting_mm, most / widest_mm);

/**
 * Return the offsets of every part that moves.
 * `gap_mm` is the gap with the brake applied, `open_mm` how far the plate is from the poles now,
 * `worn_mm` what each lining has lost; `lining` is how thick a new one is drawn.
 */
export const stance = ({ gap_mm, open_mm, worn_mm = 0 }, scale, lining) => {
  const lost = Math.min(worn_mm * scale, lining);
  const gap = gap_mm * scale;
  const play = Math.max(0, gap - open_mm * scale); // clearance that the released disc has, both sides together
  const plateRests = FACE + CARRIER + 2 * (lining - lost) + 1;
  const bodyFace = plateRests + PLATE[1] - PLATE[0] + gap;
  const plate = plateRests - PLATE[0] + play;
  const body = bodyFace - BODY;
  return {
    disc: lining - (147 - FACE) - lost + play / 2, // 147: the carrier's face on the bench's drawing
    lost,
    plate,
    body,
    springs: [PLATE[1] + plate + 1, BORE_END + body],
    gap: [PLATE[1] + plate, bodyFace],
  };
};
