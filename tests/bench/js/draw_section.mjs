// Prints the front door's still section and the drawing of the wait, from the bench's own shapes: one brake in the suite.
// node tests/bench/js/draw_section.mjs section > lessons/page/voila/templates/suite/section.svg (and `wait`, alike).

const escape = (text) => String(text).replaceAll("&", "&amp;").replaceAll("<", "&lt;").replaceAll('"', "&quot;");
class Node {
  constructor(tag) {
    this.tag = tag;
    this.given = [];
    this.children = [];
  }
  setAttribute(name, value) { this.given.push([name, value]); }
  append(...children) { this.children.push(...children); }
  toString() {
    const given = this.given.map(([name, value]) => ` ${name}="${escape(value)}"`).join("");
    const inner = this.children.map((child) => (child instanceof Node ? child.toString() : escape(child))).join("");
    return inner ? `<${this.tag}${given}>${inner}</${this.tag}>` : `<${this.tag}${given}/>`;
  }
}
globalThis.document = { createElementNS: (_, tag) => new Node(tag) };
const { shapes } = await import("../../../widgets/bench/view/drawing/section_parts.js");

const { made, screws, heads, collars } = shapes();
const without = (group, unwanted) => { group.children = group.children.filter((one) => !unwanted.includes(one)); return group; };
const parts = [made.end, made.hub, without(made.wear, heads), without(made.disc, [...collars.motor, ...collars.brake]), made.plate, made.body, made.springs, made.screws];
const gaps = ['<path class="g" d="M203 134h17v84h-17zM203 302h17v84h-17z"/>'];
// Number, where its leader ends, where its balloon stands.
const SIGNS = [[1, 140, 164, 96, 40], [2, 191, 152, 172, 40], [3, 211, 150, 248, 40], [4, 300, 352, 462, 392], [5, 262, 317, 462, 312], [6, 190, 406, 150, 462]];
const leaders = `<g class="lead-line"><path d="${SIGNS.map(([, x, y, a, b]) => `M${x} ${y}L${a} ${b}`).join("")}"/></g>`;
const dots = `<g style="fill:var(--pencil)">${SIGNS.map(([, x, y]) => `<circle cx="${x}" cy="${y}" r="4"/>`).join("")}</g>`;
const balloons = `<g class="f" style="stroke-width:1.8">${SIGNS.map(([, , , a, b]) => `<circle cx="${a}" cy="${b}" r="23"/>`).join("")}</g>`;
const numbers = `<g text-anchor="middle">${SIGNS.map(([n, , , a, b]) => `<text x="${a}" y="${b + 9}">${n}</text>`).join("")}</g>`;

const DRAWINGS = {
  section: () => ['<svg class="suite-drawing" viewBox="12 10 480 482" role="img" aria-label="Section through a brake with the current off: the springs press the pressure plate against the lined disc, and the air gap stands open between plate and magnet.">', ...gaps, ...parts, leaders, dots, balloons, numbers, "</svg>"],
  wait: () => ['<svg class="suite-drawing" viewBox="150 60 250 160" aria-hidden="true" focusable="false">', '<g clip-path="url(#wait-half)"><clipPath id="wait-half"><rect x="150" y="100" width="250" height="118"/></clipPath>', gaps[0], made.plate, made.body, made.springs, "</g>", '<g class="leaf"><path class="a" d="M208 100h6v104h-6z"/><path class="f" d="M201 66h20v40h-20z"/></g>', "</svg>"],
};
process.stdout.write(`${DRAWINGS[process.argv[2] ?? "section"]().join("\n")}\n`);
