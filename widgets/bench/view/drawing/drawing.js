// Draws the end view, to scale in angle: magnet body, three screws, shaft, and over them seal, fan
// and cover while they are on; with the body off, what lies behind it. Sets nothing. Shows no gap: see ring.js for the person's own readings.

import { arc, at, CENTRE, hexagon, polar, SCREW_CIRCLE, SCREWS_DEG, sector, spoke } from "./angles.js";
import { adjustingRing, designOf, SET_WITH, setterAt } from "./designs.js";
import { draw } from "../../../page/dom.js";
import { allLocks } from "./standing.js";

export const RIM = 216; // radius of the magnet body, in units of the drawing
const round = (count, make) => Array.from({ length: count }, (_, i) => make((360 * i) / count));
const circle = (r, kind) => draw("circle", { cx: CENTRE, cy: CENTRE, r, class: kind });
const path = (d, kind) => draw("path", { d, class: kind });

/** Return where a screw stands on the drawing. */
export const screwPoint = (screw) => at(SCREW_CIRCLE, SCREWS_DEG[screw - 1]);

const scale = () =>
  draw(
    "g", {},
    ...round(72, (deg) => path(spoke(230, deg % 45 ? (deg % 15 ? 234 : 238) : 243, deg), "l")),
    ...round(8, (deg) => {
      const [x, y] = at(262 + 16 * Math.abs(Math.sin((deg * Math.PI) / 180)), deg);
      return draw("text", { x, y, class: "scale" }, `${deg}°`);
    }),
  );

const centreLines = () =>
  draw("g", {}, ...[0, 90].map((deg) => path(`${spoke(0, 226, deg)} ${spoke(0, 226, deg + 180)}`, "c")));

const shaft = () =>
  draw(
    "g", {},
    circle(30, "f"),
    path(`M${CENTRE - 7} ${CENTRE - 29} v10 h14 v-10`, "f"),
    circle(4, "l"),
  );

const screw = (number, pick) => {
  const [x, y] = screwPoint(number);
  const setter = setterAt();
  const key = path(hexagon(6), "l");
  const head = draw("g", {}, draw("circle", { r: 11, class: "f" }), key);
  const slack = draw("circle", { r: 15, class: "slack" });
  const untried = draw("text", { y: 1, class: "untried" }, "?");
  const [nx, ny] = at(33, SCREWS_DEG[number - 1] + (number === 3 ? -118 : 118), x, y);
  return {
    setter,
    slack,
    untried,
    key,
    head,
    node: draw(
      "g", {},
      draw("g", { transform: `translate(${x} ${y})` }, setter.node, slack, head, untried),
      draw("text", { x: nx, y: ny, class: "number" }, String(number)),
      draw("circle", { cx: x, cy: y, r: 42, class: "tap", click: () => pick(number) }),
    ),
  };
};

// A band of rubber round the rim, hatched both ways.
const seal = () =>
  draw(
    "g", { class: "seal" },
    path(`${sector(209, 227, 0, 179.99)} ${sector(209, 227, 180, 359.99)}`, "band"),
    circle(209, "o"),
    circle(227, "o"),
    ...round(90, (deg) => path(`${spoke(209, 227, deg, 3)} ${spoke(209, 227, deg, -3)}`, "l")),
  );

const blade = (deg) => {
  const [x1, y1] = at(40, deg - 10);
  const [x2, y2] = at(84, deg + 20);
  const [x3, y3] = at(122, deg + 22);
  const [x4, y4] = at(122, deg + 32);
  const [x5, y5] = at(80, deg + 34);
  const [x6, y6] = at(40, deg + 12);
  return path(`M${x1} ${y1} Q${x2} ${y2} ${x3} ${y3} L${x4} ${y4} Q${x5} ${y5} ${x6} ${y6}`, "f");
};

const fan = () => {
  const turns = draw("g", {}, ...round(9, blade), circle(44, "f"), circle(30, "f"), path(`M${CENTRE - 7} ${CENTRE - 29} v10 h14 v-10`, "l"));
  return { turns, node: draw("g", {}, circle(126, "f"), turns) };
};

const cover = () =>
  draw(
    "g", {},
    circle(228, "f"),
    circle(218, "l"),
    ...[70, 94, 118, 142, 166, 190].flatMap((r) =>
      round(6, (deg) => path(sector(r - 5, r + 5, deg + 6, deg + 54), "l")),
    ),
    circle(46, "l"),
    ...round(4, (deg) => {
      const [cx, cy] = at(206, deg + 45);
      return draw("g", {}, draw("circle", { cx, cy, r: 6, class: "f" }), draw("line", { x1: cx - 4, y1: cy - 4, x2: cx + 4, y2: cy + 4, class: "l" }));
    }),
  );

// What a retaining screw looks like in each state: its key's angle, and what is seen of it.
const LOCK_LOOKS = {
  tight: { turn: 0, head: true, key: true },
  untried: { turn: 0, head: true, key: false, untried: true },
  slack: { turn: -30, head: true, key: true, slack: true },
  started: { turn: -15, head: true, key: true, slack: true },
  out: { turn: 0, head: false, key: false, slack: true },
};
const seen = (node, is) => (node.style.display = is ? "" : "none");

const showScrew = (one, lock, turned_deg, design) => {
  const look = LOCK_LOOKS[lock] ?? LOCK_LOOKS.untried;
  seen(one.slack, look.slack);
  seen(one.head, look.head);
  seen(one.key, look.key);
  seen(one.untried, look.untried);
  one.key.setAttribute("transform", `rotate(${look.turn})`);
  one.setter.hollow.setAttribute("transform", `rotate(${turned_deg})`);
  one.setter.show(design);
};

// The brake without its magnet body: motor end with three tapped holes, wear plate, disc or bare hub.
const bare = () => {
  const wear = draw("g", {}, circle(176, "f"), circle(86, "l"));
  const disc = draw("g", {}, circle(170, "f"), circle(96, "l"), ...round(48, (deg) => path(spoke(98, 168, deg, 4), "l")), circle(58, "f"));
  const hub = draw("g", {}, circle(52, "f"), ...round(24, (deg) => path(spoke(44, 52, deg), "l")));
  const holes = [1, 2, 3].map((number) => {
    const [cx, cy] = at(SCREW_CIRCLE, SCREWS_DEG[number - 1]);
    return draw("circle", { cx, cy, r: 7, class: "f" });
  });
  const node = draw("g", {}, circle(RIM, "f"), ...holes, wear, disc, hub);
  const show = (scene) => {
    seen(node, !scene.body_on);
    seen(wear, scene.wear_plate_on);
    seen(disc, scene.disc_on);
  };
  return { node, show };
};

/** Return the drawing: its SVG, the layers that others fill, and what shows a scene. A screw or part that is tapped is picked. */
export function endDrawing(pickScrew, pickPart) {
  const ring = draw("g");
  const tool = draw("g");
  const shaftNode = shaft();
  const screws = [1, 2, 3].map((number) => screw(number, pickScrew));
  const set = adjustingRing();
  const inside = draw("g", {}, set.node, ...screws.map((one) => one.node));
  const sealNode = seal();
  const fanParts = fan();
  const coverNode = cover();
  const behind = bare();
  for (const [node, part] of [[sealNode, "seal"], [fanParts.node, "fan"], [coverNode, "cover"]]) {
    node.classList.add("part");
    node.addEventListener("click", () => pickPart(part));
  }
  const picture = draw(
    "g", { role: "img" },
    circle(RIM, "f"), ring, behind.node, centreLines(), circle(44, "l"), shaftNode, scale(),
  );
  const over = draw("g", { "aria-hidden": "true" }, sealNode, inside, fanParts.node, coverNode);
  const svg = draw("svg", { viewBox: "0 0 640 640", role: "group", "aria-label": "End view of the brake" }, picture, over, tool);

  const show = (scene, words) => {
    picture.setAttribute("aria-label", words);
    seen(sealNode, scene.seal_on && scene.body_on);
    seen(fanParts.node, scene.fan_on);
    seen(coverNode, scene.cover_on);
    seen(inside, scene.body_on);
    behind.show(scene);
    inside.style.pointerEvents = scene.cover_on || scene.fan_on ? "none" : "";
    const shaftTurn = `rotate(${scene.shaft_deg} ${CENTRE} ${CENTRE})`;
    shaftNode.setAttribute("transform", shaftTurn);
    fanParts.turns.setAttribute("transform", shaftTurn);
    screws.forEach((one, i) => showScrew(one, scene.locks[i], scene.turned_deg[i], designOf(scene)));
    set.show(scene);
  };

  const point = (event) => {
    const seen = new DOMPoint(event.clientX, event.clientY).matrixTransform(svg.getScreenCTM().inverse());
    return { x: seen.x, y: seen.y, ...polar(seen.x, seen.y) };
  };

  /** Turn one hollow screw on the drawing while the wrench is on its way. */
  const turnScrew = (number, deg) => screws[number - 1].setter.hollow.setAttribute("transform", `rotate(${deg})`);

  return { svg, ring, tool, show, point, turnScrew };
}

/** Return in words what the drawing shows. */
export const sceneWords = (scene) => {
  const on = [["cover", scene.cover_on], ["fan", scene.fan_on], ["seal band", scene.seal_on], ["magnet body", scene.body_on]];
  const names = (wanted) => on.filter(([, is]) => is === wanted).map(([name]) => name).join(", ");
  return [
    names(true) ? `On: ${names(true)}.` : "",
    names(false) ? `Off: ${names(false)}.` : "",
    scene.body_on && !scene.cover_on && scene.design ? `What sets the gap: ${SET_WITH[scene.design]}.` : "",
    scene.body_on ? `Retaining screws: ${allLocks(scene.locks)}.` : "The magnet body lies in the tray.",
    `Keyway at ${Number(scene.shaft_deg.toFixed(1))}°.`,
  ].filter(Boolean).join(" ");
};
