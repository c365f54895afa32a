// The side view: a schematic section through the brake, whose parts come off, go on and move.
// Draws what a scene's yes and no tell; holds no gap, no thickness. Each number is a key to its part.

import { draw, oneStop, pressable, walk } from "../../../page/dom.js";
import { designOf, packs, ringSection } from "./designs.js";
import { AXIS, LEAD_PATHS, POINTS, shapes } from "./section_parts.js";
import { ownRow, PARTS, sideWords, standing } from "./standing.js";

const ROW = 7; // balloons in the upper row, and in the lower
const FIRST_X = 60;
const STEP_X = 100;
const UPPER_Y = 34;
const LOWER_Y = 486;
const DRAWN_IN = 12; // units the plate moves when the brake opens: a sign, not a measure
const FREED = 5;
const SCREW_OUT = { untried: 0, tight: 0, slack: 8, started: 34, out: 74 }; // units, a sign too
const LETTERS = "upper screw 1, lower screw 2";

const spot = (index) => [FIRST_X + STEP_X * (index % ROW), index < ROW ? UPPER_Y : LOWER_Y];

function balloon([part, name], index, press) {
  const [x, y] = spot(index);
  const [toX, toY] = POINTS[part];
  const upper = index < ROW;
  const leader = draw("path", { d: `M${x} ${upper ? y + 20 : y - 20} L${toX} ${toY}`, class: "leader" });
  const key = draw(
    "g", { class: "balloon" },
    draw("rect", { x: x - 48, y: upper ? y - 34 : y - 54, width: 96, height: 88, class: "tap" }),
    draw("circle", { cx: x, cy: y, r: 19, class: "f" }),
    draw("text", { x, y }, String(index + 1)),
  );
  pressable(key, () => press(part));
  const show = ({ is, words }) => {
    key.setAttribute("aria-label", `${index + 1}, ${name}: ${words}`);
    for (const node of [key, leader]) node.setAttribute("data-is", is);
  };
  return { key, leader, show };
}

const shift = (node, x, turn = 0) => (node.style.transform = `translateX(${x}px) rotate(${turn}deg)`);
const mark = (node, name, is) => node.classList.toggle(name, Boolean(is));
const visible = (nodes, is) => nodes.forEach((node) => (node.style.display = is ? "" : "none"));

function showScrews(parts, scene) {
  parts.screws.forEach(({ retaining, hollow }, i) => {
    const lock = scene.body_on ? scene.locks[i] : "out";
    shift(retaining, SCREW_OUT[lock] ?? 0);
    mark(retaining, "is-loose", lock === "out");
    mark(hollow, "is-gone", !scene.body_on);
    // Hollow screws have a thread; spacers have none, and a pack of shims at their foot.
    visible([hollow.lastChild, hollow.children[1]], designOf(scene) === "hollow_screws");
    visible([parts.packs[i]], scene.body_on && scene.design === "shims");
    mark(retaining, "is-gone", !scene.body_on);
  });
}

function showMoves(parts, scene) {
  const { made } = parts;
  const cocked = scene.body_cocked ? 2 : 0;
  for (const part of ["body", "springs"]) shift(made[part], 0, scene.body_on ? cocked : 0);
  shift(made.plate, scene.body_on && scene.released ? DRAWN_IN : 0);
  shift(made.disc, scene.body_on && scene.released ? FREED : 0);
  shift(made.lever, 0, scene.lever_drawn ? 3 : 0);
  visible([parts.lead], scene.body_on);
  visible([parts.lid], scene.box_on);
  parts.lead.setAttribute("d", LEAD_PATHS[scene.leads] ?? LEAD_PATHS.off);
}

/** Return the side view: its SVG, what shows a scene, and what marks the part being worked. */
export function sideView(press) {
  const parts = shapes();
  const { made } = parts;
  parts.packs = packs();
  const ringCut = ringSection();
  const balloons = PARTS.map((part, index) => balloon(part, index, press));
  // From the back to the front, so that what covers is drawn over what it covers.
  const order = ["leads", "end", "hub", "wear", "disc", "plate", "body", "springs", "screws", "seal", "lever", "fan", "ring", "cover"];
  const picture = draw("g", { role: "img" }, ...order.map((part) => made[part]), ...parts.packs, ringCut, parts.sling);
  const keys = walk(draw("g", { role: "group", "aria-label": "Parts" }, ...balloons.map((one) => one.key)), ".balloon");
  oneStop(balloons.map((one) => one.key));
  const svg = draw(
    "svg", { viewBox: "0 0 720 520", role: "group", "aria-label": "Side view of the brake, cut open", class: "side" },
    picture, draw("g", { "aria-hidden": "true" }, ...balloons.map((one) => one.leader)), keys,
  );
  for (const [part] of PARTS) made[part].addEventListener("click", () => press(part));

  const show = (known) => {
    const { scene } = known;
    const stands = standing(scene, ownRow(known));
    PARTS.forEach(([part], i) => {
      // A cover stands before it, but what is there is known: only a part nobody can tell of is dashed.
      mark(made[part], "is-off", stands[part].is === "off" && part !== "leads");
      balloons[i].show(stands[part]);
    });
    mark(made.wear, "is-unseen", stands.wear.is === "covered");
    visible(parts.heads, scene.wear_plate_on && scene.plate_smooth_to_disc === false);
    visible(parts.collars.motor, scene.disc_reversed === false);
    visible(parts.collars.brake, scene.disc_reversed === true);
    mark(parts.sling, "is-off", !scene.body_held);
    showScrews(parts, scene);
    visible([ringCut], scene.body_on && scene.design === "adjusting_ring" && !scene.cover_on);
    showMoves(parts, scene);
    picture.setAttribute("aria-label", `Schematic section, to no scale; ${LETTERS}. ${sideWords(stands)}`);
    return stands;
  };
  const work = (part) => {
    PARTS.forEach(([own], i) => {
      mark(made[own], "is-worked", own === part);
      mark(balloons[i].key, "is-worked", own === part);
      if (own === part) balloons[i].key.setAttribute("aria-pressed", "true");
      else balloons[i].key.removeAttribute("aria-pressed");
    });
  };
  return { svg, show, work };
}

/** The axis of the drawing, for what is turned about it. */
export const axis = AXIS;
