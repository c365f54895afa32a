"""Virtual candidates: programs that work the bench through its actions and nothing else.

Each sees what a person sees: observations, its own notes, the limits sheet.
They fill the demo class, and they are the measure of the grading.
"""

from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace

from widgets.bench import actions as do
from widgets.bench.observed import Observation
from widgets.brake.gap import fit_plane
from widgets.brake.levelling import levelling_turns
from widgets.brake.rules import Outcome, Reading, conclude
from widgets.brake.sheet import LimitsSheet
from widgets.brake.size import BrakeSize
from widgets.instruments import caliper
from widgets.instruments.feeler import ALL_LEAVES_MM, GapReading, marks_for

Act = Callable[[do.Action], Observation]
EIGHT = tuple(45.0 * place for place in range(8))
FOUR = (0.0, 90.0, 180.0, 270.0)
COARSE_MM = tuple(step / 20 for step in range(1, 41))  # 0.05 to 2.00 in steps of one leaf
MOST_ROUNDS = 6
GOOD_ENOUGH = 0.5  # of the evenness limit, where a careful person stops adjusting
DISC_U_MM = caliper.budget().combined


@dataclass(frozen=True, slots=True)
class Habits:
    """How a candidate works; the defaults are the careful one's."""

    lands_load: bool = True
    isolates: bool = True
    proves_dead: bool = True
    cleans: str | None = "vacuum"
    places: tuple[float, ...] = EIGHT
    disc_places: tuple[float, ...] = FOUR
    fine: bool = True
    rounds: int = MOST_ROUNDS
    row_below: bool = False
    always: Outcome | None = None
    measures_again: bool = True
    equal_turns: bool = False
    proves_release: bool = True
    invents_readings: bool = False
    closes_up: bool = True


CAREFUL = Habits()
HABITS: Mapping[str, Habits] = {
    "careful": CAREFUL,
    "one place only": replace(CAREFUL, places=(0.0,)),
    "wrong row": replace(CAREFUL, row_below=True),
    "does not measure again": replace(CAREFUL, measures_again=False),
    "replaces whatever is there": replace(CAREFUL, always=Outcome.REPLACE),
    "passes whatever is there": replace(CAREFUL, always=Outcome.FIT),
    "adjusts whatever is there": replace(CAREFUL, always=Outcome.ADJUST),
    "skips the isolation": replace(CAREFUL, isolates=False),
    "leaves the load hanging": replace(CAREFUL, lands_load=False),
    "blows the dust out": replace(CAREFUL, cleans="air_blast"),
    "measures through dust": replace(CAREFUL, cleans=None),
    "does not measure the disc": replace(CAREFUL, disc_places=()),
    "makes readings up": replace(CAREFUL, invents_readings=True),
    "skips the tests": replace(CAREFUL, proves_release=False),
    "leaves it open": replace(CAREFUL, closes_up=False),
}


def work(act: Act, sheet: LimitsSheet, habits: Habits = CAREFUL) -> None:
    """Do one whole job through `act`, from making safe to handing over."""
    _Job(act, sheet, habits).do()


class _Job:
    def __init__(self, act: Act, sheet: LimitsSheet, habits: Habits) -> None:
        self.act, self.sheet, self.habits = act, sheet, habits

    def do(self) -> None:
        self._make_safe()
        self._open()
        row = self._row()
        decision = self._decide(row)
        if decision is Outcome.ADJUST:
            self._adjust(row)
        self._close_and_hand_over(into_service=decision in {Outcome.FIT, Outcome.ADJUST})

    def _make_safe(self) -> None:
        if self.habits.lands_load:
            self.act(do.LandLoad())
        if self.habits.isolates:
            self._isolate()

    def _isolate(self) -> None:
        self.act(do.Isolate())
        if self.habits.proves_dead:
            self.act(do.ProveDead())

    def _open(self) -> None:
        for action in (do.RemoveCover(), do.RemoveFan(), do.RemoveSeal()):
            self.act(action)
        if self.habits.cleans:
            self.act(do.Clean(method=self.habits.cleans))  # type: ignore[arg-type]

    def _row(self) -> BrakeSize:
        """Return the limits-sheet row that the candidate goes by."""
        named = self.act(do.ReadPlate()).seen["size"]
        sizes = self.sheet.sizes
        index = [size.name for size in sizes].index(named)
        return sizes[(index + 1) % len(sizes)] if self.habits.row_below else sizes[index]

    def _decide(self, row: BrakeSize) -> Outcome:
        gaps = self._gauge_round()
        discs = [self._disc(angle_deg) for angle_deg in self.habits.disc_places]
        conclusion = conclude(row, gaps, discs or [Reading(0.0, row.disc.new_mm, DISC_U_MM)])
        decision = self.habits.always or conclusion.outcome or Outcome.REFER
        why = " ".join(conclusion.reasons)[:600]
        self.act(do.Decide(outcome=decision.value, row=row.name, why=why))
        return decision

    def _gauge_round(self) -> list[Reading]:
        return [self._gap(angle_deg) for angle_deg in self.habits.places]

    def _gap(self, angle_deg: float) -> Reading:
        if self.habits.invents_readings and angle_deg > 90:
            reading = GapReading(0.45, 0.50)
        else:
            reading = self._bracket(angle_deg)
        self.act(do.WriteGap(angle_deg=angle_deg, go_mm=reading.go_mm, no_go_mm=reading.no_go_mm))
        return Reading(angle_deg, reading.middle_mm, reading.uncertainty_mm)

    def _bracket(self, angle_deg: float) -> GapReading:
        """Return the thickest stack that goes and the thinnest that will not, coarse then fine."""
        go_mm, no_go_mm = self._narrowed(angle_deg, (0.0, *COARSE_MM))
        if self.habits.fine:
            steps = round((no_go_mm - go_mm) * 100)
            between = [round(go_mm + step / 100, 2) for step in range(1, steps)]
            stacks = [mm for mm in between if _leaves(mm)]
            go_mm, no_go_mm = self._narrowed(angle_deg, (go_mm, *stacks, no_go_mm))
        return GapReading(go_mm, no_go_mm, max(1, len(_leaves(no_go_mm))))

    def _narrowed(self, angle_deg: float, steps: Sequence[float]) -> tuple[float, float]:
        """Return neighbours of `steps` between which the gap lies, by halving."""
        low, high = 0, len(steps) - 1
        while high - low > 1:
            middle = (low + high) // 2
            if self._goes(angle_deg, steps[middle]):
                low = middle
            else:
                high = middle
        return steps[low], steps[high]

    def _goes(self, angle_deg: float, thickness_mm: float) -> bool:
        leaves_mm = _leaves(thickness_mm)
        seen = self.act(do.GaugeGap(angle_deg=angle_deg, leaves_mm=leaves_mm)).seen
        return bool(seen) and seen["feel"] != "will not enter"

    def _disc(self, angle_deg: float) -> Reading:
        shown_mm = self.act(do.MeasureDisc(angle_deg=angle_deg)).seen["shown_mm"]
        self.act(do.WriteDisc(angle_deg=angle_deg, value_mm=shown_mm))
        return Reading(angle_deg, shown_mm, DISC_U_MM)

    def _adjust(self, row: BrakeSize) -> None:
        """Level the gap at the setting, lock, measure again, and again while it is not good."""
        gaps = self._gauge_round()
        for _ in range(self.habits.rounds):
            self._turn(row, gaps)
            if not self.habits.measures_again:
                return
            gaps = self._gauge_round()
            if _is_set(row, gaps):
                return

    def _turn(self, row: BrakeSize, gaps: Sequence[Reading]) -> None:
        for screw in (1, 2, 3):
            self.act(do.LoosenLock(screw=screw))
        for screw, turn_deg in enumerate(self._turns_deg(row, gaps), start=1):
            self.act(do.TurnScrew(screw=screw, turn_deg=round(turn_deg, 1)))
        for screw in (1, 2, 3):
            torque_nm = row.screws.retaining_torque_nm
            self.act(do.TightenLock(screw=screw, torque_nm=torque_nm))

    def _turns_deg(self, row: BrakeSize, gaps: Sequence[Reading]) -> Iterator[float]:
        if len(gaps) < 3 or self.habits.equal_turns:
            mean_mm = sum(reading.value_mm for reading in gaps) / len(gaps)
            change = (row.gap.setting_mm - mean_mm) / row.screws.pitch_mm * 360
            yield from (change, change, change)
            return
        plane = fit_plane([r.angle_deg for r in gaps], [r.value_mm for r in gaps]).plane
        turns = levelling_turns(
            plane, row.gap.setting_mm, row.screws.radius_ratio, row.screws.pitch_mm
        )
        yield from (turn.turn_deg for turn in turns)

    def _close_and_hand_over(self, *, into_service: bool) -> None:
        if self.habits.closes_up:
            self.act(do.RefitSeal())
            self.act(do.RefitFan())
        if into_service and self.habits.proves_release:
            self._prove_release()
        if self.habits.closes_up:
            self.act(do.RefitCover())
        if into_service:
            self.act(do.RestoreSupply())
            if self.habits.proves_release:
                self.act(do.TestHold())
        else:
            self.act(do.Isolate())
        self.act(do.HandOver(into_service=into_service))

    def _prove_release(self) -> None:
        self.act(do.RestoreSupply())
        for action in (do.Energise(), do.TurnShaft(turn_deg=180.0), do.DeEnergise()):
            self.act(action)
        if self.habits.isolates:
            self._isolate()


def _leaves(thickness_mm: float) -> tuple[float, ...]:
    """Return the leaves that make a thickness, or none if no three do."""
    try:
        return marks_for(thickness_mm, ALL_LEAVES_MM)
    except ValueError:
        return ()


def _is_set(row: BrakeSize, gaps: Sequence[Reading]) -> bool:
    """Return whether readings after locking are near the setting and even enough to stop."""
    if len(gaps) < 3:
        return all(abs(r.value_mm - row.gap.setting_mm) <= r.u_mm * 3 for r in gaps)
    fit = fit_plane([r.angle_deg for r in gaps], [r.value_mm for r in gaps])
    off_mm = abs(fit.plane.mean_mm - row.gap.setting_mm)
    near = GOOD_ENOUGH * row.gap.evenness_mm
    return off_mm <= near and 2 * fit.plane.tilt_mm <= near
