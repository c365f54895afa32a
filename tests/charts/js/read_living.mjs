// Reads the kernel's tables as the page does: a scene's questions in, what the page would show out.
import { readFileSync } from "node:fs";

const { modules, tables, courses, asked, size } = JSON.parse(readFileSync(0, "utf8"));
const from = (name) => import(`${modules}/${name}.js`);
const { value } = await from("reading/interpolate");
const { clackState } = await from("scenes/clack");
const { stopState } = await from("reading/stop_state");
const { wearState } = await from("scenes/wear_runs");
const work = await from("reading/work_state");
const finite = (state) => Object.fromEntries(Object.entries(state).map(([name, found]) => [name, found === Infinity ? "never" : found]));

const ANSWERS = {
  value: ({ table, column, at }) => ({ found: value(tables[table], column, ...at) }),
  clack: ({ values, plate }) => clackState(tables, values, plate, courses),
  stop: ({ side, gap_mm, time_s }) => stopState({ plate: courses[`plate_${side}`], load: courses[`load_${side}`] }, gap_mm, time_s),
  gap_round: ({ values, slack }) => { const gaps = work.gapRound(tables, values, slack); return { gaps, ...work.roundFacts(gaps) }; },
  screw: ({ values }) => work.screwState(tables, values, size.setting_mm),
  leaf: ({ values }) => work.leafState(tables, values, size),
  jaws: ({ values }) => work.jawState(tables, values),
  heat: ({ values, time_s }) => work.heatState(tables, values, time_s, size.air_c, size.most_c),
  wear: ({ habit, stops }) => wearState(tables, habit, stops, size.hot_c),
};
process.stdout.write(JSON.stringify(asked.map((one) => finite(ANSWERS[one.ask](one)))));
