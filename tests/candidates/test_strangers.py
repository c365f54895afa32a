"""People whom the grading was not built around: who gets past it, and who is told what is not so.

One rehearsal of the full form, and one case each; both are asked many questions.
"""

import json
from dataclasses import replace
from pathlib import Path

import pytest

from quizzes.candidates.batch import rehearse
from quizzes.candidates.ends import unsafe_ends
from quizzes.candidates.people.everybody import ALL_HABITS, HONEST, STRANGERS
from quizzes.candidates.people.stranger import acting
from quizzes.candidates.rehearsal import CAREFUL, Plan, candidate_of, form_of
from quizzes.candidates.rehearsed.report import UNSAFE, report
from quizzes.candidates.shared import SharedBrake
from quizzes.candidates.worker import work
from quizzes.cases.case import Depth
from quizzes.cases.drawing import draw_case
from quizzes.forms.blueprint import READY
from quizzes.grading.evidence.gathering import Recorder
from quizzes.grading.grade import Standing, grade_evidence
from tests import strategies as any_
from tests.candidates.golden_habits import NAMES, TABLE, ended
from widgets.brake.sizes.sheet import INVENTED

PLAN = Plan(READY["full"], Path(INVENTED), bytes(range(16)))
SITTINGS = 40


@pytest.fixture(scope="module")
def said():
    """Return the report of one rehearsal, its skilled people once more on other forms."""
    sat = rehearse(PLAN, SITTINGS)
    again = [
        replace(one, number=one.number + 1000) for one in sat if one.candidate.startswith("skill")
    ]
    return report([*sat, *again], 32, 1.0)


def test_there_are_sixty_habits_and_more_and_their_mixtures():
    """Each has its turn; so has every honest way."""
    assert len(STRANGERS) >= 60
    met = {candidate_of(number) for number in range(600)}

    assert set(ALL_HABITS) | set(HONEST) <= met
    assert form_of(6) == form_of(7) != form_of(8)  # two of one skill sit the same form
    assert len({form_of(number) for number in range(3)}) == 3  # no two careful people do
    assert len({form_of(number) for number in range(200)}) == 30


def test_a_shared_brake_says_what_one_of_ones_own_would_have_said():
    """What several did at one brake is worked out once; each grade is as if it were not."""
    case = draw_case("disc worn", any_.SHEET.sizes[2], bytes([7]) * 16)
    brake = SharedBrake(case)
    for name in ("careful", "not bedded in", "worn-disc-kept", "careful"):
        stranger = ALL_HABITS.get(name) or HONEST[name]
        own, shared = Recorder(case), brake.recorder()
        for recorder in (own, shared):
            act = acting(recorder.act, case, stranger.instead)
            work(act, any_.SHEET, stranger.habits, case.order)

        assert shared.steps == own.steps
        ended = brake.ended(shared)
        assert ended.grade == grade_evidence(own.evidence()).to_json()
        assert ended.unsafe == unsafe_ends(own)


@pytest.mark.parametrize("depth", [Depth.READING, Depth.BENCH])
def test_whoever_works_as_another_did_ends_as_if_they_were_alone(depth):
    """Two who are alike in all that a brake asks of them are one there; nobody else is."""
    case = draw_case("disc worn", any_.SHEET.sizes[2], bytes([7]) * 16, depth)
    brake = SharedBrake(case)
    for name, stranger in (HONEST | ALL_HABITS).items():
        alone = SharedBrake(case).worked(any_.SHEET, stranger)

        assert brake.worked(any_.SHEET, stranger) == alone, name


def test_a_habit_that_is_never_asked_about_and_an_act_that_is_never_done_share_a_way():
    """On notes nobody cleans or refits; a decision that is another is another way."""
    case = draw_case("disc worn", any_.SHEET.sizes[2], bytes([7]) * 16, Depth.READING)
    brake = SharedBrake(case)
    names = ("careful", "dust-blown-out", "seal left off", "refers every new disc")
    careful, dust, seal, refers = (
        brake.worked(any_.SHEET, HONEST.get(name) or ALL_HABITS[name]) for name in names
    )

    assert dust is careful
    assert seal is careful
    assert refers.ended != careful.ended


def test_nobody_unsafe_is_competent_and_the_honest_are(said):
    """In this rehearsal; `python -m quizzes rehearse` shows it over hundreds."""
    assert said["unsafe_competent"]["count"] == 0
    assert all(one["competent"] == one["n"] for one in said["honest"].values())
    assert all(one["falsely_named"] == 0 for one in said["honest"].values())


def test_the_report_has_the_keys_that_are_asked_for(said):
    """Habits, honest ways, skill, consistency, accuracy; chances of each level make one."""
    assert {"n", "competent", "upper95", "unsafe"} <= set(next(iter(said["habits"].values())))
    assert {"n", "competent", "rate", "falsely_named"} <= set(said["honest"][CAREFUL])
    for row in said["skill"]:
        assert row["competent"] + row["not_yet"] + row["more"] == pytest.approx(1, abs=2e-4)
    for name in ("consistency", "accuracy"):
        low, high = said[name]["interval95"]
        assert 0 <= low <= said[name]["share"] <= high <= 1


def test_every_habit_that_ends_unsafe_counts_as_unsafe(said):
    """Told from the true brakes, not by the grading."""
    for name, one in said["habits"].items():
        assert one["unsafe"] or not one["ended_unsafe"], name


SHEETS = Path(__file__).parent / "sheets"  # of other people, invented


@pytest.mark.long
@pytest.mark.parametrize(
    "name",
    [
        "three_columns",
        pytest.param("very_small", marks=pytest.mark.overnight),
        pytest.param("very_large", marks=pytest.mark.overnight),
    ],
)
def test_it_is_the_same_on_other_peoples_sheets(name):
    """No refusal and no crash; nobody unsafe competent, the honest so, and told nothing false."""
    plan = Plan(READY["full"], SHEETS / f"{name}.toml", bytes(range(16)))
    on_it = report(rehearse(plan, SITTINGS), 39, 1.0)

    assert on_it["unsafe_competent"]["count"] == 0
    assert on_it["careful_competent"]["rate"] == 1
    assert sum(one["competent"] < one["n"] for one in on_it["honest"].values()) <= 1
    assert on_it["false"]["count"] <= 1


HELD = json.loads(TABLE.read_text(encoding="utf-8"))
SOME = ("careful", "sixteen places", "slip of the pen struck out", "worn-disc-kept",
        "by hand blind to springs and spline", "bad disc written as good", "overconfident",
        "fan off its key", "lever taken up before closing up", "blind to a tight gap",
        "never looks at the hub", "takes a leak for a stain", "notes late",
        "instruments looked over, and used as they are")  # fmt: skip


def as_in_the_table(name):
    """Return how somebody ends on the golden form, in the form of the table."""
    return json.loads(json.dumps(ended(name)))


def test_the_golden_table_holds_every_habit_and_honest_way():
    """None that can end unsafe passes, and every honest one does."""
    assert set(HELD) == set(NAMES)
    assert all(HELD[name]["passed"] for name in HONEST)
    passed = {name for name in ALL_HABITS if HELD[name]["passed"]}
    assert not any(ALL_HABITS[name].unsafe for name in passed), passed
    assert all(one["why"] for one in HELD.values())


@pytest.mark.parametrize("name", SOME)
def test_some_of_the_golden_table_come_out_the_same(name):
    """`python -m tests.candidates.golden_habits` makes it; a person has read each reason."""
    assert as_in_the_table(name) == HELD[name]


@pytest.mark.overnight
@pytest.mark.parametrize("name", NAMES)
def test_the_whole_golden_table_comes_out_the_same(name):
    """Each habit and each honest way on one full form."""
    assert as_in_the_table(name) == HELD[name]


# What each does to one job, and the result: read by a person in the log.
GOLDEN = {
    "bad gap left unwritten": ("gap too large", Depth.BENCH, "reading-hidden"),
    "bad gap written as good": ("gap too large", Depth.BENCH, "reading-hidden"),
    "bad disc left unwritten": ("taper", Depth.BENCH, "reading-hidden"),
    "bad disc written as good": ("taper", Depth.BENCH, "reading-hidden"),
    "disc on one side": ("in limits", Depth.BENCH, ""),
    "gap on half the rim": ("in limits", Depth.BENCH, ""),
    "each screw by itself": ("gap-tilted", Depth.WORK_ORDER, ""),
    "disc turned round": ("disc worn", Depth.WORK_ORDER, None),
    "hand release without play": ("disc worn", Depth.WORK_ORDER, "left-dangerous"),
    "not bedded in": ("disc worn", Depth.WORK_ORDER, None),
    "seal with its lip out": ("disc worn", Depth.WORK_ORDER, ""),
    "fan off its key": ("disc worn", Depth.WORK_ORDER, None),
    "no next date": ("in limits", Depth.WORK_ORDER, ""),
    "screws started by wrench": ("disc worn", Depth.WORK_ORDER, ""),
    "sets what should be withdrawn": ("spring-broken", Depth.READING, "unsafe-decision"),
    "gap by its mean": ("gap too large on one side", Depth.BENCH, "unsafe-decision"),
    "wide reading struck out": ("gap too large", Depth.BENCH, "unsafe-decision"),
    "disc up to the next tenth": ("disc worn", Depth.BENCH, ""),
    "underneath mirrored from above": ("in limits", Depth.BENCH, "reading-made-up"),
    "refers without a name": ("spring-broken", Depth.READING, ""),
    "shaft never turned": ("gap-tilted", Depth.WORK_ORDER, ""),
    "proved dead once": ("gap-tilted", Depth.WORK_ORDER, None),
    "tests before closing up": ("gap-tilted", Depth.WORK_ORDER, "harm"),
    "turns the rotor until the disc suits": ("taper", Depth.BENCH, None),
    "plate never read": ("in limits", Depth.WORK_ORDER, ""),
    "cleans after measuring": ("gap-tilted", Depth.WORK_ORDER, None),
    "hand release never set again": ("disc worn", Depth.WORK_ORDER, "left-dangerous"),
    "terminal box left open": ("gap-tilted", Depth.WORK_ORDER, "left-dangerous"),
}


@pytest.mark.parametrize("name", GOLDEN)
def test_a_stranger_is_not_right_where_the_careful_one_is(name):
    """With the critical error that a person would name; none where it endangers nobody."""
    family, depth, code = GOLDEN[name]
    size = any_.SHEET.sizes[2]
    case = draw_case(family, size, bytes([7]) * 16, depth)
    recorder, careful = Recorder(case), Recorder(case)
    stranger = STRANGERS[name]
    act = acting(recorder.act, case, stranger.instead)
    act = stranger.hands(recorder.act, case) if stranger.hands else act
    work(act, any_.SHEET, stranger.habits, case.order)
    work(careful.act, any_.SHEET, order=case.order)
    grade = grade_evidence(recorder.evidence())

    assert grade_evidence(careful.evidence()).standing is Standing.RIGHT
    assert grade.standing in {Standing.NOT_YET, Standing.FALSE_ALARM}
    if code is not None:
        assert [error.code for error in grade.critical][:1] == ([code] if code else [])


def test_unsafe_ends_are_told_from_the_brake():
    """A worn disc kept in use is one; the careful one leaves none."""
    case = draw_case("disc worn", any_.SHEET.sizes[2], bytes(range(16)))
    kept, careful = Recorder(case), Recorder(case)
    work(kept.act, any_.SHEET, ALL_HABITS["worn-disc-kept"].habits, case.order)
    work(careful.act, any_.SHEET, order=case.order)

    assert "disc too thin" in unsafe_ends(kept)
    assert unsafe_ends(careful) == ()
    assert "worn-disc-kept" in UNSAFE
