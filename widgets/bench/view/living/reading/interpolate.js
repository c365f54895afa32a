// Reads between the points of the kernel's tables and courses. Pure; it knows no brake.

/** Return where a number lies in a row that never falls: the point before it, and the share of the step to the next. */
export const place = (points, x) => {
  let low = 0;
  let high = points.length - 1;
  if (!(x > points[0])) return [0, 0]; // what is not a number stands at the first point, too
  if (x >= points[high]) return [high - 1, 1];
  while (high - low > 1) {
    const middle = (low + high) >> 1;
    if (points[middle] <= x) low = middle;
    else high = middle;
  }
  return [low, (x - points[low]) / (points[high] - points[low])];
};

const between = (before, after, share) => {
  if (share === 0) return before ?? Infinity;
  if (share === 1) return after ?? Infinity;
  return before === null || after === null ? Infinity : before + (after - before) * share;
};

/** Return a column of a table at a place: one number for each axis, in their order. A gap in the column is infinite. */
export const value = (table, column, ...at) => {
  const row = table.columns[column];
  const read = (axis, base) => {
    if (axis === table.axes.length) return row[base];
    const { points } = table.axes[axis];
    const [low, share] = place(points, at[axis]);
    const from = base * points.length + low;
    return between(read(axis + 1, from), read(axis + 1, from + 1), share);
  };
  const found = read(0, 0);
  return found ?? Infinity;
};

/** Return how long each phase of a course lasts, s, for a value of its axis. */
export const lengths = ({ axis, phases }, at) => {
  const [low, share] = place(axis.points, at);
  return phases.map(({ duration_s }) => between(duration_s[low], duration_s[low + 1], share));
};

/** Return how long a whole course lasts, s. */
export const whole = (course, at) => lengths(course, at).reduce((sum, one) => sum + one, 0);

const step = (row, share) => {
  const from = Math.min(Math.floor(share * (row.length - 1)), row.length - 2);
  return row[from] + (row[from + 1] - row[from]) * (share * (row.length - 1) - from);
};

/** Return a course at a time, s: every column, the phase by name, and whether it is over. */
export const courseAt = (course, at, time_s) => {
  const [low, share] = place(course.axis.points, at);
  const last = course.phases.length - 1;
  const all = lengths(course, at);
  let index = 0;
  let left = Math.max(0, time_s);
  while (index < last && left >= all[index]) left -= all[index++];
  const { name, columns } = course.phases[index];
  const along = all[index] > 0 ? Math.min(1, left / all[index]) : 1;
  const found = { phase: name, over: index === last && along >= 1 };
  for (const key in columns) found[key] = between(step(columns[key][low], along), step(columns[key][low + 1], along), share);
  return found;
};
