"""A virtual candidate's hands on the bench page: every action by the page's own controls.

What it learns is what the page says, feels or draws; scales are read off their lines.
"""

import re
from typing import Any

from playwright.sync_api import Locator, Page, expect

from widgets.bench.observed import Observation
from widgets.bench.words import LOOKS
from widgets.brake.judgement.words import FINDINGS

from .conftest import PATIENCE_MS
from .seen import seen_after
from .ways import Keys, Mouse, Way
from .where import KEYS, METHODS, OUTCOMES, SETTINGS, TOOLS

LEAST_TURN_DEG = 1.0  # what the page takes for a hand that trembles
KEY_DEG = 15  # of the leaf along the rim, one arrow key
LEAF_STEP_MM = 0.05  # from one common leaf to the next, one key
# Waits for an answer that has not been heard yet; the five others of the bench hear it in the same breath.
_HEAR = """(patience) => new Promise((answer, lost) => {
  const line = document.querySelector(".gal-answer [role=status]");
  const isNew = () => line.firstElementChild && line.firstElementChild !== window.galHeard;
  const say = () => {
    window.galHeard = line.firstElementChild;
    setTimeout(() => answer(line.innerText));
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
            return Observation(True, "left-alone")
        own = getattr(self, f"_{action.kind}", None)
        if own:
            own(action)
        else:
            key = KEYS[action.kind]
            stage, name = key(action) if callable(key) else key
            self._at_stage(stage)
            self._press(self.at, name if isinstance(name, str) else name(action))
        if action.kind == "hand_over":
            return Observation(True, "record.signed")
        words = self.hear()
        if words.startswith("Not possible"):
            self.refusals.append(f"{action}: {words}")
            return Observation(False, words)
        return Observation(True, words, seen_after(self.page, action, words))

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
        if self.angle_deg != action.angle_deg and not self._strike_to(action.angle_deg):
            self._type(self.at.get_by_label(re.compile("^Angle")), action.angle_deg)
        self.angle_deg = action.angle_deg
        if self.leaf != f"{first:.2f}" and not self._strike_leaf(first):
            self._choose("Leaf, mm", f"{first:.2f}")
        self.leaf = f"{first:.2f}"
        self._add(more)

    def _strike_to(self, angle_deg: float) -> bool:
        """Take the leaf along the rim by arrow keys, the shorter way; say whether that can be."""
        by_deg = (angle_deg - self.angle_deg + 180) % 360 - 180
        if not isinstance(self.way, Keys) or by_deg % KEY_DEG:
            return False
        self.way.go(self.at.get_by_role("slider", name="Leaf at the rim"))
        self.way.strike("ArrowRight" if by_deg > 0 else "ArrowLeft", round(abs(by_deg) / KEY_DEG))
        return True

    def _strike_leaf(self, leaf_mm: float) -> bool:
        """Change the leaf by plus and minus; say whether that can be."""
        if not isinstance(self.way, Keys) or not self.leaf:
            return False
        steps = round((leaf_mm - float(self.leaf)) / LEAF_STEP_MM)
        self.way.go(self.at.get_by_role("slider", name="Leaf at the rim"))
        self.way.strike("+" if steps > 0 else "-", abs(steps))
        return True

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
        self._press(
            self.at, "Close the jaws" if action.tool == "caliper" else "Hold the rule to it"
        )

    def _write_disc(self, action: Any) -> None:
        self._jaws_to(action.tool, action.angle_deg)
        form = self._group("Write a disc reading down")
        self._type(form.get_by_label("I read"), action.value_mm)
        self._press(form, "Write down")
        self.lines["disc"].append(f"disc at {action.angle_deg:g}°")

    def _measure_coil(self, action: Any) -> None:
        self._take("Meter")
        self._choose("Meter set to", SETTINGS[action.what])
        lifted = "Coil's leads lifted, tips on, leads back"
        self._press(self.at, lifted if action.leads_lifted else "Tips on, leads as they are")

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
        for code in sorted(self.found ^ set(action.found)):
            box = boxes.get_by_role("checkbox", name=FINDINGS[code], exact=True)
            self.way.tick(box, code in action.found)
        self.found = set(action.found)
        self.way.write(report.get_by_label("Why"), action.why)
        self._press(report, re.compile("^(Write the decision|Decide: the case ends here…)$"))
        sign = report.get_by_role("button", name="Sign the decision")
        if sign.is_visible():
            self.way.press(sign)

    def _hand_over(self, action: Any) -> None:
        report = self.page.locator(".gal-report")
        goes = "Into service" if action.into_service else "Kept out of service"
        goes = "left for a load test" if action.awaits_test else goes
        self.way.choose(report.get_by_role("radio", name=goes))
        if action.next_days is not None:
            self._type(report.get_by_label("Next inspection in"), action.next_days)
        if action.remarks:
            self.way.write(report.get_by_label("Remarks"), action.remarks)
        self._press(report, "Hand over…")
        self._press(report, "Sign and hand over")
