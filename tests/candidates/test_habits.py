"""Virtual candidates with one slip each, and mixtures: the slip shows, and every job ends."""

from dataclasses import replace
from itertools import product

import pytest
from hypothesis import given
from hypothesis import strategies as st

from quizzes.candidates.habits import CAREFUL, SLIPS, mixed, slips_drawn, with_slips
from quizzes.candidates.worker import HABITS, work
from quizzes.cases.case import Depth
from quizzes.cases.drawing import draw_case
from quizzes.cases.families import FAMILIES
from tests import strategies as any_
from widgets.bench.machine import Bench
from widgets.bench.setup import TASKS
from widgets.bench.standing import gap_now
from widgets.brake.draws import Draws

SIZES = any_.SHEET.sizes
MOST_ACTS = 900
# The names fixed between cases and grading: each misconception that grading names.
NAMES = [
    "one-place-only",
    "mean-disc-not-least",
    "wrong-row",
    "not-measured-again",
    "equal-turns-on-a-tilted-gap",
    "gap-judged-without-the-disc",
    "measured-energised",
    "step-taken-as-exact",
    "leaf-forced",
    "measured-through-dust",
    "dust-blown-out",
    "good-disc-replaced",
    "normal-gap-means-good-brake",
    "isolation-skipped",
    "load-left-hanging",
    "not-proved-dead",
    "readings-made-up",
    "parts-in-the-wrong-order",
    "lock-not-to-torque",
    "tests-skipped",
    "left-open",
    "rule-for-the-disc",
    "worn-disc-kept",
    "nothing-is-ever-wrong",
    "every-brake-is-adjusted",
    "solvent-on-the-lining",
]
# Those whose ways differ most; the others at night.
SOON = {"careful", "every-brake-is-adjusted", "leaf-forced", "parts-in-the-wrong-order"}


def run(family, habits, depth=Depth.WORK_ORDER, size=SIZES[2], seed=bytes(range(16))):
    """Return what was done (with what was seen) and the bench at the end."""
    case = draw_case(family, size, seed, depth)
    order = replace(case.order, may=TASKS, ends_with="static")  # what others do shows nothing here
    bench, done = Bench(size, case.condition, seed, order), []

    def act(action):
        observation = bench.act(action)
        done.append((action, observation))
        return observation

    work(act, any_.SHEET, habits, order)
    return done, bench


def of_kind(done, kind):
    return [action for action, seen in done if action.kind == kind and seen.done]


def test_there_is_one_habit_for_each_misconception_and_the_careful_one():
    """By the names that grading uses, and no other."""
    assert set(HABITS) == {"careful", *NAMES}
    assert HABITS["careful"] == CAREFUL
    assert all(habits != CAREFUL for name, habits in HABITS.items() if name != "careful")


@pytest.mark.long
@pytest.mark.parametrize(
    "habit",
    [pytest.param(habit, marks=() if habit in SOON else pytest.mark.overnight) for habit in HABITS],
)
def test_every_candidate_finishes_every_family_and_depth(habit):
    """Handed over or decided, within a bounded number of acts, whatever is wrong with it."""
    for number, (family, kind) in enumerate(FAMILIES.items()):
        for depth in sorted(kind.depths):
            done, bench = run(family, HABITS[habit], depth, SIZES[number % 5])
            assert bench.state.handed_over, (family, depth)
            assert len(done) < MOST_ACTS, (family, depth)


@given(st.floats(0, 1), any_.SEEDS, st.sampled_from(sorted(FAMILIES)), st.sampled_from(Depth))
def test_a_mixture_of_slips_finishes_too(skill, seed, family, depth):
    """Any skill, any family, any depth."""
    if depth in FAMILIES[family].depths:
        _, bench = run(family, mixed(skill, Draws(seed)), depth, seed=seed)
        assert bench.state.handed_over


def no_isolating(done, _):
    return not of_kind(done, "isolate") and not of_kind(done, "prove_dead")


# What shows in the log of one case for each slip that a log can show: family, and the sign.
SHOWN = {
    "one-place-only": ("in limits", lambda done, _: {a.angle_deg for a in of_kind(done, "write_gap")} == {0.0}),
    "isolation-skipped": ("in limits", no_isolating),
    "load-left-hanging": ("in limits", lambda done, _: not of_kind(done, "land_load")),
    "not-proved-dead": ("in limits", lambda done, _: not of_kind(done, "prove_dead")),
    "leaf-forced": ("in limits", lambda done, _: {a.hand for a in of_kind(done, "gauge_gap")} == {"forced"}),
    "step-taken-as-exact": ("in limits", lambda done, _: all(round(a.no_go_mm - a.go_mm, 2) == 0.05 for a in of_kind(done, "write_gap"))),
    "dust-blown-out": ("in limits", lambda done, _: of_kind(done, "clean")[0].method == "air_blast"),
    "measured-through-dust": ("in limits", lambda done, _: not of_kind(done, "clean")),
    "solvent-on-the-lining": ("in limits", lambda done, bench: bench.state.brake.surface == "oiled"),
    "rule-for-the-disc": ("in limits", lambda done, _: {a.tool for a in of_kind(done, "write_disc")} == {"rule"}),
    "gap-judged-without-the-disc": ("in limits", lambda done, _: not of_kind(done, "measure_disc")),
    "wrong-row": ("in limits", lambda done, _: of_kind(done, "decide")[0].row == "Dogwood-85"),
    "tests-skipped": ("in limits", lambda done, _: not of_kind(done, "test_hold")),
    "left-open": ("in limits", lambda done, bench: bench.state.into_service and not bench.state.cover_on),
    "good-disc-replaced": ("gap too large", lambda done, _: of_kind(done, "decide")[0].outcome == "replace"),
    "nothing-is-ever-wrong": ("gap too large", lambda done, _: of_kind(done, "decide")[0].outcome == "fit"),
    "every-brake-is-adjusted": ("in limits", lambda done, _: of_kind(done, "decide")[0].outcome == "adjust"),
    "worn-disc-kept": ("disc worn", lambda done, _: of_kind(done, "decide")[0].outcome == "adjust"),
    "normal-gap-means-good-brake": ("spring-broken", lambda done, bench: bench.state.into_service),
    "not-measured-again": ("gap too large", lambda done, _: done_after(done, "tighten_lock", "write_gap") == 0),
    "lock-not-to-torque": ("gap too large", lambda done, bench: max(bench.state.lock_nm) < 0.7 * SIZES[2].screws.retaining_torque_nm),
    "measured-energised": ("in limits", lambda done, _: all(a.go_mm == 0 for a in of_kind(done, "write_gap"))),
    "parts-in-the-wrong-order": ("glazed", lambda done, _: any(seen.alarm == "body-drops" for _, seen in done)),
    "readings-made-up": ("in limits", lambda done, _: len({a.angle_deg for a in of_kind(done, "gauge_gap")}) == 3 < len({a.angle_deg for a in of_kind(done, "write_gap")})),
}  # fmt: skip


def done_after(done, last_of, then):
    """Return how many acts of one kind came after the last of another."""
    kinds = [action.kind for action, _ in done]
    return kinds[len(kinds) - kinds[::-1].index(last_of) :].count(then)


@pytest.mark.parametrize("name", SHOWN)
def test_a_slip_shows_in_the_log(name):
    """Whoever has it does it; the careful one, on the same brake, does not."""
    family, shows = SHOWN[name]

    assert shows(*run(family, HABITS[name]))
    assert not shows(*run(family, CAREFUL))


def test_equal_turns_leave_a_tilt_as_it_was():
    """The three screws are turned alike, and the brake is left uneven."""
    done, bench = run("gap-tilted", HABITS["equal-turns-on-a-tilted-gap"])
    by_screw = [
        sum(a.turn_deg for a in of_kind(done, "turn_screw") if a.screw == n) for n in (1, 2, 3)
    ]

    assert max(by_screw) - min(by_screw) < 1.0
    assert 2 * gap_now(bench.setup, bench.state).plane.tilt_mm > SIZES[2].gap.evenness_mm


def test_a_mean_passes_a_wedge():
    """Its thin side is below the least, its mean is not; the decision is not to replace it."""
    for size, number in product(SIZES, range(4)):
        seed = bytes([number]) * 16
        done, _ = run("taper", HABITS["mean-disc-not-least"], Depth.BENCH, size, seed)
        careful, _ = run("taper", CAREFUL, Depth.BENCH, size, seed)
        assert of_kind(done, "decide")[0].outcome != "replace"
        assert of_kind(careful, "decide")[0].outcome == "replace"


@given(any_.SEEDS)
def test_somebody_perfect_never_slips(seed):
    """At skill 1 there is no slip; the same dice give the same slips."""
    assert slips_drawn(1.0, Draws(seed)) == ()
    assert mixed(1.0, Draws(seed)) == CAREFUL
    assert slips_drawn(0.3, Draws(seed)) == slips_drawn(0.3, Draws(seed))


@given(any_.SEEDS, st.floats(0, 1), st.floats(0, 1))
def test_less_skill_never_means_fewer_slips_tried(seed, one, other):
    """With the same dice: what slips at the higher skill has its chance at the lower one too."""
    low, high = sorted((one, other))
    if not slips_drawn(low, Draws(seed)):
        assert not slips_drawn(high, Draws(seed))


def test_a_skill_beyond_its_range_and_an_unknown_slip_are_refused():
    """0 to 1, and the names of the scheme."""
    with pytest.raises(ValueError, match="skill must be"):
        slips_drawn(1.5, Draws(bytes(16)))
    with pytest.raises(KeyError):
        with_slips("clumsy")
    assert set(SLIPS) == set(NAMES)
