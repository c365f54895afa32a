"""A virtual candidate's hands on the bench page: every action by the page's own controls.

What it learns is what the page says, feels or draws; scales are read off their lines.
"""

import re
from collections.abc import Callable, Mapping
from typing import Any

from playwright.sync_api import Locator, Page, expect

from widgets.bench.looking import LOOKS
from widgets.bench.observed import Observation
from widgets.bench.sights import SIGHT_WORDS

from .scales import read_dial, read_display, read_rule, read_vernier
from .ways import Keys, Mouse, Way

PATIENCE_MS = 20_000
LEAST_TURN_DEG = 1.0  # what the page takes for a hand that trembles
KEY_DEG = 15  # of the leaf along the rim, one arrow key
OUTCOMES = {
    "fit": "Fit for service as it is",
    "adjust": "Adjust the gap",
    "replace": "Replace the friction disc",
    "refer": "Take out of service and refer",
}
METHODS = {
    "vacuum": "Vacuum", "damp_wipe": "Damp cloth", "air_blast": "Air blast",
    "dry_brush": "Dry brush", "solvent": "Solvent",
}  # fmt: skip
SETTINGS = {"resistance": "Resistance, Ω", "insulation": "Insulation, MΩ", "voltage": "Voltage, V direct"}  # fmt: skip
TOOLS = {"caliper": "Caliper, 0.02 mm", "rule": "Steel rule, 0.5 mm"}
MORE_SIGHTS = {
    "fan rattles": ("The fan rattles.", "No air comes from the cover."),
    "smell of lining": ("The disc rubs and smells warm.",),
}

# Action of the bare hands: stage of the job, name of its key.
KEYS: Mapping[str, tuple[str, str | Callable[[Any], str]]] = {
    "land_load": ("Make safe", "Load: Land the load"),
    "isolate": ("Make safe", "Main switch: Switch off and lock"),
    "isolate_second": ("Make safe", "Second feed of the coil: Seek and lock off"),
    "prove_dead": ("Make safe", "Terminals: Try them dead"),
    "remove_cover": ("Open, close", "Cover: Take off"),
    "refit_cover": ("Open, close", "Cover: Put on"),
    "remove_ring": ("Open, close", "Ring of the fan: Take out"),
    "refit_ring": ("Open, close", "Ring of the fan: Snap in"),
    "remove_fan": ("Open, close", "Fan: Draw off"),
    "refit_fan": (
        "Open, close",
        lambda a: "Fan: Put on its key" if a.on_key else "Fan: Push on without the key",
    ),
    "remove_seal": ("Open, close", "Seal band: Roll back"),
    "read_plate": ("Look, clean", "Plate of the brake: Read the plate"),
    "work_lever": ("Adjust", "Lever, pulled and let go: Pull, feel, let go"),
    "disconnect_leads": ("Take apart, fit", "Coil's leads: Mark, take off"),
    "connect_leads": (
        "Take apart, fit",
        lambda a: f"Coil's leads: To the {'direct' if a.side == 'dc' else 'alternating'} side",
    ),
    "remove_lever": ("Take apart, fit", "Hand release: Take off"),
    "refit_lever": ("Take apart, fit", "Hand release: Put on"),
    "hold_body": ("Take apart, fit", "Sling: Take the weight"),
    "draw_lock": ("Take apart, fit", lambda a: f"Retaining screw {a.screw}: Draw out"),
    "start_lock": (
        "Take apart, fit",
        lambda a: f"Retaining screw {a.screw}: Start "
        + ("by hand" if a.by == "hand" else "with the wrench"),
    ),
    "remove_body": ("Take apart, fit", "Magnet body, springs, plate: Take off as one"),
    "fit_body": ("Take apart, fit", "Magnet body, springs, plate: Put on as one"),
    "remove_disc": ("Take apart, fit", "Disc: Slide off the hub"),
    "remove_wear_plate": ("Take apart, fit", "Wear plate: Take off"),
    "fit_wear_plate": (
        "Take apart, fit",
        lambda a: f"Wear plate: Fit, smooth side to the {'disc' if a.smooth_to_disc else 'motor'}",
    ),
    "clean_spline": ("Take apart, fit", "Spline of the hub: Clean, try the slide"),
    "turn_shaft": ("Prove", lambda a: f"Shaft: Turn {a.turn_deg:.0f}°"),
    "restore_supply": ("Prove", "Supply: Take locks off, switch on"),
    "energise": ("Prove", "Coil: Energise"),
    "de_energise": ("Prove", "Coil: De-energise"),
    "bed_in": ("Prove", "New lining: Bed in, light stops"),
    "test_run": ("Prove", "Without load: Up, down, emergency stop"),
    "test_hold": ("Prove", "Test load: Lift, stop, watch"),
}

# Waits for an answer that has not been heard yet; the five others of the bench hear it in the same breath.
_HEAR = """(patience) => new Promise((answer, lost) => {
  const line = document.querySelector(".gal-answer [role=status]");
  const isNew = () => line.firstElementChild && line.firstElementChild !== window.galHeard;
  const say = () => {
    window.galHeard = line.firstElementChild;
    setTimeout(() => answer(line.innerText), 10);
  };
  if (isNew()) return say();
  const late = setTimeout(() => lost(new Error("no answer from the bench")), patience);
  new MutationObserver((_, watch) => {
    if (!isNew()) return;
    clearTimeout(late);
    watch.disconnect();
    say();
  }).observe(line, { childList: true });
})"""


class PageHands:
    """Does each action with the controls of the one bench on a page, in one way."""

    def __init__(self, page: Page, way: Way | None = None) -> None:
        self.page, self.way = page, way or Mouse()
        self.at = page.locator(".gal-end")
        self.tool = self.stage = ""
        self.angle_deg, self.leaf, self.added = 0.0, "", set()
        self.caliper: tuple[str, float] = ("caliper", 0.0)
        self.found: set[str] = set()
        self.lines: dict[str, list[str]] = {"gap": [], "disc": [], "value": []}
        self.refusals: list[str] = []
        self.hear()  # what the page says as it opens

    def __call__(self, action: Any) -> Observation:
        """Carry one action out and return what the page says, shows and draws of it."""
        if action.kind == "turn_screw" and abs(action.turn_deg) < LEAST_TURN_DEG:
            return Observation(done=True, words="left alone")
        own = getattr(self, f"_{action.kind}", None)
        if own:
            own(action)
        else:
            stage, name = KEYS[action.kind]
            self._at_stage(stage)
            self._press(self.at, name if isinstance(name, str) else name(action))
        if action.kind == "hand_over":
            return Observation(done=True, words="signed")
        words = self.hear()
        if words.startswith("Not possible"):
            self.refusals.append(f"{action}: {words}")
            return Observation(done=False, words=words)
        return Observation(done=True, words=words, seen=self._seen(action, words))

    def hear(self) -> str:
        """Return the next answer that the page announces."""
        return self.page.evaluate(_HEAR, PATIENCE_MS)

    # ---- finding controls ----

    def _press(self, within: Page | Locator, name: str | re.Pattern[str]) -> None:
        self.way.press(within.get_by_role("button", name=name, exact=True))

    def _group(self, name: str) -> Locator:
        return self.at.get_by_role("group", name=name, exact=True)

    def _choose(self, group: str, name: str) -> None:
        self.way.choose(self._group(group).get_by_role("radio", name=name, exact=True))

    def _take(self, tool: str) -> None:
        if self.tool != tool:
            self._choose("In your hand", tool)
            self.tool = tool

    def _at_stage(self, stage: str) -> None:
        self._take("Hands")
        if self.stage != stage:
            self._choose("Stage of the job", stage)
            self.stage = stage

    def _type(self, field: Locator, value: float, decimals: int | None = None) -> None:
        """Type a number, unless the field holds it already."""
        text = f"{value:.10g}" if decimals is None else f"{value:.{decimals}f}"
        held = field.input_value()
        if not held or float(held) != float(text):
            self.way.write(field, text)

    # ---- actions with more to choose than a key ----

    def _look(self, action: Any) -> None:
        self._at_stage("Look, clean")
        self._press(self.at, re.compile(f"^Look( again)?: {re.escape(LOOKS[action.at])}$"))

    def _clean(self, action: Any) -> None:
        self._at_stage("Look, clean")
        self._choose("Clean with", METHODS[action.method])
        self._press(self.at, "Clean")

    def _refit_seal(self, action: Any) -> None:
        self._at_stage("Open, close")
        self._choose("Which band", f"{action.band.capitalize()} band")
        self._choose("How", "Press its lip in all round" if action.seated else "Push it over the gap")  # fmt: skip
        self._press(self.at, "Put the band on")

    def _fit_disc(self, action: Any) -> None:
        self._at_stage("Take apart, fit")
        form = self._group("Put a disc on")
        self.way.pick(form.get_by_role("combobox", name="Disc"), action.part)
        self._choose("Which way round", f"Collar to the {'brake' if action.reversed else 'motor'}")
        self._press(form, "Slide onto the hub")

    def _set_lever(self, action: Any) -> None:
        self._at_stage("Adjust")
        form = self._group("Set the lever's play")
        self._type(form.get_by_label("Play at the plate"), action.play_mm)
        self._press(form, "Set the play")

    def _gauge_gap(self, action: Any) -> None:
        self._take("Leaves")
        self._hold_leaf(action)
        if isinstance(self.way, Keys):
            self.way.press(self.at.get_by_role("slider", name="Leaf at the rim"))
        else:
            self._press(self.at, "Push in")

    def _hold_leaf(self, action: Any) -> None:
        """Bring the stack to the place, by the means of this hand."""
        first, *more = action.leaves_mm
        self._choose("How it is pushed", "Lightly" if action.hand == "soft" else "With force")
        by_keys = isinstance(self.way, Keys) and action.angle_deg % KEY_DEG == 0
        if self.angle_deg != action.angle_deg and by_keys:
            self._walk_round(action.angle_deg)
        elif self.angle_deg != action.angle_deg:
            self._type(self.at.get_by_label("Angle", exact=True), action.angle_deg)
        self.angle_deg = action.angle_deg
        if self.leaf != f"{first:.2f}":
            self.leaf = f"{first:.2f}"
            self._choose("Leaf, mm", self.leaf)
        self._add(more)

    def _walk_round(self, angle_deg: float) -> None:
        """Take the leaf along the rim by arrow keys, the shorter way."""
        self.way.go(self.at.get_by_role("slider", name="Leaf at the rim"))
        by_deg = (angle_deg - self.angle_deg + 180) % 360 - 180
        for _ in range(round(abs(by_deg) / KEY_DEG)):
            self.page.keyboard.press("ArrowRight" if by_deg > 0 else "ArrowLeft")

    def _add(self, more: list[float]) -> None:
        """Add to the first leaf: thin ones by their boxes, another common one by the list."""
        wanted = {f"{mm:.2f}" for mm in more}
        if wanted == self.added:
            return
        thin = self._group("Thin leaves to add")
        for name in sorted(self.added ^ wanted):
            box = thin.get_by_role("checkbox", name=name, exact=True)
            if box.count():
                self.way.tick(box, name in wanted)
        common = [mm for mm in more if not thin.get_by_role("checkbox", name=f"{mm:.2f}").count()]
        listed, value = thin.get_by_label("Another leaf"), f"{common[0]:g}" if common else ""
        if listed.input_value() != value:
            self.way.pick(listed, value)
        self.added = wanted

    def _write_gap(self, action: Any) -> None:
        self._take("Leaves")
        form = self._group("Write a gap reading down")
        self._type(form.get_by_label(re.compile("^at")), action.angle_deg)
        self._type(form.get_by_label(re.compile("^goes")), action.go_mm, 2)
        self._type(form.get_by_label(re.compile("^will not")), action.no_go_mm, 2)
        self._press(form, "Write down")
        self.lines["gap"].append(f"gap at {action.angle_deg:g}°")

    def _jaws_to(self, tool: str, angle_deg: float) -> None:
        self._take("Caliper")
        if tool != self.caliper[0]:
            self._choose("Measure with", TOOLS[tool])
        if angle_deg != self.caliper[1] and angle_deg % 45 == 0:
            self._choose("Place round the rim", f"{angle_deg:.0f}°")
        elif angle_deg != self.caliper[1]:
            self.way.write(self.at.get_by_label("Other angle"), f"{angle_deg:g}")
        self.caliper = (tool, angle_deg)

    def _measure_disc(self, action: Any) -> None:
        if (action.tool, action.angle_deg) == self.caliper:  # what stood there must go first
            self._jaws_to(action.tool, (action.angle_deg + 90) % 360)
        self._jaws_to(action.tool, action.angle_deg)
        expect(self.at.locator(".gal-scale:visible")).to_have_count(0)
        self._press(self.at, "Close the jaws" if action.tool == "caliper" else "Hold the rule to it")

    def _write_disc(self, action: Any) -> None:
        self._jaws_to(action.tool, action.angle_deg)
        form = self._group("Write a disc reading down")
        self._type(form.get_by_label("I read"), action.value_mm)
        self._press(form, "Write down")
        self.lines["disc"].append(f"disc at {action.angle_deg:g}°")

    def _measure_coil(self, action: Any) -> None:
        self._take("Meter")
        self._choose("Meter set to", SETTINGS[action.what])
        self._press(self.at, "Put the tips on")

    def _find_release(self, _: Any) -> None:
        self._take("Meter")
        self._press(self.at, "Raise the voltage slowly")

    def _write_value(self, action: Any) -> None:
        notes = self.page.locator(".gal-notes")
        form = notes.get_by_role("group", name="Write a reading down")
        listed = form.get_by_label("Which reading")
        if listed.input_value() != action.what:
            self.way.pick(listed, action.what)
        self._type(form.get_by_label("I read"), action.value)
        self._press(form, "Write down")
        self.lines["value"].append(listed.locator("option:checked").inner_text())

    def _strike_out(self, action: Any) -> None:
        name = self.lines[action.sheet][action.line]
        keys = self.page.locator(".gal-notes button.strike")
        self.way.press(keys.and_(self.page.get_by_role("button", name=f"Strike out: {name}")).last)

    def _screw(self, number: int) -> None:
        self._take("Wrench")
        radio = self._group("Screw").get_by_role("radio").nth(number - 1)
        if not radio.is_checked():
            self.way.choose(radio)

    def _lock(self, action: Any) -> None:
        self._screw(action.screw)
        self._press(self.at, f"{action.kind.removesuffix('_lock').capitalize()} lock")

    _try_lock = _loosen_lock = _lock

    def _tighten_lock(self, action: Any) -> None:
        self._screw(action.screw)
        self._type(self.at.get_by_label("wrench set to"), action.torque_nm)
        self._press(self.at, "Tighten lock")

    def _turn_screw(self, action: Any) -> None:
        self._screw(action.screw)
        self._type(self.at.get_by_label("By number"), abs(action.turn_deg))
        self._press(self.at, "Out" if action.turn_deg > 0 else "In")

    def _decide(self, action: Any) -> None:
        report = self.page.locator(".gal-report")
        self.way.choose(self.page.get_by_role("radio", name=f"{action.row}: my row"))
        self.way.choose(report.get_by_role("radio", name=OUTCOMES[action.outcome]))
        boxes = report.get_by_role("group", name="What you found")
        for word in sorted(self.found ^ set(action.found)):
            self.way.tick(boxes.get_by_role("checkbox", name=word, exact=True), word in action.found)
        self.found = set(action.found)
        self.way.write(report.get_by_label("Why"), action.why)
        self._press(report, re.compile("^(Write the decision|Decide: the case ends here…)$"))
        sign = report.get_by_role("button", name="Sign the decision")
        if sign.is_visible():
            self.way.press(sign)

    def _hand_over(self, action: Any) -> None:
        report = self.page.locator(".gal-report")
        goes = "Into service" if action.into_service else "Kept out of service"
        self.way.choose(report.get_by_role("radio", name=goes))
        if action.next_days is not None:
            self._type(report.get_by_label("Next inspection in"), action.next_days)
        if action.remarks:
            self.way.write(report.get_by_label("Remarks"), action.remarks)
        self._press(report, "Hand over…")
        self._press(report, "Sign and hand over")

    # ---- what came of it ----

    def _seen(self, action: Any, words: str) -> dict[str, Any]:
        """Return what a person takes from the page after an action."""
        look = getattr(self, f"_see_{action.kind}", None)
        return look(action, words) if look else {}

    def _see_look(self, _: Any, words: str) -> dict[str, Any]:
        codes = [code for code, said in SIGHT_WORDS.items() if said in words]
        more = [code for code, said in MORE_SIGHTS.items() if any(one in words for one in said)]
        return {"sights": codes + more}

    _see_test_run = _see_look

    def _see_prove_dead(self, _: Any, words: str) -> dict[str, Any]:
        return {"dc_live": "lights up" in words}

    def _see_read_plate(self, _: Any, words: str) -> dict[str, Any]:
        return {"size": re.search(r"The plate says: ([\w-]+),", words)[1]}

    def _see_gauge_gap(self, _: Any, words: str) -> dict[str, Any]:
        felt = re.search(r"(slides|drags|will not enter)", words)
        return {"feel": felt[1]} if felt else {}

    def _see_measure_disc(self, action: Any, _: str) -> dict[str, Any]:
        read = read_vernier if action.tool == "caliper" else read_rule
        return {"shown_mm": read(self.page)}

    def _see_measure_coil(self, action: Any, words: str) -> dict[str, Any]:
        if "flash" in words:
            return {"shown": None}
        seen = {"shown": read_display(self.page, 0)}
        if action.what != "voltage":
            seen["coil_c"] = read_display(self.page, 1)
        return seen

    def _see_find_release(self, _: Any, words: str) -> dict[str, Any]:
        return {"percent": None if "does not move" in words else read_dial(self.page)}

    def _see_try_lock(self, _: Any, words: str) -> dict[str, Any]:
        return {"holds": "stands" in words}

    def _see_work_lever(self, _: Any, words: str) -> dict[str, Any]:
        play = re.search(r"([\d.]+) mm of play", words)
        play_mm = float(play[1]) if play else 0.0
        kind = "some" if play_mm else "none"
        return {"play": kind, "play_mm": play_mm, "returns": "hangs where" not in words}

    def _see_energise(self, _: Any, words: str) -> dict[str, Any]:
        return {"released": "The brake is open" in words}

    def _see_de_energise(self, _: Any, words: str) -> dict[str, Any]:
        said = {"A clack": "prompt", "A pause": "late"}
        return {"applied": next((how for start, how in said.items() if start in words), None)}

    def _see_turn_shaft(self, _: Any, words: str) -> dict[str, Any]:
        said = {"does not move": "not", "rubs": "rubs", "jerk": "jerks"}
        return {"turns": next((how for part, how in said.items() if part in words), "freely")}

    def _see_test_hold(self, _: Any, words: str) -> dict[str, Any]:
        return {"holds": None if "stalls" in words else "held" in words}
