"""The bench in a real browser: every action by its controls, keys and fingers, scales, refusals."""

import itertools
import math
import re
from typing import get_args

import pytest

pytest.importorskip("playwright.sync_api")
from playwright.sync_api import Page, expect

from widgets.bench import actions as do
from widgets.bench.actions.codec import to_json

from .bench import PHONE_OPTIONS, bench_at
from .conftest import OPENING_MS, PHONE, serious, too_wide
from .hands import PageHands
from .scales import read_glass, read_vernier
from .ways import Keys, Touch, Way

pytestmark = pytest.mark.browser

TARGET_PX = 44  # DESIGN.md section 6
LEAF_STEP_MM = 0.05  # from one common leaf to the next
TOOLS = ("Hands", "Leaves", "Wrench", "Caliper", "Meter")
STAGES = ("Make safe", "Open, close", "Look, clean", "Measure", "Decide", "Adjust", "Take apart, fit", "Prove", "Hand over")  # fmt: skip
# What only other designs have: on a brake with hollow screws the page offers no such thing.
OF_OTHER_DESIGNS = {do.ChangeShim, do.LoosenAdjustingRing, do.TurnAdjustingRing, do.LockAdjustingRing}  # fmt: skip
NOT_LATER = {do.HandOver}  # after it the bench takes nothing
# One of each kind of action, and both ways of each that can be done the wrong way round.
EVERY = (
    do.LandLoad(), do.KeepClear(), do.LetCool(), do.Isolate(), do.IsolateSecond(), do.OpenBox(),
    do.CloseBox(), do.OpenBox(by="electrician"), do.ProveDead(), do.RestoreSupply(),
    do.CheckTool("leaves"), do.CheckTool("caliper"), do.CheckTool("wrench"),
    do.ChangeTool("leaves"), do.ChangeTool("caliper"), do.ChangeTool("wrench"),
    do.RemoveCover(), do.RefitCover(), do.RemoveRing(), do.RefitRing(), do.RemoveFan(),
    do.RefitFan(on_key=False), do.RefitFan(on_key=True), do.RemoveSeal(),
    do.RefitSeal(band="new", seated=False), do.RefitSeal(), do.ReadPlate(), do.Look(at="edge"),
    do.Clean(method="dry_brush"), do.StopWater(), do.DryOut(), do.GaugeGap(angle_deg=45.0, leaves_mm=(0.3, 0.05, 0.1)),
    do.GaugeGap(angle_deg=300.0, leaves_mm=(1.0, 0.25), hand="forced"),
    do.MeasureDisc(angle_deg=60.0, tool="rule"), do.MeasureDisc(angle_deg=90.0),
    do.MeasureCoil(what="insulation"), do.FindRelease(), do.WriteGap(45.0, 0.3, 0.35),
    do.WriteDisc(angle_deg=90.0, value_mm=10.42), do.WriteDisc(135.0, 10.5, "rule"),
    do.WriteValue(what="coil_ohm", value=612.5), do.StrikeOut(sheet="gap", line=0),
    do.Decide("refer", "Cedar-47", "Oil.", ("coil", "oil")), do.TryLock(screw=2),
    do.LoosenLock(screw=1), do.TightenLock(screw=3, torque_nm=2.5),
    do.TurnScrew(screw=2, turn_deg=-37.5), do.WorkLever(), do.SetLever(play_mm=0.8),
    do.DisconnectLeads(), do.ConnectLeads(side="ac"), do.ConnectLeads(), do.RemoveLever(),
    do.RefitLever(), do.HoldBody(), do.DrawLock(screw=2), do.RemoveBody(), do.RemoveDisc(),
    do.RemoveWearPlate(), do.CleanSpline(), do.FitWearPlate(smooth_to_disc=False),
    do.FitWearPlate(), do.FitDisc(part="Cedar-47", reversed=True), do.FitDisc(part="old"),
    do.FitBody(), do.StartLock(screw=3, by="wrench"), do.StartLock(screw=1), do.Energise(),
    do.DeEnergise(), do.TurnShaft(90.0), do.BedIn(), do.TestRun(), do.TestHold(), do.Isolate(),
    do.HandOver(into_service=False, remarks="Oil at the hub.", next_days=30),
)  # fmt: skip


def test_the_list_holds_every_kind_of_action():
    """What the next test sends is all that the bench knows, the hand-over last."""
    assert {type(action) for action in EVERY} == set(get_args(do.Action)) - OF_OTHER_DESIGNS
    assert [type(action) for action in EVERY if type(action) in NOT_LATER] == [type(EVERY[-1])]


def test_every_action_of_the_bench_can_be_wished_for_with_the_page_s_controls(page, served):
    """Each goes out as it was meant, field by field, whether the bench then does it or refuses."""
    with bench_at(page, served) as bench:
        hands = PageHands(bench.page)
        hands.all_three = False
        for action in EVERY:
            hands(action)
            bench.page.evaluate("0")  # what the page sent before has been seen with its answer
            assert _alike(bench.wishes[-1], action)
        expect(bench.page.locator(".gal-report .stamp")).to_be_visible()

        assert bench.kinds == [action.kind for action in EVERY]


def _alike(wish: dict, action: do.Action) -> bool:
    """Return whether a wish is an action, what it leaves out standing at its default."""
    return to_json(action) | wish == to_json(action)


# ---- by keyboard ----

FOCUSED = """() => {
  const at = document.activeElement;
  return (at.getAttribute("aria-label") || at.innerText || "").trim();
}"""


def test_leaf_and_wrench_are_moved_by_keys_and_wish_for_nothing_until_told(page, served):
    """Holding a leaf somewhere or turning the wrench on the drawing is not a wish; Enter is."""
    with bench_at(page, served, "open") as bench:
        sheet, keys, way = bench.page, bench.page.keyboard, Keys(bench.page)
        way.choose(sheet.get_by_role("radio", name="Leaves", exact=True))
        leaf = sheet.get_by_role("slider", name="Leaf at the rim")
        way.go(leaf)
        way.strike("ArrowRight", 3)
        way.strike("-", 20)
        expect(leaf).to_have_attribute("aria-valuetext", "45°, 0.05 millimetres")
        assert bench.wishes == []
        keys.press("Enter")
        bench.says("At 45°: 0.05 mm")

        way.choose(sheet.get_by_role("radio", name="Wrench", exact=True))
        way.press(sheet.get_by_role("button", name="Loosen retaining screw 1"))
        bench.says("Retaining screw 1")
        way.go(sheet.get_by_role("slider", name="Wrench on hollow screw 1"))
        way.strike("ArrowRight", 2)
        way.strike("Shift+ArrowRight")
        assert bench.kinds == ["gauge_gap", "loosen_lock"]  # the hand has not let go yet
        keys.press("Enter")
        bench.says("Hollow screw 1: 11° out")


def goes_on_to(bench, hands, angle_deg: int) -> int:
    """Take the leaf to the next place by one key, pressed twice by a nervous hand; push until there is a bracket.

    Returns how often it was pushed in.
    """
    steps = bench.page.locator(".gal-end .next")
    steps.get_by_role("button", name=re.compile(f"to {angle_deg}°: push in")).dblclick()
    bench.says(f"At {angle_deg}°:")
    hands.hear()
    pushes = 1
    while not steps.get_by_role("button", name=re.compile("^Write down:")).is_visible():
        felt = bench.page.locator(".gal-end .felt b").inner_text()
        by_mm = -LEAF_STEP_MM if felt == "will not enter" else LEAF_STEP_MM
        leaf_mm = bench.wishes[-1]["leaves_mm"][0] + by_mm
        steps.get_by_role("button", name=f"Push in {leaf_mm:.2f} mm").click()
        hands.hear()
        pushes += 1
    return pushes


def goes_round_in_few_actions(bench, hands) -> None:
    """A gap within a leaf of that at the place before costs four actions at most, writing included.

    Each leaf that it lies further away costs one more. One press writes it down and goes on; these
    are two actions in the log, and the next place is as far on as the one before.
    """
    goes_on_to(bench, hands, 45)
    pushes = goes_on_to(bench, hands, 90)
    assert bench.kinds[-pushes - 1 :] == ["write_gap"] + ["gauge_gap"] * pushes
    before = bench.wishes[-pushes - 1]
    assert (before["angle_deg"], bench.wishes[-pushes]["angle_deg"]) == (45, 90)
    assert bench.wishes[-pushes]["leaves_mm"] == [before["go_mm"]]
    bench.page.get_by_role("button", name="Push in", exact=True).focus()
    bench.page.keyboard.press("w")
    bench.says("Written: gap at 90°")
    leaves = round(abs(bench.wishes[-1]["go_mm"] - before["go_mm"]) / LEAF_STEP_MM)
    assert pushes + 1 <= 3 + max(1, leaves)


def keeps_its_brake(bench) -> None:
    """Loaded again, or come back to, the page has the brake with its notes; the coach is in sight."""
    sheet = bench.page
    coach = sheet.locator(".gal-dock").get_by_role("button", name="Ask the coach")
    sheet.set_default_navigation_timeout(OPENING_MS)
    for again in (sheet.reload, lambda: (sheet.goto("about:blank"), sheet.go_back())):
        again()
        expect(sheet.get_by_role("button", name="Strike out: gap")).to_have_count(
            3, timeout=OPENING_MS
        )
        expect(coach).to_be_in_viewport()


def test_a_bracket_is_offered_and_not_written(page, served):
    """After a leaf that went and one that did not, both are offered; nothing is written unasked."""
    for _ in range(6):  # practice draws any brake: some have no gap at all, some more than 1 mm
        with bench_at(page, served, "open") as bench:
            hands = PageHands(bench.page)
            hands(do.Clean("vacuum"))
            felt = [hands(do.GaugeGap(0.0, (leaf,))).facts["feel"] for leaf in (0.05, 1.0)]
            if felt[0] == "will-not-enter" or felt[1] != "will-not-enter":
                continue
            expect(bench.page.get_by_text("Write down: 0.05 goes, 1.00 will not?")).to_be_visible()
            assert "write_gap" not in bench.kinds
            group = bench.page.get_by_role("group", name="Write a gap reading down")
            group.get_by_role("button").click()
            bench.says("Written: gap at 0°, 0.05 mm goes, 1.00 mm will not")
            strike = bench.page.get_by_role("button", name="Strike out: gap")
            row = bench.page.locator(".gal-notes tr").filter(has=strike)
            expect(row).to_contain_text(re.compile("0.05.*1.00"))
            goes_round_in_few_actions(bench, hands)
            keeps_its_brake(bench)
            return
    pytest.fail("six brakes in a row without a gap between 0.05 and 1.00 mm")


def test_the_record_is_signed_only_after_it_was_asked_for(page, served):
    """Hand over asks first, with the safe way in focus; after signing the state says so."""
    with bench_at(page, served) as bench:
        sheet, way = bench.page, Keys(bench.page)
        hands = PageHands(sheet, way)
        for action in (do.LandLoad(), do.Isolate(), do.Decide("refer", "Alder-11", "Coil.")):
            hands(action)
        expect(sheet.locator(".gal-report")).to_contain_text("by the row Alder-11")
        way.choose(sheet.get_by_role("radio", name="Kept out of service"))
        way.press(sheet.get_by_role("button", name="Hand over…"))
        assert sheet.evaluate(FOCUSED) == "Go back"
        assert "hand_over" not in bench.kinds
        way.press(sheet.get_by_role("button", name="Sign and hand over"))
        stamp = sheet.locator(".gal-report .stamp")
        expect(stamp).to_have_text(re.compile("Handed over: kept out of service.*signed"))
        expect(stamp).to_be_focused()
        assert bench.kinds == ["land_load", "isolate", "decide", "hand_over"]


# ---- what is said ----


def test_what_cannot_be_done_is_said_in_words_and_changes_nothing(page, served):
    """A leaf pushed at a closed brake is refused at the answer line."""
    with bench_at(page, served) as bench:
        bench.page.get_by_role("radio", name="Leaves", exact=True).check()
        bench.page.get_by_role("button", name="Push in", exact=True).click()
        bench.says("Not possible: The leaf does not reach the gap: the cover is in the way.")
        bench.page.get_by_role("radio", name="From the end").check()
        expect(bench.page.locator(".gal-end figcaption")).to_contain_text("cover")


def test_opening_the_page_wishes_for_nothing(page, served):
    """Nothing is done at the brake until the person does it; a report half filled in is not sent."""
    with bench_at(page, served) as bench:
        sheet = bench.page
        sheet.get_by_label("Cedar-47: my row").check()
        sheet.get_by_role("radio", name="Wrench", exact=True).check()
        sheet.get_by_role("button", name="Tighten retaining screw 1").click()
        bench.says("Set the wrench first")
        sheet.get_by_role("button", name="Write the decision").click()
        bench.says("Choose first what this brake needs")
        sheet.get_by_role("radio", name="Into service").check()
        sheet.get_by_role("button", name="Hand over…").click()
        sheet.get_by_role("button", name="Go back").click()
        sheet.get_by_role("radio", name="Leaves", exact=True).check()
        expect(sheet.get_by_role("radio", name="Into service")).to_be_checked()  # no shared group

        assert bench.wishes == []


# ---- scales ----


@pytest.mark.parametrize("by", ["keys", "touch"])
def test_under_the_glass_the_lines_agree_only_where_the_reading_is(page, served, by):
    """Taken along the vernier by arrow keys or by a finger, the glass shows one line in line."""
    options = {} if by == "keys" else PHONE_OPTIONS
    with bench_at(page, served, "open", **options) as bench:
        way: Way = Keys(bench.page) if by == "keys" else Touch()
        PageHands(bench.page, way)(do.MeasureDisc(0.0))
        line = round(read_vernier(bench.page) % 1 / 0.02)
        on = bench.page.get_by_role("button", name="Glass one line on")
        off_mm = []
        for step in range(min(line, 6) + 1):  # as far as six lines before it, by the slider
            if step == 0 and line > 6:
                bench.page.get_by_label("Glass along the vernier").fill(str(line - 6))
            elif step:
                way.press(on)
            off_mm.append(round(read_glass(bench.page), 3))

        assert off_mm[-1] == 0
        assert all(abs(off) > 0.01 for off in off_mm[:-1])
        assert [later - off for off, later in itertools.pairwise(off_mm)] == pytest.approx([-0.02] * (len(off_mm) - 1), abs=0.002)  # fmt: skip


# ---- by touch ----


FRAMES_OF_REST = 9
RESTED = """(frames) => new Promise((rested) => {
  const drawn = () => (frames-- ? requestAnimationFrame(drawn) : rested());
  drawn();
})"""


class Finger:
    """One finger on the drawing, in the drawing's own polar places."""

    def __init__(self, sheet: Page) -> None:
        self.sheet = sheet
        self.line = sheet.context.new_cdp_session(sheet)

    def _place(self, radius: float, deg: float, around: tuple[float, float]) -> tuple[float, float]:
        x = around[0] + radius * math.sin(math.radians(deg))
        y = around[1] - radius * math.cos(math.radians(deg))
        script = """([x, y]) => {
          const svg = [...document.querySelectorAll(".gal-end figure > svg")].find((one) => one.checkVisibility());
          const seen = new DOMPoint(x, y).matrixTransform(svg.getScreenCTM());
          return [seen.x, seen.y];
        }"""
        return tuple(self.sheet.evaluate(script, [x, y]))

    def drag(
        self, places: list[tuple[float, float]], around: tuple[float, float] = (320, 320)
    ) -> None:
        """Put the finger down at the first place, go over the others, and let go."""
        for number, (radius, deg) in enumerate(places):
            x, y = self._place(radius, deg, around)
            kind = "touchMove" if number else "touchStart"
            self._send(kind, [{"x": x, "y": y}])
        # A hand comes to rest before it lets go; else the browser takes it for a fling.
        self.sheet.evaluate(RESTED, FRAMES_OF_REST)
        self._send("touchMove", [{"x": x, "y": y}])
        self.sheet.evaluate(RESTED, FRAMES_OF_REST)
        self._send("touchEnd", [])

    def _send(self, kind: str, points: list[dict[str, float]]) -> None:
        self.line.send("Input.dispatchTouchEvent", {"type": kind, "touchPoints": points})


def test_a_finger_pushes_the_leaf_and_turns_the_wrench_on_the_drawing(page, served):
    """On a phone both work by dragging, and the answer is always in symptom."""
    with bench_at(page, served, "open", **PHONE_OPTIONS) as bench:
        sheet, finger = bench.page, Finger(bench.page)
        drawing = sheet.locator(".gal-end figure > svg:visible")
        sheet.get_by_role("radio", name="Leaves", exact=True).tap()
        sheet.get_by_role("radio", name="0.05", exact=True).tap()
        drawing.scroll_into_view_if_needed()
        along_the_rim = [(285, deg) for deg in range(20, 61, 5)]
        inwards = [(radius, 60) for radius in (275, 262, 250, 238, 226)]
        finger.drag(along_the_rim + inwards)
        bench.says("At 60°: 0.05 mm")
        box = sheet.locator(".gal-answer [role=status]").bounding_box()
        assert box["y"] + box["height"] <= PHONE["height"] + 1

        sheet.get_by_role("radio", name="Wrench", exact=True).tap()
        sheet.get_by_role("button", name="Loosen retaining screw 1").tap()
        bench.says("Retaining screw 1")
        drawing.scroll_into_view_if_needed()
        # Screw 1 stands at 12 o'clock, 192 from the centre; the handle starts at 120 degrees.
        finger.drag([(150, 120 + turned) for turned in range(0, 31, 3)], around=(320, 128))
        bench.says(re.compile(r"Hollow screw 1: (29|30|31)° out"))

        assert bench.kinds == ["gauge_gap", "loosen_lock", "turn_screw"]


SMALL = """(least) => [...document.querySelectorAll(".gal :is(button, input, select, textarea, summary)")]
  .map((node) => node.closest("label.key, label.pick") ?? node)
  .filter((node) => node.checkVisibility())
  .filter((node) => node.getBoundingClientRect().width < least - 0.5
    || node.getBoundingClientRect().height < least - 0.5)
  .map((node) => node.outerHTML.slice(0, 120))"""


# Cells of the turned limits sheet that do not stand in the line of their heading, or on another one.
ASTRAY = """() => {
  const lines = [...document.querySelectorAll(".gal-limits tr")].map((tr) => [...tr.children]);
  const at = (cell) => cell.getBoundingClientRect();
  return lines.slice(1).flatMap((cells, size) => cells.filter((cell, line) =>
    Math.abs(at(cell).top - at(lines[0][line]).top) > 1 || cell.scrollWidth > cell.clientWidth + 1
    || at(cell).left < at(lines[size][line]).right - 1).map((cell) => cell.innerText));
}"""


def test_on_a_phone_every_target_is_large_enough_and_nothing_scrolls_sideways(page, served):
    """No control, or the label it sits in, is smaller than 44 px, with each tool and at each stage."""
    with bench_at(page, served, **PHONE_OPTIONS) as bench:
        assert bench.page.evaluate(ASTRAY) == []
        for name in (*TOOLS[1:], "Hands", *STAGES):
            bench.page.get_by_role("radio", name=name, exact=True).check()
            assert bench.page.evaluate(SMALL, TARGET_PX) == []
            assert too_wide(bench.page) == 0
        # A picture of a place goes with the page: only the drawing of the brake is pinned.
        bench.page.get_by_role("radio", name="Look, clean", exact=True).check()
        bench.page.get_by_role("button", name="Look: All round the closed brake").tap()
        seen = bench.page.get_by_role("list", name="Seen: All round the closed brake")
        picture = seen.get_by_role("img")
        expect(picture).to_be_visible()
        assert picture.evaluate("(node) => getComputedStyle(node).position") == "static"
        assert bench.page.evaluate(SMALL, TARGET_PX) == []
        assert too_wide(bench.page) == 0


@pytest.mark.parametrize(
    ("colours", "width"), [("light", 1280), pytest.param("dark", 390, marks=pytest.mark.overnight)]
)
def test_axe_finds_nothing_serious_on_the_bench(page, served, colours, width):
    """Names, roles and contrast hold with every tool in the hand, at the stages with most to press."""
    options = {"color_scheme": colours} | ({} if width == 1280 else PHONE_OPTIONS)
    with bench_at(page, served, "open", **options) as bench:
        PageHands(bench.page)(do.MeasureDisc(0.0))
        bench.page.get_by_label("Cedar-47: my row").check()
        assert serious(bench.page) == []
        for name in (*TOOLS[1:], "Hands", "Look, clean", "Take apart, fit", "Prove"):
            bench.page.get_by_role("radio", name=name, exact=True).check()
            assert serious(bench.page, within=".gal-end > .work") == [], name
        assert serious(bench.page) == []  # beside what the tool in the hand has added elsewhere
