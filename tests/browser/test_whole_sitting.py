"""From the front door through a whole sitting to the record, by a candidate who has only the page.

The careful virtual candidate decides; its hands are the page's own controls,
and what it learns is read off the page's answer line.
"""

import re
import sys
from dataclasses import replace

import pytest

pytest.importorskip("playwright.sync_api")
from playwright.sync_api import Page, expect

from quizzes.cases.candidates import CAREFUL, work
from quizzes.cases.forms import THREE_CASES, draw_form
from quizzes.records import Records
from widgets.bench.machine import Bench
from widgets.bench.observed import Observation
from widgets.bench.standing import gap_now
from widgets.brake.sheet import load_sheet

from .conftest import free_port, server

pytestmark = pytest.mark.browser
OPEN_MS = 60_000
CLOCK = re.compile(r"\d{4}-\d\d-\d\dT[\d:.]+Z")  # a message's own time holds digits by chance
NAME = "Maren O'Dell <b>Quist</b>"
# Six places and steps of one leaf are enough for a decision and keep the test short.
SITTER = replace(CAREFUL, fine=False, rounds=2, places=(0.0, 60.0, 120.0, 180.0, 240.0, 300.0))
BUTTONS = {
    "land_load": ("Load: Land the load", "The load is down"),
    "isolate": ("Main switch: Switch off and lock", "our lock"),
    "prove_dead": ("Terminals: Try them dead", "motor dead"),
    "restore_supply": ("Supply: Take lock off, switch on", "The supply is back"),
    "remove_cover": ("Cover: Take off", "Cover off"),
    "refit_cover": ("Cover: Put on", "Cover on"),
    "remove_fan": ("Fan: Draw off", "fan drawn off"),
    "refit_fan": ("Fan: Put on", "Fan on its key"),
    "remove_seal": ("Seal band: Roll back", "Seal band rolled back"),
    "refit_seal": ("Seal band: Seat", "Seal band seated"),
    "read_plate": ("Plate: Read the plate", "The plate says"),
    "energise": ("Coil: Energise", "the plate is drawn in"),
    "de_energise": ("Coil: De-energise", "springs have the disc"),
    "turn_shaft": ("Shaft: Turn 180°", "The shaft turns"),
    "test_hold": ("Test load: Lift, stop, watch", "lifted, stopped, held"),
}
OUTCOMES = {
    "fit": "Fit for service as it is",
    "adjust": "Adjust the gap",
    "replace": "Replace the friction disc",
    "refer": "Take out of service and refer",
}


class PageHands:
    """Does each action with the controls of the bench page and reads the answer line."""

    def __init__(self, page: Page) -> None:
        self.page = page
        self.tool = ""
        self.added: set[str] = set()

    def __call__(self, action) -> Observation:
        how = getattr(self, f"_{action.kind}", None)
        if how is None:
            self._take("Hands")
            button, words = BUTTONS[action.kind]
            self._press(button)
            return self._answer(words)
        return how(action)

    def _take(self, tool: str) -> None:
        if self.tool != tool:
            self.page.get_by_role("radio", name=tool, exact=True).check()
            self.tool = tool

    def _press(self, name: str, within=None) -> None:
        (within or self.page).get_by_role("button", name=name, exact=True).first.click()

    def _answer(self, words: str) -> Observation:
        line = self.page.locator(".gal-answer [role=status]")
        expect(line).to_contain_text(words)
        said = line.inner_text()
        seen = {}
        if found := re.search(r"mm (slides|goes in and drags|will not enter)", said):
            seen["feel"] = {"slides": "slides", "goes in and drags": "drags"}.get(
                found[1], found[1]
            )
        if found := re.search(r"caliper shows (\d+\.\d+) mm", said):
            seen["shown_mm"] = float(found[1])
        if found := re.search(r"The plate says: ([\w-]+),", said):
            seen["size"] = found[1]
        return Observation(done=True, words=said, seen=seen)

    def _clean(self, _) -> Observation:
        self._take("Hands")
        self.page.get_by_role("radio", name="Vacuum").check()
        self._press("Clean")
        return self._answer("Dust drawn off")

    def _gauge_gap(self, action) -> Observation:
        self._take("Leaves")
        self.page.get_by_role("spinbutton", name=re.compile("^Angle")).fill(
            f"{action.angle_deg:.0f}"
        )
        self.page.get_by_role("spinbutton", name=re.compile("^Angle")).blur()
        first, *more = action.leaves_mm
        self.page.get_by_role("radio", name=f"{first:.2f}", exact=True).check()
        self._add(more)
        self._press("Push in")
        return self._answer(f"At {action.angle_deg:.0f}°: {sum(action.leaves_mm):.2f} mm")

    def _add(self, more: list[float]) -> None:
        """Add to the first leaf: thin ones by their boxes, another common one by the list."""
        thin = self.page.get_by_role("group", name="Thin leaves to add")
        wanted = {f"{mm:.2f}" for mm in more if mm <= 0.10}
        if wanted or self.added:
            for name in self.added - wanted:
                thin.get_by_role("checkbox", name=name).uncheck()
            for name in wanted - self.added:
                thin.get_by_role("checkbox", name=name).check()
            self.added = wanted
        common = [mm for mm in more if mm > 0.10]
        self.page.get_by_label("Another leaf").select_option(f"{common[0]:g}" if common else "")

    def _write_gap(self, action) -> Observation:
        self._take("Leaves")
        sheet = self.page.get_by_role("group", name="Write a gap reading down")
        sheet.get_by_label(re.compile("^at")).fill(f"{action.angle_deg:.0f}")
        sheet.get_by_label(re.compile("^goes")).fill(f"{action.go_mm:.2f}")
        sheet.get_by_label(re.compile("^will not")).fill(f"{action.no_go_mm:.2f}")
        self._press("Write down", sheet)
        return self._answer(
            f"Written: gap at {action.angle_deg:.0f}°, {action.go_mm:.2f} mm goes, "
            f"{action.no_go_mm:.2f} mm will not"
        )

    def _measure_disc(self, action) -> Observation:
        self._take("Caliper")
        places = self.page.get_by_role("group", name="Place")
        places.get_by_role("radio", name=f"{action.angle_deg:.0f}°", exact=True).check()
        self._press("Close the caliper")
        return self._answer(f"At {action.angle_deg:.0f}°: the caliper shows")

    def _write_disc(self, action) -> Observation:
        sheet = self.page.get_by_role("group", name="Write a disc reading down")
        sheet.get_by_label("I read").fill(f"{action.value_mm:.2f}")
        self._press("Write down", sheet)
        return self._answer(f"Written: disc at {action.angle_deg:.0f}°, {action.value_mm:.2f} mm")

    def _screw(self, number: int) -> None:
        self._take("Wrench")
        screws = self.page.get_by_role("group", name="Screw", exact=True)
        screws.get_by_role("radio").nth(number - 1).check()

    def _loosen_lock(self, action) -> Observation:
        self._screw(action.screw)
        self._press("Loosen lock")
        return self._answer(f"Retaining screw {action.screw} gives")

    def _tighten_lock(self, action) -> Observation:
        self._screw(action.screw)
        self.page.get_by_label("wrench set to").fill(f"{action.torque_nm:g}")
        self._press("Tighten lock")
        return self._answer(f"Retaining screw {action.screw}: the wrench clicks")

    def _turn_screw(self, action) -> Observation:
        if abs(action.turn_deg) < 0.5:
            return Observation(done=True, words="left alone")
        self._screw(action.screw)
        self.page.get_by_label("By number").fill(f"{abs(action.turn_deg):.0f}")
        self._press("Out" if action.turn_deg > 0 else "In")
        return self._answer(f"Hollow screw {action.screw}: {abs(action.turn_deg):.0f}°")

    def _decide(self, action) -> Observation:
        self.page.get_by_role("radio", name=f"{action.row}: my row").check()
        self.page.get_by_role("radio", name=OUTCOMES[action.outcome]).check()
        self.page.get_by_label("Why").fill(action.why)
        self._press("Write the decision")
        return self._answer("Written on the record")

    def _hand_over(self, action) -> Observation:
        name = "Into service" if action.into_service else "Kept out of service"
        self.page.get_by_role("radio", name=name).check()
        self._press("Hand over…")
        self._press("Sign and hand over")
        return Observation(done=True, words="", seen={})


def true_numbers(key: bytes) -> set[str]:
    """Return the hidden gaps and thicknesses of a sitting's cases, to four and more places."""
    numbers = set()
    for case in draw_form(THREE_CASES, load_sheet(), key):
        bench = Bench(case.size, case.condition, case.seed)
        gap = gap_now(bench.setup, bench.state)
        hidden = [gap.plane.mean_mm, gap.plane.tilt_mm, case.condition.disc.thickness_mm]
        hidden += [gap.at_mm(float(angle)) for angle in range(0, 360, 15)]
        hidden += [*case.condition.screw_height_mm, *case.condition.take_up_mm]
        hidden += [case.condition.dust_mm, case.condition.disc.thinnest_mm]
        numbers |= {f"{value:.{digits}f}" for value in hidden for digits in (4, 5, 6)}
        numbers |= {repr(value) for value in hidden} | {case.seed.hex()}
    return numbers


def whole_sitting(page: Page, base: str) -> None:
    """Go in by the front door and do three jobs; open the page again in the middle of one."""
    sheet = load_sheet()
    page.goto(base)
    page.get_by_role("link", name="Sit the assessment").click()
    page.get_by_label("Your name").fill(NAME, timeout=OPEN_MS)
    page.get_by_role("button", name="Begin").click()
    for number in (1, 2, 3):
        expect(page.get_by_role("heading", name=f"Case {number} of 3")).to_be_visible()
        expect(page.locator(".gal-limits tbody tr")).to_have_count(5, timeout=OPEN_MS)
        if number == 1:
            hands = PageHands(page)
            hands(sys.modules["widgets.bench.actions"].LandLoad())
            page.reload()
            expect(page.get_by_role("heading", name="Case 1 of 3")).to_be_visible(timeout=OPEN_MS)
            expect(page.get_by_role("button", name="Load: Land the load")).to_be_visible()
            expect(page.locator(".gal-end")).to_contain_text("landed, hook empty")
        work(PageHands(page), sheet, replace(SITTER, lands_load=number > 1))
        if number < 3:
            page.get_by_role("button", name="Next brake").click(timeout=OPEN_MS)
    expect(page.get_by_text("Finished")).to_be_visible(timeout=OPEN_MS)


def test_a_whole_sitting_goes_from_the_front_door_to_the_record(page, tmp_path):
    """Three jobs done through the page end on the assessor's list, and nothing hidden was told."""
    command = ("-m", "quizzes", "serve", "--port", str(free_port()))
    with server(tmp_path, *command) as (base, _):
        whole_sitting(page, base)
        expect(page.locator(".gal-result")).to_contain_text("Competent")
        during = list(page.seen.frames)

        page.get_by_role("link", name="Results").click()
        row = page.get_by_role("row", name=re.compile("Quist"))
        expect(row).to_contain_text("competent", timeout=OPEN_MS)
        row.get_by_role("button").click()
        evidence = page.locator(".gal-result")
        expect(evidence).to_contain_text("Graded again now")
        expect(evidence).to_contain_text("the same, line by line")
        expect(evidence).to_contain_text(NAME)  # as text: the tags were not taken as markup
        assert page.seen.abroad(base) == []

        records = Records(f"sqlite:///{tmp_path / 'records.sqlite'}")
        (result,) = records.results()
        sitting = records.sitting(result.sitting_id)
        records.close()
        page.goto("about:blank")

    assert result.outcome == "competent"
    hidden = true_numbers(sitting.key)
    assert len(hidden) > 200
    told = {number for frame in during for number in hidden if number in CLOCK.sub("", frame)}
    assert told == set()
    assert not any(sitting.key.hex() in frame for frame in during)
    assert any("will not enter" in frame for frame in during)  # the frames are those of the sitting
