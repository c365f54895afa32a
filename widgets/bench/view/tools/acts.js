// What bare hands can do, a line a thing: its name, how it stands in a scene, and its keys.
// Data: every wish a key sends is an action of the bench. The order of keys says nothing of what is right.

import { allLocks, lockWords, standing } from "../drawing/standing.js";

const COIL = (s) => (s.energised ? "has its voltage" : "no voltage from you now");
const dust = (s) => {
  if (s.cover_on || s.fan_on || s.seal_on) return "out of sight";
  return s.dusty ? "grey dust is seen" : "none is seen";
};
const secondFeed = (s) => {
  if (s.second_isolated) return "off, locked";
  return s.second_sought ? "looked for: there is none" : "not looked for";
};
const tested = (s, kind) => s.tested.includes(kind);
const proof = (kind, yes, no) => (s) => [tested(s, kind), tested(s, kind) ? yes : no];
const stand = (part, ended) => (s) => {
  const { is, words } = standing(s)[part];
  return [is === ended, words];
};
const screwLine = (number) => [
  `Retaining screw ${number}`,
  (s) => [s.locks[number - 1] === "out", s.body_on ? lockWords(s.locks[number - 1]) : "out"],
  [
    ["Take out", "draw_lock", { screw: number }],
    ["Start by hand", "start_lock", { screw: number, by: "hand" }],
    ["Start with the wrench", "start_lock", { screw: number, by: "wrench" }],
  ],
];

// By the alphabet, so that the order says nothing.
const CLEAN_WITH = [["air_blast", "Air blast"], ["damp_wipe", "Damp cloth"], ["dry_brush", "Dry brush"], ["solvent", "Solvent"], ["vacuum", "Vacuum"]];
const bandOn = (band, name) => [
  [`${name}: push it over the gap`, "refit_seal", { band, seated: false }],
  [`${name}: press its lip in all round`, "refit_seal", { band, seated: true }],
];

// Each line: name, [done, words] of a scene, its keys as [words, kind, fields], the name of a form of fitting.js, and
// whether it is there at all in what is known.
export const LINES = {
  load: ["Load", (s) => [s.load_landed, s.load_landed ? `landed, hook empty; area ${s.area_barred ? "barred" : "open"}` : "on the hook"], [["Land, leave on the hook", "land_load", { unhook: false, prove_slack: false, bar_area: false }], ["Land, unhook", "land_load", { unhook: true, prove_slack: false, bar_area: false }], ["Land, unhook, prove slack", "land_load", { unhook: true, prove_slack: true, bar_area: false }], ["Land, unhook, prove slack, bar the area", "land_load", { unhook: true, prove_slack: true, bar_area: true }]]],
  clear: ["People and area", (s) => [s.kept_clear, s.kept_clear ? `sent away; area ${s.area_barred ? "barred" : "open"}; help ${s.called ? "called" : "not called"}` : "not seen to"], [["Send everybody away", "keep_clear", { bar_area: false, call: false }], ["Send away, bar", "keep_clear", { bar_area: true, call: false }], ["Send away, bar, call the person responsible", "keep_clear", { bar_area: true, call: true }]]],
  cool: ["Heat", null, [["Let it cool", "let_cool"]]],
  supply: ["Main switch", (s) => [s.isolated, s.isolated ? `off, ${s.locked ? "your lock on it" : "no lock on it"}` : "on"], [["Switch off", "isolate", { lock: false, try_start: false, wait: false }], ["Switch off, lock", "isolate", { lock: true, try_start: false, wait: false }], ["Switch off, lock, try to start, wait", "isolate", { lock: true, try_start: true, wait: true }]]],
  second: ["Second feed of the coil", (s) => [s.second_isolated || s.second_sought, secondFeed(s)], [["Find and lock off", "isolate_second"]]],
  box: ["Terminal box", (s) => [!s.box_on, s.box_on ? "its cover is on" : "open, terminals bare"], [["Take its cover off", "open_box", { by: "self" }], ["Have an electrician open it", "open_box", { by: "electrician" }], ["Put its cover on", "close_box"]]],
  terminals: ["Terminals", (s) => [s.proved_dead, s.proved_dead ? "proved dead" : "not proved dead"], [["Non-contact tester", "prove_dead", { tester: "contactless", known_source: false, sides: "both" }], ["Two-pole tester as it is", "prove_dead", { tester: "two_pole", known_source: false, sides: "both" }], ["Proved tester, AC side", "prove_dead", { tester: "two_pole", known_source: true, sides: "ac" }], ["Proved tester, both sides, proved again", "prove_dead", { tester: "two_pole", known_source: true, sides: "both" }]]],
  cover: ["Cover", stand("cover", "off"), [["Take off", "remove_cover", { protected: false }], ["Mask, glasses, gloves on; take off", "remove_cover", { protected: true }], ["Put on", "refit_cover"]]],
  ring: ["Ring of the fan", stand("ring", "off"), [["Take out", "remove_ring"], ["Snap in", "refit_ring"]]],
  fan: ["Fan", stand("fan", "off"), [["Draw off", "remove_fan"], ["Put on its key", "refit_fan", { on_key: true }], ["Push on without the key", "refit_fan", { on_key: false }]]],
  seal: ["Seal band", stand("seal", "off"), [["Roll back", "remove_seal"], ...bandOn("old", "Old band"), ...bandOn("new", "New band")]],
  plate: ["Nameplate", (s) => [Boolean(s.size), s.size ? `read: ${s.size}` : "not read"], [["Read the nameplate", "read_plate"]]],
  dust: ["Dust", (s) => [dust(s) === "none is seen", dust(s)], CLEAN_WITH.map(([method, words]) => [words, "clean", { method }])],
  leads: ["Coil’s leads", stand("leads", "off"), [["Mark, take off", "disconnect_leads"], ["To the AC side", "connect_leads", { side: "ac" }], ["To the DC side", "connect_leads", { side: "dc" }]]],
  leverOff: ["Hand release", stand("lever", "off"), [["Take off", "remove_lever"], ["Put on", "refit_lever"]]],
  leverWork: ["Lever, pulled and let go", (s) => [tested(s, "work_lever"), s.lever_on ? `on the brake${tested(s, "work_lever") ? ", tried" : ""}` : "lies on the bench"], [["Pull, feel, let go", "work_lever"]], "lever"],
  sling: ["Sling", (s) => [s.body_held, s.body_held ? "has the body’s weight" : "not on"], [["Take the weight", "hold_body"]]],
  screw1: screwLine(1),
  screw2: screwLine(2),
  screw3: screwLine(3),
  body: ["Magnet body, springs, plate", stand("body", "off"), [["Take off as one", "remove_body"], ["Put on as one", "fit_body"]]],
  disc: ["Disc", stand("disc", "off"), [["Slide off the hub", "remove_disc"]], "disc"],
  wear: ["Wear plate", stand("wear", "off"), [["Take off", "remove_wear_plate"], ["Fit, smooth side to the disc", "fit_wear_plate", { smooth_to_disc: true }], ["Fit, smooth side to the motor", "fit_wear_plate", { smooth_to_disc: false }]]],
  spline: ["Spline of the hub", (s) => [s.spline_cleaned, s.spline_cleaned ? "cleaned, dry" : "not cleaned"], [["Clean, try the slide", "clean_spline"]]],
  restore: ["Supply", (s) => [!s.isolated, s.isolated ? "off, locked" : "on"], [["Take locks off, switch on", "restore_supply"]]],
  coil: ["Coil", (s) => [s.energised, COIL(s)], [["Energise", "energise", { supply: "hoist" }], ["Feed from the test supply", "energise", { supply: "test" }], ["De-energise", "de_energise"]]],
  pressure: ["Pressure plate", (s) => [s.released, standing(s).plate.words], []],
  leafSet: ["Feeler leaves", null, [["Wipe, look for kinks", "check_tool", { tool: "leaves" }], ["Take another set", "change_tool", { tool: "leaves" }]]],
  caliperTool: ["Caliper", null, [["Wipe, close, look at its zero", "check_tool", { tool: "caliper" }], ["Have another", "change_tool", { tool: "caliper" }]]],
  wrenchTool: ["Torque wrench", null, [["Try it on its tester", "check_tool", { tool: "wrench" }], ["Have another", "change_tool", { tool: "wrench" }]]],
  shaft: ["Shaft", (s) => [s.shaft_deg !== 0, `keyway at ${Number(s.shaft_deg.toFixed(1))}°`], [["Turn 45°", "turn_shaft", { turn_deg: 45 }], ["Turn 90°", "turn_shaft", { turn_deg: 90 }], ["Turn 180°", "turn_shaft", { turn_deg: 180 }]]],
  bed: ["New lining", proof("bed_in", "bedded in", "not bedded in"), [["Bed in, light stops", "bed_in"]]],
  run: ["Without load", proof("test_run", "run since the last work", "not run since the last work"), [["Up, down, emergency stop", "test_run"]]],
  hold: ["Test load", proof("test_hold", "lifted since the last work", "not lifted since the last work"), [["As things are: lift, stop, watch", "test_hold", { weighed: false, floor_clear: false, dynamic: false }], ["Floor cleared: lift, stop, watch", "test_hold", { weighed: false, floor_clear: true, dynamic: false }], ["Weighed, floor cleared: lift, stop, watch", "test_hold", { weighed: true, floor_clear: true, dynamic: false }], ["Weighed, floor cleared: lift, watch, lower, stop", "test_hold", { weighed: true, floor_clear: true, dynamic: true }]]],
  holdOne: ["Test load on one of two brakes", null, [["This one alone, the other held open: lift, stop, watch", "test_hold", { weighed: true, floor_clear: true, dynamic: false, on: "this" }], ["The other alone, this one held open: lift, stop, watch", "test_hold", { weighed: true, floor_clear: true, dynamic: false, on: "other" }]], null, ({ fixed }) => fixed?.brakes > 1],
  water: ["Water", null, [["Find where it comes in, have it stopped", "stop_water"], ["Dry with warm air", "dry_out"]]],
  locks: ["Retaining screws", (s) => [s.locks.every((lock) => lock === "tight"), s.body_on ? allLocks(s.locks) : "out"], []],
};

const DUST = ["Danger. ", "Brake dust harms the lungs; old linings may hold asbestos. Keep it out of the air."];
const SPRINGS = ["Danger. ", "The springs stay loaded. Take the weight in a sling before the last screw is out; keep fingers from between the parts."];

/** What each stage shows: a caution, its lines, tools to take in the hand, and other parts of the page. */
export const STAGE_LINES = {
  safe: { caution: ["Danger. ", "Nobody under the hook. The load is landed and the supply locked before a hand goes in."], lines: ["load", "clear", "supply", "second", "box", "terminals", "cool"] },
  open: { lines: ["cover", "ring", "fan", "seal"] },
  look: { caution: DUST, lines: ["plate", "water", "dust"], looks: true },
  measure: { lines: ["leafSet", "caliperTool", "shaft"], tools: [["leaf", "Feeler leaves, for the gap"], ["caliper", "Caliper or rule, for the disc"], ["meter", "Meter, for the coil"]] },
  decide: { lines: [], places: [[".gal-limits", "The limits sheet: which row is yours"], [".gal-notes", "My notes"], [".gal-report", "The report: what this brake needs"]] },
  adjust: { lines: ["wrenchTool", "locks", "leverWork"], tools: [["wrench", "Wrench, for the screws and what sets the gap"], ["leaf", "Feeler leaves, to measure again"]] },
  apart: { caution: SPRINGS, lines: ["leads", "leverOff", "sling", "screw1", "screw2", "screw3", "body", "disc", "wear", "spline"] },
  prove: { caution: ["Danger. ", "The hoist can move as soon as the supply is back. Nobody under the hook; hands out of the brake, and no hand on the shaft."], lines: ["supply", "restore", "terminals", "box", "coil", "pressure", "shaft", "cover", "bed", "run", "hold", "holdOne"] },
  over: { lines: ["supply", "restore"], places: [[".gal-notes", "My notes"], [".gal-report", "The report: decide, sign, hand over"]] },
};

const ELSEWHERE = { look: "look", decide: "decide", fit_disc: "apart", set_lever: "adjust", hand_over: "over" };
/** Return the stage in which an action stands, or null: where a page follows somebody's work. */
export const stageOfAct = (kind) =>
  ELSEWHERE[kind] ?? Object.keys(STAGE_LINES).find((stage) => STAGE_LINES[stage].lines.some((line) => LINES[line][2].some(([, own]) => own === kind))) ?? null;

/** What a part of the side view offers when it is pressed: its lines, where to look, tools for it. */
export const PART_LINES = {
  wear: { lines: ["wear"], look: "wear_plate" },
  disc: { lines: ["disc"], look: "edge", tools: [["caliper", "Caliper or rule"]] },
  plate: { lines: ["pressure", "coil"], look: "faces" },
  seal: { lines: ["seal", "dust"], look: "seal" },
  body: { lines: ["sling", "body", "plate"], look: "outside" },
  lever: { lines: ["leverOff", "leverWork"], look: "lever" },
  cover: { lines: ["cover"], look: "outside" },
  end: { lines: ["shaft"], look: "faces" },
  hub: { lines: ["spline", "shaft"], look: "hub" },
  springs: { lines: ["body"], look: "springs" },
  screws: { lines: ["screw1", "screw2", "screw3"], look: "screws", tools: [["wrench", "Wrench: try, slacken, set, tighten"]] },
  leads: { lines: ["leads", "box", "terminals", "coil"], look: "leads", tools: [["meter", "Meter"]] },
  fan: { lines: ["fan", "shaft"], look: "fan" },
  ring: { lines: ["ring"], look: "fan" },
};

/** What puts a part of the tray or of the store on, by its name there; a disc has a form. */
export const PUT_BACK = {
  cover: [["Put on", "refit_cover"]],
  ring: [["Snap into its groove", "refit_ring"]],
  fan: [["Put on its key", "refit_fan", { on_key: true }], ["Push on without the key", "refit_fan", { on_key: false }]],
  "hand release": [["Put on", "refit_lever"]],
  "seal band": bandOn("old", "Old band"),
  "new seal band": bandOn("new", "New band"),
  "magnet body": [["Put on as one", "fit_body"]],
  "wear plate": [["Smooth side to the disc", "fit_wear_plate", { smooth_to_disc: true }], ["Smooth side to the motor", "fit_wear_plate", { smooth_to_disc: false }]],
};
