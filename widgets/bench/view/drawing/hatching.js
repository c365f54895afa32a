// Section lines: hatching that tells materials apart. Pure: it returns paths, clipped to a box.

const along = (x, y, width, height, offset, way) => {
  // The line u = offset, where u runs from the box's upper left (way 1) or lower left (way -1) corner.
  const from = Math.max(0, offset - height);
  const to = Math.min(width, offset);
  if (to <= from) return "";
  const height_at = (u) => (way > 0 ? y + (offset - u) : y + height - (offset - u));
  const text = (value) => Number(value.toFixed(1));
  return `M${text(x + from)} ${text(height_at(from))} L${text(x + to)} ${text(height_at(to))}`;
};

/** Return the path of lines at 45 degrees in a box: `way` 1 rises to the right, -1 falls. */
export const hatch = ([x, y, width, height], step, way = 1) => {
  const lines = [];
  for (let offset = step; offset < width + height; offset += step) lines.push(along(x, y, width, height, offset, way));
  return lines.filter(Boolean).join(" ");
};

/** Return the path of lines both ways in a box. */
export const crossed = (box, step) => `${hatch(box, step, 1)} ${hatch(box, step, -1)}`;

/** Return a box mirrored in the axis of the shaft. */
export const mirrored = ([x, y, width, height], axis) => [x, 2 * axis - y - height, width, height];

/** Return the path of a coil spring seen from the side, in a box. */
export const coils = ([x, y, width, height], turns) => {
  const step = width / (2 * turns);
  const points = Array.from({ length: 2 * turns + 1 }, (_, i) => `${Number((x + i * step).toFixed(1))} ${i % 2 ? y + height : y}`);
  return `M${points.join(" L")}`;
};
