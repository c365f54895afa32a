"""Jobs done at the bench with nobody there: what the worked numbers of the lessons come from.

A careful virtual candidate does the work; a lesson prints the result.
"""

import math
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, replace

from quizzes.candidates.adjusting import lock, slacken
from quizzes.candidates.habits import CAREFUL
from quizzes.candidates.job import Act, Job
from quizzes.candidates.measuring import gauge_round
from quizzes.candidates.replacing import replace_disc
from quizzes.candidates.setting import changes_mm, turn, turns_deg
from quizzes.cases.case import Case
from quizzes.desks.trainer.staging import Staging
from quizzes.sittings.in_force import sheet_in_force
from widgets.bench import actions as do
from widgets.bench.handlers.proving import holding_ratio_now
from widgets.bench.observed import Observation
from widgets.bench.session import Session
from widgets.bench.setup import Start
from widgets.bench.standing import gap_now
from widgets.brake.gap.levelling import ScrewTurn, levelling_turns, turn_for_change_deg
from widgets.brake.gap.profile import fit_plane
from widgets.brake.judgement import COVERAGE_FACTOR
from widgets.brake.judgement.rules import Reading
from widgets.brake.sizes.size import BrakeSize

LESSON_WORD = "lesson"


def staged(size: BrakeSize, *fault_ids: str, start: Start = Start.OPEN) -> Case:
    """Return the brake of a lesson: always the same one for a size, its faults and its start."""
    return Staging(size.name, fault_ids, LESSON_WORD, start).case(sheet_in_force().sheet)


# ---- lesson 6: setting a gap ----


@dataclass(frozen=True, slots=True)
class SettingRound:
    """One round of readings while a gap is set: what was done before it, and what was read."""

    words: str
    readings: tuple[Reading, ...]

    @property
    def narrowest_mm(self) -> float:
        """Least reading, mm."""
        return min(reading.value_mm for reading in self.readings)

    @property
    def widest_mm(self) -> float:
        """Largest reading, mm."""
        return max(reading.value_mm for reading in self.readings)

    @property
    def spread_mm(self) -> float:
        """Widest less narrowest, mm."""
        return self.widest_mm - self.narrowest_mm


def level_a_tilted_gap(size: BrakeSize) -> tuple[SettingRound, ...]:
    """Return the rounds of readings of somebody who sets a tilted gap and locks it.

    Parameters
    ----------
    size : BrakeSize
        A size of the sheet in force.

    Returns
    -------
    tuple of SettingRound
        As found; slack, nothing turned; turned by the first readings, still slack; the same
        locked; and locked again when it was turned by what was still off.
    """
    case = staged(size, "gap-tilted")
    job = _job(case, Session(case.setup()).act)
    rounds = [_gauged(job, "as found, locked")]
    by_deg = turns_deg(job, changes_mm(job))
    slacken(job)
    rounds.append(_gauged(job, "slack, nothing turned yet"))
    turn(job, by_deg)
    rounds.append(_gauged(job, "turned by the first readings, still slack"))
    lock(job)
    rounds.append(_gauged(job, "the same, locked"))
    slacken(job)
    turn(job, turns_deg(job, changes_mm(job)))
    lock(job)
    rounds.append(_gauged(job, "corrected, locked again"))
    return tuple(rounds)


def turns_with_doubt(
    size: BrakeSize, readings: Sequence[Reading]
) -> tuple[tuple[ScrewTurn, float], ...]:
    """Return what each hollow screw must do, and the expanded uncertainty of that, degrees.

    Raises
    ------
    ValueError
        If the readings are too few for a plane.

    Notes
    -----
    u(h) = u √(1/n + 2/(n ρ²)) for n equal steps round the rim, at every screw
    alike. Source: propagation through the least-squares plane, JCGM 100.
    """
    screws, count = size.screws, len(readings)
    u_mm = math.sqrt(sum(reading.u_mm**2 for reading in readings) / max(count, 1))
    angles_deg = [reading.angle_deg for reading in readings]
    plane = fit_plane(angles_deg, [reading.value_mm for reading in readings], u_mm).plane
    height_u_mm = u_mm * math.sqrt(1 / count + 2 / (count * screws.radius_ratio**2))
    doubt_deg = turn_for_change_deg(COVERAGE_FACTOR * height_u_mm, screws.pitch_mm)
    turns = levelling_turns(plane, size.gap.setting_mm, screws.radius_ratio, screws.pitch_mm)
    return tuple((one, doubt_deg) for one in turns)


def gauged_twice(size: BrakeSize) -> tuple[tuple[Reading, ...], tuple[Reading, ...]]:
    """Return two rounds of readings of a brake with a wedge of a disc, half a turn apart."""
    case = staged(size, "taper")
    session = Session(case.setup())
    job = _job(case, session.act)
    first = _gauged(job, "as found").readings
    for wish in (do.Energise("test"), do.TurnShaft(180.0), do.DeEnergise()):
        session.act(wish)
    return first, _gauged(job, "turned by half a turn").readings


def _gauged(job: Job, words: str) -> SettingRound:
    gauge_round(job)
    return SettingRound(words, tuple(job.gaps))


def _job(case: Case, act: Act, *, body_on: bool = True) -> Job:
    """Return a careful candidate at a brake that is safe and open."""
    sheet = sheet_in_force().sheet
    return Job(act, sheet, CAREFUL, case.order, case.size, case.size,
               locked_off=True, body_on=body_on)  # fmt: skip


# ---- lesson 7: what a mistake in fitting does ----


def _turned_disc(act: Act, wish: do.FitDisc) -> Observation:
    return act(do.FitDisc(wish.part, reversed=True))


def _no_plate(act: Act, wish: do.FitDisc) -> Observation:
    act(do.RemoveWearPlate())
    return act(wish)


def _turned_plate(act: Act, wish: do.FitDisc) -> Observation:
    act(do.RemoveWearPlate())
    act(do.FitWearPlate(smooth_to_disc=False))
    return act(wish)


def _right(act: Act, wish: do.FitDisc) -> Observation:
    return act(wish)


_FITTINGS: Mapping[str, Callable[[Act, do.FitDisc], Observation]] = {
    "as it should be": _right,
    "disc turned round": _turned_disc,
    "wear plate left off": _no_plate,
    "wear plate turned round": _turned_plate,
}
FITTINGS = tuple(_FITTINGS)


@dataclass(frozen=True, slots=True)
class Fitted:
    """A brake with a new disc in it, put together by careful hands but for one thing.

    Attributes
    ----------
    words : str
        What was done.
    together_mm : float
        Mean gap when the body is on and nothing has been turned, mm; below
        zero the parts are that much too thick for the screws to meet.
    set_mm, spread_mm : float
        Mean gap and widest less narrowest when it has been set and locked, mm.
    unbedded, bedded : float
        Braking torque over that of the rated load, dimensionless, as the gap
        is set: before the lining has been bedded in, and after.
    shaft, smells, holds
        How the shaft turned by hand with the brake released; whether it smelt
        after a run without load; whether it held the test load.
    """

    words: str
    together_mm: float
    set_mm: float
    spread_mm: float
    unbedded: float
    bedded: float
    shaft: str
    smells: bool
    holds: bool


def fit_a_disc(size: BrakeSize, fitting: str = FITTINGS[0]) -> Fitted:
    """Return what comes of fitting a new disc in one of the ways of `FITTINGS`.

    Parameters
    ----------
    size : BrakeSize
        A size of the sheet in force, with a wear plate.
    fitting : str
        A name in `FITTINGS`.

    Raises
    ------
    ValueError
        If there is no such way, or the size has no wear plate to be wrong.
    """
    if fitting not in _FITTINGS:
        raise ValueError(f"fitting must be one of {', '.join(FITTINGS)}, got {fitting!r:.40}")
    if "plate" in fitting and size.wear_plate_mm == 0:
        raise ValueError(f"{size.name} has no wear plate")
    case = staged(size, "disc-spent-gap-set", start=Start.BODY_OFF)
    session = Session(case.setup())
    together_mm: list[float] = []

    def act(wish: do.Action) -> Observation:
        if isinstance(wish, do.FitDisc):
            return _FITTINGS[fitting](session.act, wish)
        if isinstance(wish, do.TurnScrew) and not together_mm:
            together_mm.append(gap_now(session.setup, session.state).plane.mean_mm)
        return session.act(wish)

    replace_disc(_job(case, act, body_on=False))
    gap, setup, state = gap_now(session.setup, session.state), session.setup, session.state
    bedded = state._replace(brake=replace(state.brake, surface="bedded"))
    shaft, smells, holds = _proved(session)
    return Fitted(
        words=fitting,
        together_mm=together_mm[0],
        set_mm=gap.plane.mean_mm,
        spread_mm=max(gap.round_mm()) - min(gap.round_mm()),
        unbedded=holding_ratio_now(setup, state),
        bedded=holding_ratio_now(setup, bedded),
        shaft=shaft,
        smells=smells,
        holds=holds,
    )


_CLOSING = (
    do.Isolate(), do.CloseBox(), do.RefitSeal("old"), do.RefitFan(), do.RefitRing(),
    do.RefitCover(),
    do.RestoreSupply(), do.BedIn(),
)  # fmt: skip


def _proved(session: Session) -> tuple[str, bool, bool]:
    """Return how the shaft turns, whether a run smells, and whether the test load is held."""
    session.act(do.Energise("test"))
    shaft = str(session.act(do.TurnShaft(180.0)).facts.get("turns", "not"))
    for closing in (do.DeEnergise(), *_CLOSING):
        session.act(closing)
    run = session.act(do.TestRun()).facts.get("symptoms", ())
    held = session.act(do.TestHold()).facts.get("holds")
    return shaft, "smell-of-lining" in run, held is True
