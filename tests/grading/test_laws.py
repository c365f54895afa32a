"""Laws of grading, by hypothesis: safe acts never hurt, danger never passes, order says nothing."""

import json
import random
import re
from functools import cache
from hashlib import sha256

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from quizzes.candidates.worker import HABITS, work
from quizzes.cases.case import Case, Depth
from quizzes.cases.drawing import draw_case
from quizzes.cases.families import FAMILIES, MEANT
from quizzes.grading.evidence.gathering import AlteredLogError, Evidence, Recorder, gather
from quizzes.grading.grade import CaseGrade, Standing, grade_case, grade_evidence
from quizzes.grading.outcome import COMPETENT, judge_sitting
from tests import strategies as any_
from widgets.bench import actions as do
from widgets.bench.handlers.proving import holding_ratio_now
from widgets.bench.session import Event, Session
from widgets.bench.standing import gap_now, loose_locks
from widgets.bench.words import altered_words
from widgets.brake.judgement.rules import Outcome
from widgets.brake.sizes.size import STATIC_TEST

from .jobs import LOOKS, close_up, do_all

SIZES = any_.SHEET.sizes
RANK = {Standing.NOT_YET: 0, Standing.NO_VERDICT: 1, Standing.FALSE_ALARM: 2, Standing.RIGHT: 3}
FAMILY = st.sampled_from([name for name in FAMILIES if len(FAMILIES[name].depths) == len(Depth)])
# An act more means other dice for the readings after it: only where no limit is so near that
# another fair reading of the same brake could fall on the other side.
_ON_A_LIMIT = ("near ", "disc-spent", "taper", "disc worn")
CLEAR = FAMILY.filter(lambda name: not any(part in name for part in _ON_A_LIMIT))
HABIT = st.sampled_from(sorted(HABITS))
DEPTH = st.sampled_from(list(Depth))
INTO_SERVICE = [do.RefitCover(), do.RestoreSupply(), do.TestRun(), do.TestHold(),
                do.HandOver(into_service=True, next_days=20)]  # fmt: skip
# Acts that put nobody at risk, change nothing of the brake, and that a careful person may add:
# no hand goes to the coil's terminals before they are proved dead (EN 50110-1, from memory).
HANDS_OFF = [do.ReadPlate(), do.ProveDead(), *(do.Look(place) for place in LOOKS)]
PROVED_DEAD = [*HANDS_OFF, do.MeasureCoil("resistance"), do.MeasureCoil("insulation")]


@cache
def drawn(family: str, depth: Depth, number: int) -> Case:
    seed = sha256(f"law {family} {number}".encode()).digest()
    return draw_case(family, SIZES[number % len(SIZES)], seed, depth)


def worked(case: Case, habit: str, extra: random.Random | None = None) -> Evidence:
    """Return the job of a candidate; with dice, safe acts are put in between while it is worked."""
    recorder = Recorder(case)

    def act(action):
        dead = recorder.state.isolated and not recorder.state.energised
        while extra and extra.random() < 0.3 and dead:
            recorder.act(extra.choice(PROVED_DEAD if recorder.state.proved_dead else HANDS_OFF))
        return recorder.act(action)

    work(act, any_.SHEET, HABITS[habit], case.order)
    return recorder.evidence()


@settings(max_examples=80)
@given(CLEAR, HABIT, st.integers(0, 3), st.integers(0, 10**6))
def test_more_safe_acts_never_lower_the_grade(family, habit, number, dice):
    """Looking, proving dead and measuring once more: the standing never falls.

    Who looks once more, sees a danger and passes the brake all the same, has an error more,
    and ends no lower: what was not looked at counted against them as well.
    """
    case = drawn(family, Depth.BENCH, number)
    plain = grade_evidence(worked(case, habit))
    more = grade_evidence(worked(case, habit, random.Random(dice)))

    assert RANK[more.standing] >= RANK[plain.standing]


@pytest.mark.parametrize("act", [do.MeasureCoil("resistance"), do.MeasureCoil("insulation")])
def test_the_same_act_before_proving_dead_is_critical(act):
    """The law above is not about any act: isolated again and not proved dead, it is not a safe one."""
    evidence = worked(drawn("warped", Depth.BENCH, 0), "careful")
    acts = [step.action for step in evidence.steps]
    again = [do.RestoreSupply(), do.Isolate()]
    proved = do_all(evidence.case, [*acts[:-1], *again, do.ProveDead(), act, acts[-1]])
    unproved = do_all(evidence.case, [*acts[:-1], *again, act, do.ProveDead(), acts[-1]])

    assert not grade_evidence(proved).critical
    assert [one.code for one in grade_evidence(unproved).critical] == ["not-proved-dead"]


NOTHING_TO_SET = CLEAR.filter(lambda name: MEANT[name] in ({Outcome.FIT}, {Outcome.REFER}))


@settings(max_examples=30)
@given(NOTHING_TO_SET, st.sampled_from([Depth.BENCH, Depth.WORK_ORDER]), st.integers(0, 3),
       st.integers(0, 10**6))  # fmt: skip
def test_a_careful_job_loses_nothing_by_more_safe_acts(family, depth, number, dice):
    """No element falls, nothing critical comes up; where a screw is locked the dice would differ."""
    case = drawn(family, depth, number)
    plain = grade_evidence(worked(case, "careful"))
    more = grade_evidence(worked(case, "careful", random.Random(dice)))

    assert more.standing is plain.standing is Standing.RIGHT
    assert more.critical == ()
    assert not lowered(plain, more)


def lowered(plain: CaseGrade, more: CaseGrade) -> list[str]:
    """Return the elements that fell, measuring apart: there each reading is a new draw."""
    after = {one.id: one.score for one in more.elements}
    return [
        one.id for one in plain.elements
        if one.channel != "M" and after.get(one.id, one.score) < one.score
    ]  # fmt: skip


@settings(max_examples=60)
@given(st.lists(st.tuples(FAMILY, HABIT, DEPTH, st.integers(0, 3)), min_size=1, max_size=4))
def test_a_critical_error_never_ends_competent(sat):
    """Whatever else was done well, and however generous the rule for decisions."""
    grades = [
        grade_evidence(worked(drawn(family, depth, number), habit)).to_json()
        for family, habit, depth, number in sat
    ]
    outcome = judge_sitting(grades, len(grades), enough=lambda right, made: True)

    if any(grade["critical"] for grade in grades):
        assert outcome["outcome"] != COMPETENT
    assert outcome["critical"] == sum(len(grade["critical"]) for grade in grades)


def scores(grade: CaseGrade) -> dict[str, object]:
    """Return what a grade is, without the numbers of steps in its lines."""
    return {
        "standing": grade.standing,
        "marks": grade.marks,
        "scores": {one.id: one.score for one in grade.elements},
        "critical": {one.code for one in grade.critical},
        "named": {one.name for one in grade.misconceptions},
        "overlooked": set(grade.overlooked),
    }


@settings(max_examples=40)
@given(FAMILY, st.integers(0, 3), st.permutations(LOOKS), st.permutations(range(8)))
def test_the_order_of_irrelevant_acts_does_not_matter(family, number, looks, places):
    """In which order one looks, and where round the rim one begins to write."""
    case = drawn(family, Depth.BENCH, number)
    steps = worked(case, "careful").steps
    seen = [s.action for s in steps if s.action.kind == "look"]
    written = [s.action for s in steps if s.action.kind == "write_gap"]
    rest = [s.action for s in steps if s.action.kind not in {"look", "write_gap", "decide"}]
    # Every leaf first, then all the lines: the hand is the same, whatever is written when.
    written = [written[place] for place in places if place < len(written)]
    plain = sorted(seen, key=lambda one: one.at)
    mixed = sorted(seen, key=lambda one: looks.index(one.at) if one.at in looks else 99)
    end = [steps[-1].action]
    in_line = sorted(written, key=lambda one: one.angle_deg)

    first = grade_evidence(do_all(case, [*plain, *rest, *in_line, *end]))
    second = grade_evidence(do_all(case, [*mixed, *rest, *written, *end]))

    assert scores(first) == scores(second)


def unsafe(evidence: Evidence) -> bool:
    """Return whether a hoist went back with a brake that nobody may run: looked at from outside."""
    state, setup = evidence.end, evidence.setup
    if not state.into_service:
        return False
    gap = gap_now(setup, state)
    return (
        bool(loose_locks(setup, state))
        or holding_ratio_now(setup, state) < STATIC_TEST
        or state.brake.disc.thinnest_mm < setup.size.disc.min_mm
        or max(gap.round_mm(360)) > setup.size.gap.max_mm
    )


@settings(max_examples=150)
@given(any_.cases(), any_.action_lists())
def test_no_random_work_that_leaves_an_unsafe_brake_is_right(case, actions):
    """Any acts at all, then closed and handed over."""
    acts = [one for one in actions if one.kind != "hand_over"]
    evidence = do_all(case, [*acts, do.Isolate(), *close_up(), *INTO_SERVICE])
    grade = grade_evidence(evidence)

    if unsafe(evidence):
        assert grade.standing in {Standing.NOT_YET, Standing.NO_VERDICT}
        assert judge_sitting([grade.to_json()], 1)["outcome"] != COMPETENT


def mutant(rng: random.Random, number: int) -> Evidence:
    """Return a careful job gone wrong: steps left out, another decision, other turns, weak locks."""
    family = rng.choice(sorted(FAMILIES))
    case = drawn(family, Depth.WORK_ORDER, number % 5)
    actions = [s.action for s in worked(case, "careful").steps if s.action.kind != "hand_over"]
    for _ in range(rng.randint(0, 3)):
        del actions[rng.randrange(len(actions))]
    if rng.random() < 0.6:
        row, outcome = case.size.name, rng.choice(["fit", "adjust", "replace", "refer"])
        actions = [do.Decide(outcome, row) if a.kind == "decide" else a for a in actions]
    if rng.random() < 0.4:
        by = rng.choice([-90.0, 60.0, 200.0])
        actions = [do.TurnScrew(a.screw, by) if a.kind == "turn_screw" else a for a in actions]
    if rng.random() < 0.3:
        weak = do.TightenLock(rng.randint(1, 3), 0.5 * case.size.screws.retaining_torque_nm)
        actions.insert(rng.randrange(len(actions)), weak)
    return do_all(case, [*actions, *close_up(), *INTO_SERVICE])


@pytest.mark.long
def test_many_careful_jobs_gone_wrong_leave_an_unsafe_brake_and_none_is_right():
    """The law above is not empty: of 300 mutated careful jobs at least 60 end unsafe in service."""
    rng = random.Random(20)  # a fixed search, so that the counts below hold every time
    ended = []
    for number in range(300):
        evidence = mutant(rng, number)
        if unsafe(evidence):
            grade = grade_evidence(evidence)
            ended.append({one.code for one in grade.critical})
            assert grade.standing in {Standing.NOT_YET, Standing.NO_VERDICT}

    assert len(ended) >= 60
    assert len({frozenset(codes) for codes in ended}) >= 8


# ---- the grade as a function of case and log ----


def session_of(family: str, depth: Depth, habit: str = "careful") -> tuple[Case, Session]:
    case = drawn(family, depth, 0)
    return case, any_.worked(case, habit)


@pytest.mark.parametrize("depth", list(Depth))
def test_grading_a_log_is_grading_what_was_recorded(depth):
    """A replay of the log, also through text, gives the same grade as the recorder, every line."""
    case, session = session_of("gap too large", depth)
    texts = [json.dumps([e.number, dict(e.action), dict(e.observation)]) for e in session.events]
    reread = [Event(*json.loads(text)) for text in texts]
    recorded = grade_evidence(worked(case, "careful")).to_json()

    assert grade_case(case, session.events).to_json() == recorded
    assert grade_case(case, reread).to_json() == recorded
    json.dumps(recorded, allow_nan=False)


@settings(max_examples=40)
@given(st.data())
def test_a_log_that_cannot_be_read_is_refused_with_the_number_of_its_line(data):
    """No observation, or an unknown action; lines counted from 1 as shown."""
    case, session = session_of("gap too large", Depth.WORK_ORDER)
    events = list(session.events)
    place = data.draw(st.integers(0, len(events) - 1))
    event = events[place]
    told = dict(event.observation)
    events[place] = data.draw(
        st.sampled_from(
            [
                Event(place, event.action, {}),
                Event(place, {"kind": "no_such_thing"}, told),
            ]
        )
    )

    with pytest.raises(AlteredLogError) as refused:
        gather(case, events)
    assert refused.value.line == place + 1
    assert f"line {place + 1} of the log" in altered_words(refused.value.code, place + 1)


def test_the_log_of_another_brake_is_noticed_with_both_values():
    """A careful log does not come out of the next case; what was seen is what the log says."""
    _, session = session_of("gap too large", Depth.WORK_ORDER)
    evidence = gather(drawn("gap too large", Depth.WORK_ORDER, 1), session.events)

    assert evidence.notices
    assert all(one.kept != one.today for one in evidence.notices)
    assert [step.observation.to_json() for step in evidence.steps] == [
        dict(event.observation) for event in session.events
    ]


@pytest.mark.parametrize("depth", list(Depth))
@pytest.mark.parametrize("habit", ["careful", "worn-disc-kept", "parts-in-the-wrong-order"])
def test_a_kept_grade_holds_no_hidden_number(habit, depth):
    """No number in it lies within half a thousandth of a true gap, disc, height or dust."""
    for family in ("gap too large", "gap-tilted", "disc worn", "oiled"):
        evidence = worked(drawn(family, depth, 0), habit)
        kept = grade_evidence(evidence).to_json()
        for scored in kept["elements"]:
            del scored["score"]  # a share of marks, and no length
        told = {abs(float(found)) for found in re.findall(r"-?\d+\.\d+", json.dumps(kept))}
        condition = evidence.case.condition
        gaps = [gap_now(evidence.setup, state) for state in (evidence.start, evidence.end)]
        hidden = [condition.disc.thickness_mm, condition.dust_mm, *condition.screw_height_mm]
        hidden += [gap.at_mm(15.0 * place) for gap in gaps for place in range(24)]
        hidden += [gap.plane.mean_mm for gap in gaps]
        hidden = [h for h in hidden if abs(h - round(h, 2)) > 0.001]

        assert hidden
        assert [h for h in hidden if any(abs(t - h) < 0.0005 for t in told)] == []
