// Caliper and steel rule at the edge of the disc, over both linings. Sends measure_disc and write_disc.
// The scale is read by the person and the reading typed by them; nothing is filled in.

import { placeName, wrap } from "../drawing/angles.js";
import { caliperScale } from "../drawing/caliper_scale.js";
import { button, choices, make, numberField } from "../../../page/dom.js";
import { jawsMark } from "../drawing/jaws.js";
import { stepOn } from "./next_step.js";
import { checkRow } from "./own_check.js";
import { ruleScale } from "../drawing/rule.js";
import { samePlace, wentRound } from "./went_round.js";

const PLACES_DEG = [0, 45, 90, 135, 180, 225, 270, 315];
const ON_DEG = 90; // from one place of the notes sheet to the next, until the person has taken a step of their own
const TOOLS = [["caliper", "Caliper, 0.02 mm"], ["rule", "Steel rule, 0.5 mm"]];
const CLOSE = { caliper: "Close the jaws", rule: "Hold the rule to it" };
const HOW = {
  caliper: "Caliper: count the marks on the main scale before the zero of the vernier. Then take the glass along the vernier (drag it, or use the arrow keys) to the line that is in line with a main mark.",
  rule: "Rule: the end stands at one face of the disc. Read the mark at the other face.",
};

/** Return what tells whether the jaws still close over the same disc at the same place. */
export const underJaws = (scene) => JSON.stringify([scene.shaft_deg, scene.disc_on, scene.disc_part, scene.seal_on, scene.fan_on]);

/**
 * Return the tool: its node, its mark on the end view if that is given, and what shows a scene.
 * `takeUp` puts another tool in the hand, where there is one.
 */
export function caliperTool(bench, drawing = null, takeUp = null) {
  let angle = 0;
  let written = 0;
  let stood = "";
  let last = null; // the place that was written last
  let step = ON_DEG;
  const jaws = drawing && jawsMark(drawing, (deg) => turnTo(deg));
  const scales = { caliper: caliperScale(), rule: ruleScale() };
  const where = make("b");
  const empty = make("p", { class: "quiet" });
  const hint = make("p", { class: "hint" });
  const close = button("", () => bench.wish("measure_disc", { angle_deg: angle, tool: tool.get() }), { class: "main" });
  const round = wentRound("disc", takeUp, () => onKey);
  const on = () => {
    const deg = round.next(angle, step);
    if (deg === null) return round.after()?.act();
    turnTo(deg);
    bench.wish("measure_disc", { angle_deg: angle, tool: tool.get() });
  };
  const onKey = button("", on, { hidden: true });
  const [freeLabel, free] = numberField("Other angle", { min: 0, max: 359, step: 1, change: () => free.value !== "" && turnTo(Number(free.value)) }, "°");
  const [valueLabel, value] = numberField("I read", { min: 0, max: 300, step: "any" }, "mm");

  const takeOff = () => {
    Object.values(scales).forEach((scale) => scale.open());
    empty.hidden = false;
    empty.textContent = `Nothing is measured at ${placeName(angle)} yet.`;
  };
  const turnTo = (deg) => {
    if (!Number.isFinite(deg)) return;
    angle = wrap(Math.round(deg * 10) / 10);
    places.set(PLACES_DEG.includes(angle) ? angle : null);
    free.value = PLACES_DEG.includes(angle) ? "" : angle;
    where.textContent = placeName(angle);
    jaws?.place(angle);
    onKey.hidden = true;
    takeOff();
  };
  const take = (name) => {
    close.textContent = CLOSE[name];
    hint.textContent = HOW[name];
    onKey.hidden = true;
    takeOff();
  };
  const places = choices("Place round the rim", PLACES_DEG.map((deg) => [deg, `${deg}°`]), turnTo, { rowClass: "keys places" });
  const tool = choices("Measure with", TOOLS, take);

  const write = () => {
    const value_mm = value.value === "" ? NaN : Number(value.value);
    if (!(value_mm >= 0 && value_mm <= 300)) return bench.decline("First type what you read on the scale, in mm.");
    bench.wish("write_disc", { angle_deg: angle, value_mm, tool: tool.get() });
  };
  value.addEventListener("keydown", (event) => {
    if (event.key !== "Enter") return;
    event.preventDefault();
    write();
  });

  const offerNext = () => {
    step = stepOn(last, angle, step);
    last = angle;
    round.add(angle);
    const deg = round.next(angle, step);
    const words = deg === null ? round.after()?.words : `On to ${deg}°: ${CLOSE[tool.get()].toLowerCase()}`;
    onKey.textContent = words ?? "";
    onKey.hidden = !words;
  };

  const measured = ({ angle_deg, tool: name, shown_mm }, mayScroll) => {
    if (!samePlace(angle_deg, angle)) turnTo(angle_deg);
    tool.set(name);
    take(name);
    empty.hidden = true;
    scales[name].close(shown_mm);
    // With the next frame, when the page is laid out anyway: at once it would be laid out twice.
    if (mayScroll) requestAnimationFrame(() => scales[name].node.scrollIntoView({ block: "nearest" }));
  };

  const show = ({ scene }, { reply, fixed }) => {
    if (!scene) return;
    const stands = underJaws(scene);
    if (stands !== stood) takeOff();
    stood = stands;
    round.see(scene, stands, fixed ? scene.disc_notes : []);
    if (reply?.seen?.shown_mm !== undefined) measured(reply.seen, !fixed);
    if (scene.disc_notes.length > written) {
      value.value = "";
      if (!fixed) offerNext();
    }
    written = scene.disc_notes.length;
  };

  const node = make(
    "div", { class: "gal-caliper" },
    tool.node, places.node,
    make("div", { class: "row" }, freeLabel, close),
    empty, scales.caliper.node, scales.rule.node,
    make("div", { class: "write", role: "group", "aria-label": "Write a disc reading down" },
      make("div", { class: "row" }, make("b", {}, "Disc"), make("span", {}, "at ", where), valueLabel, button("Write down", write), onKey)),
    checkRow(bench, "caliperTool"),
    hint,
  );
  tool.set("caliper");
  take("caliper");
  turnTo(0);
  return { node, show, mark: jaws?.node ?? null };
}
