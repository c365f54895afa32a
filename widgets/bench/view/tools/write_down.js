// The line on which a gap reading is written down. After a leaf that went and one that did not, at
// one place, it offers both; the person may change them, and nothing is written until they say so.

import { shortest } from "../drawing/angles.js";
import { button, make, numberField } from "../../../page/dom.js";
import { bracket, mm, withTry } from "./readings.js";

/** Return what the gap depends on of what the person has done; a lock that was only tried is as it was. */
export const settingOf = (scene) => {
  const loose = scene.locks.map((lock) => lock !== "tight" && lock !== "untried");
  return JSON.stringify([scene.turned_deg, scene.set_mm, scene.ring_loose, loose, scene.shaft_deg, scene.released, scene.body_on, scene.disc_part, scene.dusty]);
};

/**
 * Return the form: `moved` when the leaf is held elsewhere, `show` for a new scene, `write` what is in it.
 * `offered` is told in words and mm what may be written down now, or nothing; `wrote` the note that was written.
 */
export function gapForm(bench, angleNow, { offered, wrote }) {
  let tries = [];
  let before = "";
  let written = 0;
  const given = { min: 0, max: 5, step: 0.01 };
  const [angleLabel, angle] = numberField("at", { min: 0, max: 359, step: 1, value: 0 }, "°");
  const [goLabel, go] = numberField("goes", given, "mm");
  const [notLabel, not] = numberField("will not", given, "mm");
  const offer = make("p", { class: "offer", hidden: true });

  const write = () => {
    const [angle_deg, go_mm, no_go_mm] = [angle, go, not].map((field) => (field.value === "" ? NaN : Number(field.value)));
    if (![angle_deg, go_mm, no_go_mm].every(Number.isFinite)) {
      bench.decline("Give the angle, the stack that goes and the one that will not.");
      return false;
    }
    bench.wish("write_gap", { angle_deg, go_mm, no_go_mm });
    return true;
  };

  const fill = (found) => {
    go.value = found ? mm(found.go_mm) : "";
    not.value = found ? mm(found.no_go_mm) : "";
    offer.hidden = !found;
    offer.textContent = found ? `Write down: ${mm(found.go_mm)} goes, ${mm(found.no_go_mm)} will not?` : "";
    offered(found && { ...found, words: `${mm(found.go_mm)} goes, ${mm(found.no_go_mm)} will not` });
  };

  const moved = (deg) => {
    if (tries.length && Math.abs(shortest(tries[0].angle_deg, deg)) < 0.5) return;
    tries = [];
    angle.value = deg;
    fill(null);
  };

  const show = ({ scene }, { reply, fixed }) => {
    // What was felt before a screw, a lock or the shaft moved says nothing about the gap now.
    const setting = settingOf(scene);
    if (setting !== before) {
      before = setting;
      tries = [];
      fill(null);
    }
    if (!fixed && reply?.seen?.feel) {
      tries = withTry(tries, reply.seen);
      angle.value = reply.seen.angle_deg;
      fill(bracket(tries));
    }
    if (scene.gap_notes.length > written) {
      offer.hidden = true;
      if (fixed) offered(null);
      else wrote(scene.gap_notes.at(-1));
    }
    written = scene.gap_notes.length;
  };

  const enter = (event) => event.key === "Enter" && (event.preventDefault(), write());
  const node = make(
    "div", { class: "write", role: "group", "aria-label": "Write a gap reading down", keydown: (event) => event.target.tagName === "INPUT" && enter(event) },
    offer,
    make("div", { class: "row" }, make("b", {}, "Gap"), angleLabel, goLabel, notLabel, button("Write down", write)),
  );
  angle.value = angleNow();
  return { node, moved, show, write };
}
