"""What the trainer's guide shows: plans with their clock, misunderstandings, set-ups, forms.

Sentences, faults, sizes and lengths are taken from where the suite keeps them, so that the
guide cannot say anything else than the suite does.
"""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass

from IPython.display import Markdown

from quizzes.cases.case import Case
from quizzes.forms.offered import Offer, offers
from quizzes.grading.words import SAYS, called
from quizzes.sittings.in_force import sheet_in_force
from widgets.bench.setup import Start
from widgets.brake.faults import fault
from widgets.brake.sizes.sheet import LimitsSheet

from .staging import Staging

DAY_BEGINS_MIN = 8 * 60 + 30  # of the clock; a choice
START_WORDS = {
    Start.WORK_ORDER: "with the whole work order",
    Start.OPEN: "safe and open",
    Start.BODY_OFF: "with the magnet body off",
}


@dataclass(frozen=True, slots=True)
class Part:
    """A part of a teaching day: how long, minutes, what, and what is shown or done in it."""

    minutes: int
    title: str
    shown: str


# fmt: off
PLANS: Mapping[str, tuple[Part, ...]] = {
    "day": (
        Part(15, "Begin", "A real brake on the bench, dead and open, one for the room. Who may do "
             "what on a real hoist. What the day ends with."),
        Part(30, "Lesson 1", "The question on paper first. Then the slider, projected; the class "
             "first says which way each number will go."),
        Part(35, "Lessons 2 and 3", "Both stops. The stage: a brake switched on its AC side, "
             "with a perfect gap."),
        Part(15, "Break", "Nobody touches the real brake meanwhile: it stays locked."),
        Part(35, "Lesson 4", "Worn, glazed and oily discs passed round, in bags. Caliper and "
             "rule on the same disc."),
        Part(45, "Lessons 5 and 6", "Each at their own page: own hand. Meanwhile three at a time "
             "gauge the real brake, with shims under its body."),
        Part(45, "Lunch", ""),
        Part(40, "Lesson 7", "In pairs at the bench: one works, one reads the order aloud. The "
             "trainer’s own lock and tag on a real switch."),
        Part(45, "Lesson 8", "The three screws, then the bench. On the real brake: slack, "
             "set, locked, gauged again."),
        Part(15, "Break", ""),
        Part(35, "Lesson 9", "A show of hands for each mistake: what will it do, and what will "
             "find it? Then the numbers."),
        Part(40, "Lessons 10 and 11", "Who signs for it? The job sheet with readings of the "
             "class’s own hoists, if they brought some."),
        Part(10, "Lesson 12", "Read aloud, one chapter each; a stop before every decision, and a "
             "show of hands."),
        Part(30, "Class exercise", "The form of that name, each alone, nothing counts."),
        Part(20, "Debrief", "The class closed on its page: where it went wrong together. One "
             "sentence each: what I will do differently."),
    ),
    "half day": (
        Part(15, "Begin", "What went wrong since last time, without names. The question of lesson "
             "10 on paper."),
        Part(10, "Self-check", "The form of that name, each alone: it shows where to spend the "
             "morning."),
        Part(35, "Lesson 5, its tries", "Own hand, and near the limit."),
        Part(40, "Lesson 8, bench", "Level a tilted gap, lock, gauge again."),
        Part(15, "Break", ""),
        Part(35, "A normal gap", "The stage, words “hook”, “rope” and “winch”: a gap in limits and "
             "something else wrong. The class votes, then the truth."),
        Part(30, "Lesson 11", "Trend, date, record; when to refuse."),
        Part(45, "Class exercise", "The form of that name, set up on the class page "
             "with its minutes kept."),
        Part(15, "Debrief", "As above."),
    ),
}
MISUNDERSTOOD: Mapping[int, tuple[str, ...]] = {
    1: ("measured-energised", "nothing-is-ever-wrong"),
    2: ("normal-gap-means-good-brake",),
    3: ("every-brake-is-adjusted", "normal-gap-means-good-brake"),
    4: ("gap-judged-without-the-disc", "mean-disc-not-least", "rule-for-the-disc",
        "worn-disc-kept", "good-disc-replaced", "solvent-on-the-lining"),
    5: ("step-taken-as-exact", "leaf-forced", "measured-through-dust",
        "wrong-row"),
    6: ("one-place-only",),
    7: ("load-left-hanging", "isolation-skipped", "not-proved-dead", "dust-blown-out"),
    8: ("equal-turns-on-a-tilted-gap", "not-measured-again", "lock-not-to-torque"),
    9: ("parts-in-the-wrong-order", "good-disc-replaced"),
    10: ("tests-skipped", "left-open", "normal-gap-means-good-brake"),
    11: ("readings-made-up",),
    12: ("not-measured-again", "tests-skipped"),
}


@dataclass(frozen=True, slots=True)
class SetUp:
    """A brake for the stage: lesson, place of its size in the sheet, faults, start, word, use.

    `run` names the run that the use speaks of, in `HABITS`.
    """

    lesson: int
    place: int
    fault_ids: tuple[str, ...]
    start: Start
    word: str
    use: str
    run: str = ""

    def size_name(self, sheet: LimitsSheet) -> str:
        """Return the name of its size in a sheet."""
        return sheet.sizes[self.place % len(sheet.sizes)].name

    def case(self, sheet: LimitsSheet) -> Case:
        """Return the brake as the stage sets it out.

        Raises
        ------
        ValueError
            If the size cannot carry the faults.
        """
        return self._staging(sheet).case(sheet)

    def address(self, sheet: LimitsSheet) -> str:
        """Return the address that opens the stage with it."""
        return self._staging(sheet).address(self.run)

    def _staging(self, sheet: LimitsSheet) -> Staging:
        return Staging(self.size_name(sheet), self.fault_ids, self.word, self.start)


SET_UPS = (
    SetUp(1, 2, (), Start.OPEN, "drum", "Give it its voltage, turn the shaft, take the voltage "
          "away: what closes it?"),
    SetUp(2, 3, ("switched-on-ac-side",), Start.WORK_ORDER, "hook", "Look at it running. The gap "
          "will be perfect."),
    SetUp(3, 1, ("gap-too-large",), Start.OPEN, "sheave", "The gap has two limits: which is it "
          "beyond, and what happens on a hot day?"),
    SetUp(4, 2, ("disc-spent-gap-set",), Start.OPEN, "block", "Gauge first and ask for a vote; "
          "then the caliper."),
    SetUp(4, 0, ("oiled",), Start.OPEN, "rope", "Look below the shaft before anything is wiped."),
    SetUp(5, 4, ("gap-at-limit",), Start.OPEN, "pulley", "Single leaves, then stacks: may it "
          "carry on?"),
    SetUp(6, 2, ("warped",), Start.OPEN, "girder", "Three places, four, eight: when does the "
          "class see it?"),
    SetUp(7, 1, ("measured-live",), Start.WORK_ORDER, "pendant", "Step through its run: when does "
          "the class see what was left out?", "not-proved-dead"),
    SetUp(8, 2, ("gap-tilted",), Start.OPEN, "trolley", "Step through its run, then the "
          "careful one: where do they part?", "equal-turns-on-a-tilted-gap"),
    SetUp(8, 2, ("not-remeasured",), Start.OPEN, "crane", "The setting is in the last record. Why "
          "is it not in the brake?"),
    SetUp(9, 2, ("disc-spent-gap-set",), Start.BODY_OFF, "spline", "Fit the disc the wrong way "
          "round on purpose; let the class find it."),
    SetUp(9, 3, ("wear-plate-missing",), Start.OPEN, "collar", "A gap that nobody would set: add "
          "up the stack."),
    SetUp(10, 4, ("spring-broken",), Start.OPEN, "winch", "Every reading is good. Who signs?"),
    SetUp(11, 1, ("gap-too-large",), Start.OPEN, "ledger", "Set it; the class dictates the "
          "record, line by line."),
    SetUp(12, 0, ("gap-too-large",), Start.WORK_ORDER, "ladle", "The whole job to the date, one "
          "step from each of the class."),
)
# fmt: on


def plan(name: str) -> Markdown:
    """Return a plan as a table with the clock beside it.

    Parameters
    ----------
    name : str
        A name in `PLANS`.

    Raises
    ------
    ValueError
        If there is no such plan.
    """
    if name not in PLANS:
        raise ValueError(f"name must be one of {', '.join(PLANS)}, got {name!r:.40}")
    rows, now = [], DAY_BEGINS_MIN
    for part in PLANS[name]:
        rows.append((_clock(now), f"**{part.title}**, {part.minutes} min. {part.shown}"))
        now += part.minutes
    rows.append((_clock(now), "End."))
    return _shown(_table(("from", "what, how long, what to show and do"), rows))


def misunderstandings() -> Markdown:
    """Return what each lesson meets in people's heads, with the sentence that helps."""
    parts = []
    for lesson, names in MISUNDERSTOOD.items():
        rows = [(f"**{called(name)}**", SAYS[name]) for name in names]
        parts.append(f"### Lesson {lesson}\n\n" + _table(("it is called", "say"), rows))
    return _shown("\n\n".join(parts))


def set_ups() -> Markdown:
    """Return what to type in on the stage for each lesson, and what to ask."""
    sheet = sheet_in_force().sheet
    rows = [
        (
            str(one.lesson),
            _spelt(one, sheet),
            one.use,
        )
        for one in SET_UPS
        if _can_be(one, sheet)
    ]
    heads = ("lesson", "size: what is wrong, how it begins, its word", "ask the class")
    return _shown(_table(heads, rows))


def forms() -> Markdown:
    """Return the forms that can be sat here with their length, the trainer's own among them."""
    rows = [(f"**{one.title}**", _length(one), one.words) for one in offers().values()]
    return _shown(_table(("form", "about", "what it asks"), rows))


def _length(one: Offer) -> str:
    return f"{one.blueprint.minutes}\u00a0min"


def _wrong(one: SetUp) -> str:
    return " and ".join(fault(name).title for name in one.fault_ids) or "nothing"


def _spelt(one: SetUp, sheet: LimitsSheet) -> str:
    link = f"[**{one.size_name(sheet)}**]({one.address(sheet)})"
    return f"{link}: {_wrong(one)}, {START_WORDS[one.start]}, `{one.word}`"


def _can_be(one: SetUp, sheet: LimitsSheet) -> bool:
    plate_mm = sheet.size(one.size_name(sheet)).wear_plate_mm
    if "wear-plate-missing" in one.fault_ids and plate_mm == 0:
        return False  # a size without a wear plate cannot miss one
    try:
        one.case(sheet)
    except ValueError:
        return False
    return True


def _shown(text: str) -> Markdown:
    made: Markdown = Markdown(text)  # type: ignore[no-untyped-call]
    return made


def _clock(minutes: int) -> str:
    return f"{minutes // 60:02d}:{minutes % 60:02d}"


def _table(heads: Sequence[str], rows: Iterable[Sequence[str]]) -> str:
    lines = [heads, ["---"] * len(heads), *rows]
    return "\n".join("| " + " | ".join(line) + " |" for line in lines)
