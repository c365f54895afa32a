"""The grade: what each way of working earns, and that no unsafe brake ever earns a pass."""

import json
import random
from collections.abc import Sequence
from dataclasses import replace
from functools import cache
from hashlib import sha256

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.stats import binomtest

from quizzes.cases.candidates import HABITS
from quizzes.cases.case import Case
from quizzes.cases.families import FAMILIES, MEANT, draw_case
from quizzes.grading import misconceptions
from quizzes.grading.evidence import AlteredLogError
from quizzes.grading.grade import CaseGrade, Standing, grade_case
from quizzes.grading.sitting import COMPETENT, NOT_YET, judge_sitting, what_it_shows
from tests import strategies as any_
from widgets.bench import actions as do
from widgets.bench.session import Event, Session
from widgets.bench.standing import gap_now
from widgets.brake.condition import Disc, sound_condition
from widgets.brake.gap import Plane
from widgets.brake.rules import Outcome

SIZES = any_.SHEET.sizes
CEDAR = any_.SHEET.size("Cedar-47")
PASSES = {Standing.RIGHT, Standing.FALSE_ALARM}


def seed_of(number: int) -> bytes:
    return sha256(f"test case {number}".encode()).digest()


@cache
def drawn(family: str, size_name: str = "Cedar-47", number: int = 0) -> Case:
    return draw_case(family, any_.SHEET.size(size_name), seed_of(number))


@cache
def done(
    family: str, habit: str = "careful", size_name: str = "Cedar-47", number: int = 0
) -> tuple[Case, Session]:
    case = drawn(family, size_name, number)
    return case, any_.worked(case, habit)


def graded(*what, **kwargs) -> CaseGrade:
    case, session = done(*what, **kwargs)
    return grade_case(case, session.events)


def codes(grade: CaseGrade) -> set[str]:
    return {error.code for error in grade.critical}


def names(grade: CaseGrade) -> set[str]:
    return {found.name for found in grade.misconceptions}


def kinds(grade: CaseGrade) -> set[str]:
    return {fault.kind for fault in grade.faults}


# ---- the careful candidate ----


@pytest.mark.parametrize("family", FAMILIES)
@pytest.mark.parametrize("size_name", [size.name for size in SIZES])
def test_the_careful_candidate_is_right_on_every_family_and_size(family, size_name):
    """Four brakes of each: right, without critical error, misunderstanding or fault."""
    for number in range(4):
        grade = graded(family, "careful", size_name, number)

        assert grade.standing is Standing.RIGHT
        assert grade.decided == MEANT[family]
        assert (grade.critical, grade.misconceptions, grade.faults) == ((), (), ())
        assert grade.left_wrong == ()
        assert grade.marks >= 90


def test_a_whole_careful_sitting_is_competent():
    """Three brakes, one of each family."""
    grades = [graded(family).to_json() for family in FAMILIES]
    outcome = judge_sitting(grades, 3)

    assert outcome["outcome"] == COMPETENT
    assert outcome["critical"] == 0
    assert outcome["cases"] == outcome["cases_asked"] == 3


# ---- each habit ends as it should ----

ENDS = {
    # habit: (family, standing, critical codes that must be there, misunderstandings, elements missed)
    "one place only": ("gap too large", Standing.NOT_YET, set(), {"one place only"}, {"M2"}),
    "wrong row": ("gap too large", Standing.NOT_YET, set(), {"wrong row"}, {"K3"}),
    "does not measure again": (
        "gap too large",
        Standing.NOT_YET,
        {"not-measured-again"},
        {"not measured again"},
        {"A3"},
    ),
    "replaces whatever is there": (
        "gap too large",
        Standing.FALSE_ALARM,
        set(),
        {"good disc replaced"},
        set(),
    ),
    "passes whatever is there": (
        "disc worn",
        Standing.NOT_YET,
        {"unsafe-decision"},
        {"worn disc kept"},
        {"D1"},
    ),
    "adjusts whatever is there": (
        "disc worn",
        Standing.NOT_YET,
        {"unsafe-decision"},
        {"worn disc kept"},
        {"D1"},
    ),
    "skips the isolation": (
        "in limits",
        Standing.NOT_YET,
        {"not-isolated"},
        {"isolation skipped"},
        {"S2"},
    ),
    "leaves the load hanging": (
        "in limits",
        Standing.NOT_YET,
        {"load-hanging"},
        {"load left hanging"},
        {"S1"},
    ),
    "blows the dust out": ("in limits", Standing.NOT_YET, {"harm"}, set(), {"S4"}),
    "measures through dust": (
        "gap too large",
        Standing.NOT_YET,
        set(),
        {"measured through dust"},
        {"M2"},
    ),
    "does not measure the disc": (
        "gap too large",
        Standing.NOT_YET,
        {"disc-not-measured"},
        {"gap judged without the disc"},
        {"M4"},
    ),
    "makes readings up": ("gap too large", Standing.NOT_YET, {"reading-made-up"}, set(), {"M2"}),
    "skips the tests": ("in limits", Standing.NOT_YET, set(), set(), {"T1", "T2"}),
    "leaves it open": ("in limits", Standing.NOT_YET, set(), set(), {"R4"}),
}


@pytest.mark.parametrize("habit", [habit for habit in HABITS if habit != "careful"])
def test_each_bad_habit_ends_as_it_should(habit):
    """The standing, the critical error, the misunderstanding and the element it costs, all sizes."""
    family, standing, critical, misunderstood, missed = ENDS[habit]
    for size in SIZES:
        grade = graded(family, habit, size.name)

        assert grade.standing is standing
        assert critical <= codes(grade)
        assert misunderstood <= names(grade)
        assert missed <= {element.id for element in grade.elements if not element.reached}
        if standing is Standing.FALSE_ALARM:
            assert codes(grade) == set()


def test_only_the_wrong_habit_is_named():
    """Each habit alone, on a sound brake: no other misunderstanding than its own."""
    for habit, (_, _, _, own, _) in ENDS.items():
        if habit not in {"replaces whatever is there", "wrong row"}:
            assert names(graded("in limits", habit)) <= own


def test_every_misunderstanding_has_its_sentence():
    """Names are distinct, and a trainer would have something to say about each."""
    assert len(set(misconceptions.NAMES)) == len(misconceptions.NAMES) == 11


def test_equal_turns_on_a_tilted_gap_are_seen():
    """All three screws alike on a tilt of three times what is allowed: the tilt is still there."""
    tilt_mm = 1.5 * CEDAR.gap.evenness_mm
    case = made_case(Plane(0.7, tilt_mm), disc_mm=11.0)
    found = any_.actions_of(any_.worked(case))
    first_turn = next(i for i, one in enumerate(found) if one.kind == "turn_screw")
    equal = [
        replace(one, turn_deg=-90.0) if one.kind == "turn_screw" else one
        for one in found[: first_turn + 3]
    ]
    grade = grade_case(case, any_.redo(case, equal).events)

    assert "equal turns on a tilted gap" in names(grade)


def test_gauging_with_the_coil_on_is_critical_and_named():
    """A gap written down while the plate is drawn in is no gap."""
    case = made_case(Plane(0.5), disc_mm=11.0)
    one = [do.LandLoad(), *any_.OPENED, do.Energise()]
    one += [
        do.GaugeGap(angle_deg=0.0, leaves_mm=(0.05,)),
        do.WriteGap(angle_deg=0.0, go_mm=0.0, no_go_mm=0.05),
        do.Decide(outcome="fit", row=CEDAR.name),
    ]
    grade = grade_case(case, any_.redo(case, one).events)

    assert "measured-energised" in codes(grade)
    assert "measured energised" in names(grade)


# ---- three kinds of error told apart ----


def made_case(gap: Plane, disc_mm: float, **more) -> Case:
    condition = replace(sound_condition(CEDAR, gap=gap, disc=Disc(disc_mm)), dust_mm=0.05, **more)
    return Case("made", CEDAR, condition, seed_of(7), "Inspect.")


def written_off_by(session_actions: Sequence[do.Action], offset_mm: float) -> list[do.Action]:
    """Return the actions with every gap written down that much too wide or too tight."""
    return [
        replace(
            one,
            go_mm=max(0.0, round(one.go_mm + offset_mm, 2)),
            no_go_mm=max(0.01, round(one.no_go_mm + offset_mm, 2)),
        )
        if one.kind == "write_gap"
        else one
        for one in session_actions
    ]


def test_a_reading_error_is_told_from_a_decision_error():
    """Wrong readings rightly judged: the fault is the reading, and the decision counts in full.

    The gap of 0.95 mm lies beyond 0.80 mm; written down 0.40 mm too tight, "fit" follows.
    """
    case = made_case(Plane(0.95), disc_mm=11.0)
    as_fit = any_.actions_of(any_.worked(case, "passes whatever is there"))
    passed = written_off_by(as_fit, -0.40)
    grade = grade_case(case, any_.redo(case, passed).events)
    decided = next(element for element in grade.elements if element.id == "D1")

    assert kinds(grade) == {"reading"}
    assert decided.score == 1.0
    assert codes(grade) == {"unsafe-reading"}
    assert grade.standing is Standing.NOT_YET


def test_a_decision_error_is_told_from_a_reading_error():
    """Right readings wrongly judged: the fault is the decision, and measuring counts in full."""
    grade = graded("gap too large", "passes whatever is there")
    measured = [element for element in grade.elements if element.channel == "M"]

    assert kinds(grade) == {"decision"}
    assert all(element.reached for element in measured)
    assert grade.own_readings_support == "adjust"
    assert grade.decided == "fit"


def test_a_procedure_error_is_told_from_both():
    """Right readings, right decision, supply on: the fault is the procedure alone."""
    grade = graded("gap too large", "skips the isolation")

    assert kinds(grade) == {"procedure"}
    assert grade.decided == grade.own_readings_support == "adjust"
    assert grade.standing is Standing.NOT_YET


def test_a_decision_that_came_out_right_by_luck_is_no_right_decision():
    """Readings that support replacing, decided fit, on a brake that is fit: the decision is at fault."""
    case = made_case(Plane(0.5), disc_mm=11.0)
    actions = [
        replace(one, value_mm=8.0) if one.kind == "write_disc" else one
        for one in any_.actions_of(any_.worked(case))
    ]
    grade = grade_case(case, any_.redo(case, actions).events)

    assert "decision" in kinds(grade)
    assert grade.standing is Standing.NOT_YET


# ---- an unlucky truth ----


def unlucky_case() -> Case:
    """A gap over its largest only between the eight places where a careful person gauges."""
    between = ((8, 0.03, 180.0),)
    return made_case(Plane(CEDAR.gap.max_mm - 0.025), 11.0, texture_mm=between)


def test_an_unlucky_truth_is_no_verdict_and_no_failure():
    """Fair readings all support fit, the brake is over by 0.005 mm where nobody gauges.

    Never right, because it is unsafe; never critical, because the candidate could not know.
    """
    case = unlucky_case()
    session = any_.worked(case)
    grade = grade_case(case, session.events)

    assert is_unsafe(session)
    assert grade.standing is Standing.NO_VERDICT
    assert grade.own_readings_support == grade.decided == "fit"
    assert grade.critical == ()


@pytest.mark.parametrize(
    ("carelessly", "instead"),
    [
        ("refit_cover", []),
        ("refit_seal", []),
        ("test_hold", [do.TestHold(), do.TightenLock(screw=1, torque_nm=6.0)]),
    ],
)
def test_bad_luck_does_not_excuse_what_could_be_seen(carelessly, instead):
    """A part left off or a retaining screw left weak is no bad luck, not even on such a brake."""
    for case in (unlucky_case(), made_case(Plane(0.5), 11.0)):
        actions = []
        for one in any_.actions_of(any_.worked(case)):
            actions += instead if one.kind == carelessly else [one]
        if instead:  # the screw is in reach only before fan and cover go on
            weak = actions.pop(actions.index(instead[-1]))
            actions.insert(next(i for i, a in enumerate(actions) if a.kind == "refit_seal"), weak)
        session = any_.redo(case, actions)
        grade = grade_case(case, session.events)

        assert session.state.into_service
        assert grade.left_wrong
        assert grade.standing is Standing.NOT_YET


def test_no_verdict_does_not_make_a_sitting_competent():
    """It asks for one more brake."""
    case = unlucky_case()
    grades = [graded("in limits").to_json(), graded("disc worn").to_json()]
    grades.append(grade_case(case, any_.worked(case).events).to_json())
    outcome = judge_sitting(grades, 3)

    assert outcome["outcome"] == NOT_YET
    assert outcome["critical"] == 0
    assert any("no verdict" in reason for reason in outcome["reasons"])


# ---- no unsafe brake is ever graded competent ----


def is_unsafe(session: Session) -> bool:
    """Judge a handed-over brake from the truth, without the rule, the scheme or the grade.

    Unsafe in service: the gap beyond the largest anywhere round the rim, the
    disc below its least anywhere, or a retaining screw 15 % short of its torque.
    """
    setup, state = session.setup, session.state
    if not (state.handed_over and state.into_service):
        return False
    gap = gap_now(setup, state)
    disc = setup.condition.disc
    widest_mm = max(gap.at_mm(angle / 2) for angle in range(720))
    thinnest_mm = disc.thickness_mm - disc.taper_mm
    loose = min(state.lock_nm) < 0.85 * setup.size.screws.retaining_torque_nm
    return widest_mm > setup.size.gap.max_mm or thinnest_mm < setup.size.disc.min_mm or loose


RIGHT_ONES = [("in limits", 0), ("disc worn", 0)]


def assert_never_competent(session: Session, case: Case) -> CaseGrade:
    grade = grade_case(case, session.events)
    others = [graded(family, number=number).to_json() for family, number in RIGHT_ONES]
    sitting = judge_sitting([grade.to_json(), *others], 3)

    assert grade.standing not in PASSES
    assert sitting["outcome"] != COMPETENT
    return grade


INTO_SERVICE = (do.DeEnergise(), do.RestoreSupply(), do.HandOver(into_service=True))


@given(any_.cases(), any_.action_lists(), any_.OUTCOMES)
def test_no_random_work_that_ends_with_an_unsafe_brake_in_service_is_competent(
    case, actions, outcome
):
    """Whatever is done before it."""
    ending = [do.Decide(outcome=outcome, row=case.size.name), *INTO_SERVICE]
    session = any_.redo(case, [*actions, *ending])
    if is_unsafe(session):
        assert_never_competent(session, case)


@st.composite
def almost_careful(draw: st.DrawFn) -> tuple[Case, list[do.Action]]:
    """Return the careful log of one brake, mutated, for that brake or for another of its size."""
    family = draw(st.sampled_from(tuple(FAMILIES)))
    case = draw_case(family, draw(any_.SIZES), draw(any_.SEEDS))
    actions = any_.actions_of(any_.worked(case))
    for _ in range(draw(st.integers(0, 4))):
        place = draw(st.integers(0, len(actions) - 1))
        length = draw(st.sampled_from([1, 1, 1, 3, 20]))
        extra = draw(st.lists(any_.WORK_ACTION, max_size=2))
        actions[place : place + length] = extra
        if not actions:
            break
    if draw(st.booleans()):
        condition = draw(any_.conditions(case.size))
        case = replace(case, condition=condition)
    if draw(st.booleans()):
        actions = [
            replace(one, outcome=draw(any_.OUTCOMES)) if one.kind == "decide" else one
            for one in actions
        ]
    return case, [one for one in actions if one.kind != "hand_over"]


@settings(max_examples=150)
@given(almost_careful())
def test_no_almost_careful_work_that_ends_with_an_unsafe_brake_in_service_is_competent(drawn_work):
    """Careful work with steps left out, put in or changed, or done by the log of another brake."""
    case, actions = drawn_work
    session = any_.redo(case, [*actions, *INTO_SERVICE])
    if is_unsafe(session):
        assert_never_competent(session, case)


def mutants(rng: random.Random, family: str, number: int) -> tuple[Case, list[do.Action]]:
    """Return a mutated careful job whose every reading still fits the brake as far as it can."""
    case, session = done(family, "careful", SIZES[number % len(SIZES)].name, number % 4)
    actions = [one for one in any_.actions_of(session) if one.kind != "hand_over"]
    for _ in range(rng.randint(0, 2)):
        del actions[rng.randrange(len(actions))]
    if rng.random() < 0.6:
        outcome = rng.choice(["fit", "adjust", "replace", "refer"])
        actions = [replace(a, outcome=outcome) if a.kind == "decide" else a for a in actions]
    if rng.random() < 0.4:
        turned = rng.choice([-90.0, 60.0, 200.0])
        actions = [replace(a, turn_deg=turned) if a.kind == "turn_screw" else a for a in actions]
    if rng.random() < 0.3:
        weak = rng.uniform(0.1, 0.84) * case.size.screws.retaining_torque_nm
        place = rng.randrange(len(actions))
        actions.insert(place, do.TightenLock(screw=rng.randint(1, 3), torque_nm=weak))
    if rng.random() < 0.3:
        actions = written_off_by(actions, rng.choice([-0.3, -0.1, -0.02]))
    return case, actions


def test_many_careful_jobs_gone_wrong_reach_an_unsafe_brake_and_none_passes():
    """The law above is not empty: at least 100 of 300 jobs end unsafe in service, in 15 ways or more."""
    rng = random.Random(20)  # a fixed search, so that the counts below hold every time
    unsafe, seen = 0, set()
    for number in range(300):
        case, actions = mutants(rng, rng.choice(tuple(FAMILIES)), number)
        session = any_.redo(case, [*actions, *INTO_SERVICE])
        if is_unsafe(session):
            unsafe += 1
            seen.add((frozenset(codes(assert_never_competent(session, case))), case.family))

    assert unsafe >= 100
    assert len(seen) >= 15


@pytest.mark.parametrize("outcome", list(Outcome))
@pytest.mark.parametrize("family", ["gap too large", "disc worn"])
def test_careful_inspection_handed_over_unrepaired_is_never_competent(family, outcome):
    """Whatever was decided, the hoist went back to work with the fault in it."""
    for size in SIZES:
        case, session = done(family, "careful", size.name)
        actions = any_.actions_of(session)
        decided = next(i for i, one in enumerate(actions) if one.kind == "decide")
        closing = [
            do.RefitSeal(),
            do.RefitFan(),
            do.RefitCover(),
            do.RestoreSupply(),
            do.TestHold(),
        ]
        decide = do.Decide(outcome=outcome.value, row=size.name)
        handed = any_.redo(case, [*actions[:decided], decide, *closing, INTO_SERVICE[-1]])

        assert is_unsafe(handed)
        assert_never_competent(handed, case)


def test_a_job_without_a_hand_over_is_not_yet():
    """Nothing is right before it is finished."""
    case, session = done("in limits")
    for end in (0, 1, 50, len(session.events) - 1):
        assert grade_case(case, session.events[:end]).standing is Standing.NOT_YET


# ---- the grade as a function ----


@pytest.mark.parametrize("family", FAMILIES)
def test_grading_twice_gives_the_same_json(family):
    """Also from a log that went through text."""
    case, session = done(family)
    texts = [
        json.dumps([event.number, dict(event.action), dict(event.observation)])
        for event in session.events
    ]
    reread = [Event(*json.loads(text)) for text in texts]
    first = json.dumps(grade_case(case, session.events).to_json())

    assert json.dumps(grade_case(case, session.events).to_json()) == first
    assert json.dumps(grade_case(case, reread).to_json()) == first


@settings(max_examples=40)
@given(st.data())
def test_an_altered_log_is_refused(data):
    """One observation told differently, an unknown action, or another brake's log."""
    case, session = done("gap too large")
    events = list(session.events)
    place = data.draw(st.integers(0, len(events) - 1))
    event = events[place]
    told = dict(event.observation)
    altered = data.draw(
        st.sampled_from(
            [
                replace(event, observation={**told, "words": told["words"] + "!"}),
                replace(event, observation={**told, "done": not told["done"]}),
                replace(event, observation={**told, "seen": {**told["seen"], "shown_mm": 9.99}}),
                replace(event, observation={}),
                replace(event, action={"kind": "no_such_thing"}),
            ]
        )
    )
    events[place] = altered

    with pytest.raises(AlteredLogError, match=f"line {place} "):
        grade_case(case, events)


def test_the_log_of_another_brake_is_refused():
    """A careful log does not come out of the next case."""
    _, session = done("gap too large", number=0)
    with pytest.raises(AlteredLogError):
        grade_case(drawn("gap too large", number=1), session.events)


@pytest.mark.parametrize("habit", HABITS)
def test_a_kept_grade_holds_no_hidden_number(habit):
    """No number in it lies within half a thousandth of a true gap, disc, height or dust."""
    import re

    for family in FAMILIES:
        case, session = done(family, habit)
        grade = json.dumps(grade_case(case, session.events).to_json())
        told = {abs(float(found)) for found in re.findall(r"-?\d+\.\d+", grade)}
        gap, condition = gap_now(session.setup, session.state), case.condition
        start = gap_now(session.setup, Session(case.setup()).state)
        hidden = [condition.disc.thickness_mm, condition.dust_mm, *condition.screw_height_mm]
        hidden += [one.at_mm(15.0 * place) for one in (gap, start) for place in range(24)]
        hidden += [one.plane.mean_mm for one in (gap, start)]
        hidden = [h for h in hidden if abs(h - round(h, 2)) > 0.001]

        assert hidden
        assert [h for h in hidden if any(abs(t - h) < 0.0005 for t in told)] == []


def test_marks_never_outweigh_a_critical_error():
    """Careful but for the load on the hook: many marks, and not yet."""
    grade = graded("in limits", "leaves the load hanging")

    assert grade.marks > 80
    assert grade.standing is Standing.NOT_YET


# ---- the sitting ----


def kept(standing: str = "right", score: float = 1.0, critical: Sequence[str] = ()) -> dict:
    return {
        "standing": standing,
        "marks": 100,
        "critical": [{"code": code, "words": code} for code in critical],
        "elements": [{"id": "M2", "title": "Gap measured all round", "score": score}],
    }


@pytest.mark.parametrize(
    ("grades", "outcome"),
    [
        ([kept()] * 3, COMPETENT),
        ([kept(), kept(), kept("false alarm")], COMPETENT),
        ([kept(), kept("false alarm"), kept("false alarm")], NOT_YET),
        ([kept(), kept(), kept("not yet")], NOT_YET),
        ([kept(), kept(), kept("no verdict")], NOT_YET),
        ([kept(), kept(), kept("not yet", critical=["harm"])], NOT_YET),
        ([kept(), kept()], NOT_YET),
        ([], NOT_YET),
        ([kept(), kept(), kept(score=0.0)], COMPETENT),  # mean 0.67
        ([kept(), kept(score=0.2), kept(score=0.2)], NOT_YET),  # mean 0.47
    ],
)
def test_a_sitting_is_competent_only_when_nothing_speaks_against_it(grades, outcome):
    """The rules of the scheme, one at a time."""
    found = judge_sitting(grades, 3)

    assert found["outcome"] == outcome
    assert found["reasons"]
    json.dumps(found, allow_nan=False)


@pytest.mark.parametrize(("cases", "percent"), [(1, 95), (5, 45), (10, 26), (20, 14), (59, 5)])
def test_what_so_many_cases_show_agrees_with_the_exact_binomial_bound(cases, percent):
    """Outside check: Clopper and Pearson (1934) as scipy.stats.binomtest has it, one-sided 95 %.

    The whole percents beside it: zero-failure tables, 59 cases for 5 %, from memory.
    """
    exact = binomtest(0, cases, alternative="less").proportion_ci(0.95, method="exact").high

    assert round(100 * exact) == percent
    assert f"up to {percent} %" in what_it_shows(cases, 0)


def test_no_case_shows_nothing_and_a_miss_is_no_bound():
    """Neither sentence claims a rate."""
    assert "nothing" in what_it_shows(0, 0)
    assert "%" not in what_it_shows(3, 1)
