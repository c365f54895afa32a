"""How a virtual candidate works: the careful one, one for each misconception, and mixtures."""

from collections.abc import Mapping
from dataclasses import dataclass, field, replace
from typing import Any, Literal

from quizzes.cases.rounds import EIGHT, FOUR
from widgets.brake.draws import Draws
from widgets.brake.judgement.rules import Outcome
from widgets.brake.judgement.signs import Finding
from widgets.brake.ranges import in_range

MOST_ROUNDS = 6
# Standard uncertainties that a reading is kept inside its limit: between the 1.645 of ISO 14253-1
# and the 2 of JCGM 106 both are right.
CAREFUL_FACTOR = 1.8
# Chance that somebody with no skill at all shows one slip in one case; invented.
WORST_SLIP_CHANCE = 0.35


@dataclass(frozen=True, slots=True)
class Habits:
    """How a candidate works; the defaults are the careful one's."""

    lands_load: bool = True
    isolates: bool = True
    proves_dead: bool = True
    cleans: Literal["vacuum", "damp_wipe", "air_blast", "dry_brush", "solvent"] | None = "vacuum"
    places: tuple[float, ...] = EIGHT
    disc_places: tuple[float, ...] = FOUR
    disc_tool: Literal["caliper", "rule"] = "caliper"
    disc_by_mean: bool = False
    fine: bool = True
    leaf_by_leaf: bool = False
    step_of: int = 1
    step_is_exact: bool = False
    hand: Literal["soft", "forced"] = "soft"
    gauges_energised: bool = False
    invents_readings: bool = False
    rounds: int = MOST_ROUNDS
    row_below: bool = False
    heeds_signs: bool = True
    keeps_worn_disc: bool = False
    looks_ahead: bool = True
    always: Outcome | None = None
    factor: float = CAREFUL_FACTOR
    blind_to: frozenset[Finding] = frozenset()
    blind_to_signs: frozenset[str] = frozenset()
    instead_of: Mapping[Outcome, Outcome] = field(default_factory=dict)
    hides: Literal["", "gap unwritten", "gap as good", "disc unwritten", "disc as good"] = ""
    first_drag: bool = False
    disc_copied: bool = False
    disc_first: bool = False
    each_screw: bool = False
    measures_again: bool = True
    equal_turns: bool = False
    torque_share: float = 1.0
    order_of_parts: bool = True
    proves: bool = True
    turns_locked_off: bool = True
    closes_up: bool = True
    heeds_authority: bool = True
    keeps_away: bool = True
    checks_tools: bool = True
    gives_up: bool = True
    lets_cool: bool = True
    heeds_design: bool = True
    each_brake: bool = True
    heeds_water: bool = True
    doubts_records: bool = True


CAREFUL = Habits()

# One slip for each misconception that the grading names, by the same name.
SLIPS: Mapping[str, Mapping[str, Any]] = {
    "one-place-only": {"places": (0.0,)},
    "mean-disc-not-least": {"disc_by_mean": True},
    "wrong-row": {"row_below": True},
    "not-measured-again": {"measures_again": False},
    "equal-turns-on-a-tilted-gap": {"equal_turns": True},
    "gap-judged-without-the-disc": {"disc_places": ()},
    "measured-energised": {"gauges_energised": True, "rounds": 1},
    "step-taken-as-exact": {"fine": False, "step_is_exact": True},
    "leaf-forced": {"hand": "forced"},
    "measured-through-dust": {"cleans": None},
    "dust-blown-out": {"cleans": "air_blast"},
    "good-disc-replaced": {"always": Outcome.REPLACE},
    "normal-gap-means-good-brake": {"heeds_signs": False},
    "isolation-skipped": {"isolates": False},
    "load-left-hanging": {"lands_load": False},
    "not-proved-dead": {"proves_dead": False},
    "readings-made-up": {"invents_readings": True},
    "parts-in-the-wrong-order": {"order_of_parts": False},
    "lock-not-to-torque": {"torque_share": 0.6},
    "tests-skipped": {"proves": False},
    "left-open": {"closes_up": False},
    "rule-for-the-disc": {"disc_tool": "rule"},
    "worn-disc-kept": {"keeps_worn_disc": True},
    "nothing-is-ever-wrong": {"always": Outcome.FIT},
    "every-brake-is-adjusted": {"always": Outcome.ADJUST},
    "solvent-on-the-lining": {"cleans": "solvent"},
}
HABITS: Mapping[str, Habits] = {
    "careful": CAREFUL,
    **{name: replace(CAREFUL, **changes) for name, changes in SLIPS.items()},
}


def slips_drawn(skill: float, draws: Draws) -> tuple[str, ...]:
    """Return the slips that somebody of a skill shows in one case.

    Parameters
    ----------
    skill : float
        0 to 1, dimensionless: at 1 nothing slips, at 0 each slip has a chance of
        `WORST_SLIP_CHANCE`; between, this times the cube of what is lacking: somebody of
        0.9 slips once in five sittings of the full form, of 0.8 about twice in each.
    draws : Draws
        Dice of this person at this case.

    Raises
    ------
    ValueError
        If `skill` is not 0 to 1.
    """
    chance = WORST_SLIP_CHANCE * (1.0 - in_range("skill", skill, "", low=0, high=1)) ** 3
    taken: list[str] = []
    changed: set[str] = set()
    for name, changes in SLIPS.items():
        # Two slips that pull the same lever cannot both show; the first drawn stands.
        if draws.uniform("slip", name) < chance and changed.isdisjoint(changes):
            taken.append(name)
            changed |= set(changes)
    return tuple(taken)


def with_slips(*names: str) -> Habits:
    """Return the habits of somebody careful but for the named slips.

    Raises
    ------
    KeyError
        If a slip has no such name.
    """
    return replace(CAREFUL, **changes_of(*names))


def changes_of(*names: str) -> dict[str, Any]:
    """Return what the named slips change together; a `KeyError` if there is none of a name."""
    changes: dict[str, Any] = {}
    for name in names:
        changes |= SLIPS[name]
    return changes


def mixed(skill: float, draws: Draws) -> Habits:
    """Return the habits of somebody of a skill at one case. Arguments: as for `slips_drawn`."""
    return with_slips(*slips_drawn(skill, draws))
