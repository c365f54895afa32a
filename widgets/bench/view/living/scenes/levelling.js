// Three screws under one body: turn each, lock them, and see the gap all round. Reads the kernel's tables; sends nothing.

import { draw, mayMove } from "../../../../page/dom.js";
import { ring, tiltedBody } from "../drawn/round.js";
import { glider, nearer } from "../page/glide.js";
import { grip } from "../page/grips.js";
import { living } from "../page/living.js";
import { gapRound, roundFacts } from "../reading/work_state.js";

const NAMES = ["first_deg", "second_deg", "third_deg"];
const TURN_DEG_S = 55;
const SEATS_S = 1.2; // how long locking takes on the page

const named = (turns) => Object.fromEntries(NAMES.map((name, i) => [name, turns[i]]));

function levelling({ size, tables }, { by }) {
  const round = ring({ most_mm: size.widest_mm, setting_mm: size.setting_mm, max_mm: size.max_mm, places: [0, 120, 240] });
  const cut = tiltedBody(86 / size.widest_mm);
  const grips = NAMES.map((name, i) => grip({ control: by.get(name), along: "y", perUnit: () => 1, label: `Turn screw ${i + 1}` }));
  const glide = glider(by, Object.fromEntries(NAMES.map((name) => [name, TURN_DEG_S])));
  const picture = draw("g", { role: "img" }, round.node);
  const section = draw("g", { role: "img" }, cut.node);
  let slack = 0; // 0 tight, 1 let off, on its way between

  let before = NAMES.map((name) => by.get(name).get()).join();
  const advance = (values, story_s) => {
    const moves = glide.advance(story_s);
    const turned = NAMES.map((name) => by.get(name).get()).join();
    // A hollow screw does not turn under a tight bolt: a hand that turns one lets the bolts off first.
    if (turned !== before && values.locks === "tight" && !moves) by.get("locks").set("slack", true);
    before = turned;
    const target = by.get("locks").get() === "slack" ? 1 : 0;
    slack = mayMove() ? nearer(slack, target, 1 / SEATS_S, story_s) : target;
    return moves || slack !== target;
  };
  const show = (values) => {
    const gaps = gapRound(tables, values, slack);
    const found = roundFacts(gaps);
    round.show(gaps, NAMES.map((name) => values[name]));
    cut.show(gaps[0], gaps[gaps.length / 2]);
    grips.forEach((one, i) => one.show(...round.spots[i]));
    const [uneven, narrow] = [found.spread_mm > size.evenness_mm + 1e-9, found.narrowest_mm < size.min_mm];
    const facts = [
      ["Mean", `${found.mean_mm.toFixed(2)} mm`, `to be set: ${size.setting_mm} mm`],
      ["Widest", `${found.widest_mm.toFixed(2)} mm`, `largest allowed ${size.max_mm} mm`],
      ["Narrowest", `${found.narrowest_mm.toFixed(2)} mm`, found.narrowest_mm === 0 ? "the body sits on the plate" : `least allowed ${size.min_mm} mm`, narrow],
      ["Widest less narrowest", `${found.spread_mm.toFixed(2)} mm`, `${uneven ? "more than" : "within"} the ${size.evenness_mm} mm allowed`],
    ];
    const words = `Retaining screws ${values.locks === "slack" ? "slack" : "tight"}. ${facts.map(([name, is]) => `${name} ${is}`).join(", ")}.`;
    picture.setAttribute("aria-label", words);
    section.setAttribute("aria-label", `Cut through the shaft: ${gaps[0].toFixed(2)} mm at the top, ${gaps[gaps.length / 2].toFixed(2)} mm at the bottom.`);
    return { facts, words };
  };
  // The job: let off, turn one screw after another, lock.
  const job = (turns) => [{ locks: "slack" }, ...NAMES.map((name, i) => ({ [name]: turns[i] })), { locks: "tight" }];
  const stills = () => [{ ...named([0, 0, 0]), locks: "tight" }, ...job(size.own_deg)];
  let at = 0;
  const story = {
    begin: [
      ["Turn all three alike", (control) => glide.to(control, { locks: "slack" }, named(size.alike_deg), { locks: "tight" })],
      ["Level it", (control) => glide.to(control, ...job(size.own_deg))],
      ["As found", (control) => glide.to(control, { locks: "slack" }, named([0, 0, 0]), { locks: "tight" })],
    ],
    step: () => {
      at = (at + 1) % stills().length;
      Object.entries(stills()[at]).forEach(([name, target]) => by.get(name).set(target, true));
    },
    pace: false,
  };
  const views = [
    draw("svg", { viewBox: "-6 -14 412 404", role: "group", "aria-label": "The gap round the rim, and three screws" }, picture, ...grips.map((one) => one.node)),
    draw("svg", { viewBox: "0 -4 340 404", role: "group", "aria-label": "Plate and body, cut" }, section),
  ];
  return { views, story, advance, show, courses: () => {} };
}

export default living(levelling);
