// What sets the gap where no hollow screw does: shims at the screw in hand, notches of a ring, or nothing.
// Sends wishes; says nothing of the gap.

import { button, make, numberField } from "../../../page/dom.js";

const MOST_NOTCHES = 500;
const whole = (field) => (field.value === "" ? NaN : Number(field.value));
const group = (label, ...inside) => make("div", { class: "group", role: "group", "aria-label": label }, ...inside);
const signed = (mm) => `${mm > 0 ? "+" : mm < 0 ? "−" : ""}${Math.abs(mm).toFixed(2)} mm`;

function shims(bench, screwNow) {
  const so_far = make("output", { class: "big" });
  const [label, field] = numberField("Thickness of shims", { min: 0, max: 10, step: 0.01 }, "mm");
  const change = (sign) => {
    const thick_mm = whole(field);
    if (!(thick_mm > 0)) return bench.decline("Give the thickness of the shims first, in mm.");
    bench.wish("change_shim", { screw: screwNow(), change_mm: sign * thick_mm });
  };
  const ways = make("span", { class: "pair" }, button("Take out", () => change(-1)), button("Put in", () => change(1)));
  const node = group("Shims, the setting", make("p", {}, "Shims under this spacer since the start: ", so_far), make("div", { class: "row" }, label, ways));
  return { node, show: (scene) => (so_far.textContent = signed(scene.set_mm[screwNow() - 1])) };
}

function ring(bench) {
  const state = make("b");
  const [label, field] = numberField("Notches", { min: 1, max: MOST_NOTCHES, step: 1 });
  const turn = (sign) => {
    const notches = whole(field);
    if (!Number.isInteger(notches) || notches < 1 || notches > MOST_NOTCHES) return bench.decline(`Give a whole number of notches, up to ${MOST_NOTCHES}.`);
    bench.wish("turn_adjusting_ring", { notches: sign * notches });
  };
  const ways = make("span", { class: "pair" }, button("In", () => turn(-1)), button("Out", () => turn(1)));
  const node = group(
    "Adjusting ring, the setting",
    make("p", {}, "Adjusting ring: ", state),
    make("div", { class: "row" }, button("Loosen the ring’s set screw", () => bench.wish("loosen_adjusting_ring")), button("Tighten the ring’s set screw", () => bench.wish("lock_adjusting_ring"))),
    make("div", { class: "row" }, label, ways),
    make("p", { class: "quiet" }, "It moves the body equally all the way round. Out opens the gap."),
  );
  return { node, show: (scene) => (state.textContent = scene.ring_loose ? "its set screw is loose" : "locked by its set screw") };
}

const nothing = () => ({
  node: group("The setting", make("p", {}, "Nothing on this brake sets its gap: it cannot be adjusted. Put nothing under the body, and file nothing off.")),
  show: () => {},
});

/** Return the groups of the designs that have no hollow screws, and what shows the one of a scene. */
export function otherSettings(bench, screwNow) {
  const made = { shims: shims(bench, screwNow), adjusting_ring: ring(bench), fixed: nothing() };
  const show = (scene) => {
    for (const [design, one] of Object.entries(made)) {
      one.node.hidden = scene.design !== design;
      one.show(scene);
    }
  };
  return { nodes: Object.values(made).map((one) => one.node), show };
}
