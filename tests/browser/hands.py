"""A virtual candidate's hands on the bench page: every action by the page's own controls.

What it learns is what the page says, feels or draws; scales are read off their lines.
"""

import re
from dataclasses import replace
from typing import Any

from playwright.sync_api import Page

from widgets.bench.observed import Observation
from widgets.bench.words import LOOKS
from widgets.brake.judgement.words import FINDINGS

from .conftest import PATIENCE_MS
from .leaves import LeafHands
from .seen import seen_after
from .ways import Mouse, Way
from .where import KEYS, OUTCOMES, OWN_TOOL, SETTINGS, TOOLS

LEAST_TURN_DEG = 1.0  # what the page takes for a hand that trembles
# Waits for an answer that has not been heard yet; the five others of the bench hear it in the same breath.
_HEAR = """(patience) => new Promise((answer, lost) => {
  const line = document.querySelector(".gal-answer [role=status]");
  const isNew = () => line.firstElementChild && line.firstElementChild !== window.galHeard;
  // One press can bring two answers: what is heard is what is there when it is read.
  const say = () => setTimeout(() => {
    window.galHeard = line.firstElementChild;
    answer([...line.children].filter((one) => !one.matches(".just-before")).map((one) => one.innerText).join("\\n").replaceAll("\\u00a0", " "));
  });
  if (isNew()) return say();
  const late = setTimeout(() => lost(new Error("no answer from the bench")), patience);
  new MutationObserver((_, watch) => {
    if (!isNew()) return;
    clearTimeout(late);
    watch.disconnect();
    say();
  }).observe(line, { childList: true });
})"""

# Every answer of the bench in its words, as they come; and the newest as one that was heard.
_LISTEN = """() => {
  window.galAnswers = [];
  document.addEventListener("gal-told", ({ detail: { message } }) =>
    message.reply && galAnswers.push((message.reply.done ? "" : "Not possible: ") + message.reply.words));
}"""
# Waits for three answers more than there were, and takes the newest for heard: the answer line,
# which listens for longer, has shown it by then.
_HEAR_THREE = """([before, patience]) => new Promise((answer, lost) => {
  const areThree = () => galAnswers.length >= before + 3;
  const say = () => {
    window.galHeard = document.querySelector(".gal-answer [role=status]").firstElementChild;
    answer(galAnswers.slice(before, before + 3));
  };
  if (areThree()) return say();
  const late = setTimeout(() => lost(new Error("no three answers from the bench")), patience);
  document.addEventListener("gal-told", function told() {
    if (!areThree()) return;
    clearTimeout(late);
    document.removeEventListener("gal-told", told);
    say();
  });
})"""


def _lock_of(action: Any) -> tuple[Any, ...]:
    """Return what is done to which lock, as far as it is done to one."""
    return action.kind, getattr(action, "screw", 0), getattr(action, "torque_nm", 0)


class PageHands(LeafHands):
    """Does each action with the controls of the one bench on a page, in one way."""

    def __init__(self, page: Page, way: Way | None = None) -> None:
        super().__init__(page.locator(".gal-end"), way or Mouse())
        self.page = page
        self.caliper: tuple[str, float] = ("caliper", 0.0)
        self.found: set[str] = set()
        self.refusals: list[str] = []
        self.all_three = True  # all three locks by one press, where the first is worked
        self.acts = 0
        # What one press did to locks that are not asked about yet.
        self.answered: dict[Any, str] = {}
        page.evaluate(_LISTEN)
        self.hear()  # what the page says as it opens

    def __call__(self, action: Any) -> Observation:
        """Carry one action out and return what the page says, shows and draws of it.

        A bracket that the page offers to write down in one press with going on waits for
        what comes next: that press, or its own.
        """
        self.acts += 1
        answer = self.answered.pop(_lock_of(action), "") or self._pay(action)
        if answer:
            return self._seen(action, answer)
        if action.kind == "turn_screw" and abs(action.turn_deg) < LEAST_TURN_DEG:
            return Observation(True, "left-alone")
        own = getattr(self, f"_{action.kind}", None)
        if own:
            own(action)
        else:
            key = KEYS[action.kind]
            stages, name = key(action) if callable(key) else key
            self._at_stage(stages)
            self._press(self.at, name if isinstance(name, str) else name(action))
        if action.kind == "hand_over":
            return Observation(True, "record.signed")
        if self.owed:
            return Observation(True, "written with the next")
        return self._seen(action, self.answered.pop(_lock_of(action), "") or self.hear())

    def _seen(self, action: Any, words: str) -> Observation:
        if words.startswith("Not possible"):
            self.refusals.append(f"{action}: {words}")
            return Observation(False, words)
        return Observation(True, words, seen_after(self.page, action, words))

    def hear(self) -> str:
        """Return the next answer that the page announces."""
        return self.page.evaluate(_HEAR, PATIENCE_MS)

    # ---- actions with more to choose than a key ----

    def _look(self, action: Any) -> None:
        self._take("Hands")
        folded = self.at.locator("details.looks > summary")
        if folded.is_visible() and not folded.evaluate("(node) => node.parentNode.open"):
            self.way.press(folded)
        self._press(self.at, re.compile(f"^Look( again)?: {re.escape(LOOKS[action.at])}$"))

    def _fit_disc(self, action: Any) -> None:
        self._at_stage("Take apart, fit")
        form = self._group("Put a disc on")
        self.way.pick(form.get_by_role("combobox", name="Disc"), action.part)
        self._choose("Which way round", f"Collar to the {'brake' if action.reversed else 'motor'}")
        self._press(form, "Slide onto the hub")

    def _set_lever(self, action: Any) -> None:
        self._at_stage("Adjust")
        form = self._group("Set the lever’s play")
        self._type(form.get_by_label("Play at the plate"), action.play_mm)
        self._press(form, "Set the play")

    def _check_tool(self, action: Any) -> None:
        self._take(OWN_TOOL[action.tool])
        self._press(self.at, KEYS[action.kind](action)[1])

    _change_tool = _check_tool

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
        self._take("Caliper")
        how = "Close the jaws" if action.tool == "caliper" else "Hold the rule to it"
        on = self.at.get_by_role("button", name=f"On to {action.angle_deg:g}°: {how.lower()}", exact=True)  # fmt: skip
        if action.tool == self.caliper[0] and on.is_visible():
            self.way.press(on)
            self.caliper = (action.tool, action.angle_deg)
            return
        self._jaws_to(action.tool, action.angle_deg)
        self._press(self.at, how)

    def _write_disc(self, action: Any) -> None:
        self._jaws_to(action.tool, action.angle_deg)
        form = self._group("Write a disc reading down")
        self._type(form.get_by_label("I read"), action.value_mm)
        self._press(form, "Write down")
        self.lines["disc"].append(f"disc at {action.angle_deg:g}°")

    def _measure_coil(self, action: Any) -> None:
        self._take("Meter")
        self._choose("Meter set to", SETTINGS[action.what])
        lifted = "Coil’s leads lifted, tips on, leads back"
        self._press(self.at, lifted if action.leads_lifted else "Tips on, leads as they are")

    def _find_release(self, _: Any) -> None:
        self._take("Meter")
        self._press(self.at, "Raise the voltage slowly")

    def _write_value(self, action: Any) -> None:
        if action.what == "lever_play_mm":
            self._at_stage("Adjust")
        else:
            self._take("Meter")
        form = self._group("Write a reading down")
        listed = form.locator("select")
        if listed.input_value() != action.what:
            self.way.pick(listed, action.what)
        self._type(form.get_by_label("I read"), action.value)
        self._press(form, "Write down")
        self.lines["value"].append(listed.locator("option:checked").text_content())

    def _strike_out(self, action: Any) -> None:
        name = self.lines[action.sheet][action.line]
        keys = self.page.locator(".gal-notes button.strike")
        self.way.press(keys.and_(self.page.get_by_role("button", name=f"Strike out: {name}")).last)

    def _lock(self, action: Any) -> None:
        """Work one lock; from the first on all three in turn, and answer for the others when asked."""
        self._take("Wrench")
        if action.kind == "tighten_lock":
            self._type(self.at.get_by_label("wrench set to"), action.torque_nm)
        verb = action.kind.removesuffix("_lock").capitalize()
        if action.screw > 1 or self.answered or not self.all_three:
            self._press(self.at, f"{verb} retaining screw {action.screw}")
            return
        before = self.page.evaluate("galAnswers.length")
        self._press(self.at, f"{verb} all three retaining screws")
        for screw, words in enumerate(self.page.evaluate(_HEAR_THREE, [before, PATIENCE_MS]), 1):
            self.answered[_lock_of(replace(action, screw=screw))] = words

    _try_lock = _loosen_lock = _tighten_lock = _lock

    def _turn_screw(self, action: Any) -> None:
        self._take("Wrench")
        self._type(self.at.get_by_label("hollow screw by"), abs(action.turn_deg))
        self._press(self.at, f"Turn {'out' if action.turn_deg > 0 else 'in'} screw {action.screw}")

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
