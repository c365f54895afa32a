"""Hand-written jobs on brakes made to measure: what the tests of grading stand on."""

from collections.abc import Callable, Iterable, Sequence
from dataclasses import replace

from quizzes.cases.case import Case, Depth
from quizzes.grading.evidence.gathering import Evidence, Recorder
from quizzes.grading.grade import CaseGrade, grade_evidence
from tests import strategies as any_
from widgets.bench import actions as do
from widgets.bench.notes import DiscNote, GapNote, Line, ValueNote
from widgets.bench.setup import Order, Start
from widgets.bench.standing import gap_now
from widgets.brake.condition import Condition, Disc, sound_condition
from widgets.brake.gap.levelling import levelling_turns
from widgets.brake.gap.profile import Plane
from widgets.brake.judgement.remark import Remark
from widgets.brake.sizes.size import BrakeSize
from widgets.instruments.feeler import marks_for

CEDAR: BrakeSize = any_.SHEET.size("Cedar-47")
SEED = bytes(range(32))
EIGHT = tuple(45.0 * place for place in range(8))
FOUR = (0.0, 90.0, 180.0, 270.0)
LOOKS = ("outside", "fan", "leads", "seal", "dust", "edge", "screws", "lever", "springs", "hub",
         "wear_plate")  # fmt: skip


def brake(gap: Plane | float = 0.5, disc_mm: float = 10.5, **more) -> Condition:
    """Return a sound Cedar-47 (gap 0.20 / 0.30 / 0.80, disc 11.0 / 9.0), dusty, but for `more`."""
    plane = gap if isinstance(gap, Plane) else Plane(gap)
    sound = sound_condition(CEDAR, gap=plane, disc=Disc(disc_mm))
    return replace(sound, **{"dust_mm": 0.05, **more})


def work_order(condition: Condition, *faults: str) -> Case:
    """Return a case that asks for the whole job."""
    return Case("made", CEDAR, condition, SEED, "Inspect.", faults=faults)


def bench_case(condition: Condition, *faults: str) -> Case:
    """Return a case on a brake that is safe, open and clean already."""
    order = Order(start=Start.OPEN, ends_at_decision=True)
    return Case("made", CEDAR, condition, SEED, "Measure.", order, Depth.BENCH, faults)


def reading_case(
    gaps_mm: Sequence[tuple[float, float]] = ((0.50, 0.51),) * 8,
    discs_mm: Sequence[float] = (10.5,) * 4,
    lines: tuple[Line, ...] = (),
    **values: float,
) -> Case:
    """Return a case on a colleague's notes: go and no-go at eight places, disc at four."""
    order = Order(
        start=Start.NOTES,
        ends_at_decision=True,
        lines=lines,
        gap_notes=tuple(GapNote(a, *mm, 0) for a, mm in zip(EIGHT, gaps_mm, strict=True)),
        disc_notes=tuple(DiscNote(a, mm, 0) for a, mm in zip(FOUR, discs_mm, strict=True)),
        value_notes=tuple(ValueNote(what, value, 0) for what, value in values.items()),
    )
    return Case("made", CEDAR, brake(), SEED, "Decide.", order, Depth.READING)


def do_all(case: Case, actions: Iterable[do.Action]) -> Evidence:
    """Return the evidence of exactly these actions."""
    recorder = Recorder(case)
    for action in actions:
        recorder.act(action)
    return recorder.evidence()


def decided(case: Case, outcome: str, *found: str, row: str = "Cedar-47") -> CaseGrade:
    """Return the grade of a case on notes that was decided so."""
    return grade_evidence(do_all(case, [do.Decide(outcome, row, "", found)]))


def safe_and_open() -> list[do.Action]:
    """Return a careful way from the closed brake to the open, clean one."""
    return [
        do.LandLoad(), do.Look("running"), do.Look("outside"), do.Isolate(), do.OpenBox(), do.ProveDead(),
        do.RemoveCover(), do.Look("fan"), do.Look("leads"), do.RemoveRing(), do.RemoveFan(),
        do.Look("seal"), do.RemoveSeal(), do.ReadPlate(), do.Look("dust"),
        do.Clean(method="vacuum"),
    ]  # fmt: skip


def looks(*without: str) -> list[do.Action]:
    """Return looks at every part of an open brake, but for some."""
    return [do.Look(place) for place in LOOKS if place not in without]


def gauge(angle_deg: float, go: Sequence[float], no_go: Sequence[float]) -> list[do.Action]:
    """Return both stacks pushed in at a place, and the bracket written down."""
    return [
        do.GaugeGap(angle_deg, tuple(go)),
        do.GaugeGap(angle_deg, tuple(no_go)),
        do.WriteGap(angle_deg, round(sum(go), 2), round(sum(no_go), 2)),
    ]


def gauge_truly(recorder: Recorder, places: Sequence[float] = EIGHT, step_mm: float = 0.01) -> None:
    """Gauge the gap as a sure hand would: try stacks upward until one will not enter."""
    for angle_deg in places:
        step = 1
        while step * step_mm < gap_now(recorder.setup, recorder.state).at_mm(angle_deg) - 0.05:
            step += 1
        went_mm = 0.0
        while True:
            mm = round(step * step_mm, 2)
            feel = recorder.act(do.GaugeGap(angle_deg, marks_for(mm))).facts["feel"]
            if feel == "will-not-enter":
                break
            went_mm, step = mm, step + 1
        if went_mm == 0.0:
            went_mm = round(mm - step_mm, 2)
            recorder.act(do.GaugeGap(angle_deg, marks_for(went_mm)))
        recorder.act(do.WriteGap(angle_deg, went_mm, mm))


def disc_truly(recorder: Recorder, tool: str = "caliper") -> None:
    """Measure the disc at four places and write down what the scale shows."""
    for angle_deg in FOUR:
        shown_mm = recorder.act(do.MeasureDisc(angle_deg, tool)).facts["shown_mm"]
        recorder.act(do.WriteDisc(angle_deg, shown_mm, tool))


def coil_truly(recorder: Recorder) -> None:
    """Measure resistance and insulation and write them down."""
    seen = recorder.act(do.MeasureCoil("resistance")).facts
    if seen["shown_ohm"] is not None:
        recorder.act(do.WriteValue("coil_ohm", seen["shown_ohm"]))
        recorder.act(do.WriteValue("coil_c", seen["coil_c"]))
    seen = recorder.act(do.MeasureCoil("insulation")).facts
    recorder.act(do.WriteValue("insulation_mohm", seen["shown_mohm"]))


def bench_job(
    case: Case,
    outcome: str,
    *found: str,
    looked: Sequence[do.Action] | None = None,
    before: Callable[[Recorder], None] | None = None,
    places: Sequence[float] = EIGHT,
    step_mm: float = 0.01,
    row: str = "Cedar-47",
) -> CaseGrade:
    """Return the grade of a bench case measured all round and decided so."""
    return grade_evidence(
        bench_evidence(
            case,
            outcome,
            *found,
            looked=looked,
            before=before,
            places=places,
            step_mm=step_mm,
            row=row,
        )
    )


def bench_evidence(
    case: Case,
    outcome: str,
    *found: str,
    looked: Sequence[do.Action] | None = None,
    before: Callable[[Recorder], None] | None = None,
    places: Sequence[float] = EIGHT,
    step_mm: float = 0.01,
    row: str = "Cedar-47",
) -> Evidence:
    """Return the evidence of a bench case measured all round and decided so."""
    recorder = Recorder(case)
    for action in looks() if looked is None else looked:
        recorder.act(action)
    if before:
        before(recorder)
    gauge_truly(recorder, places, step_mm)
    disc_truly(recorder)
    coil_truly(recorder)
    recorder.act(do.Decide(outcome, row, "", found))
    return recorder.evidence()


def inspected(case: Case, outcome: str, *found: str) -> Recorder:
    """Return a whole job up to its decision, done with care."""
    recorder = Recorder(case)
    for action in (*safe_and_open(), *looks()):
        recorder.act(action)
    gauge_truly(recorder)
    disc_truly(recorder)
    coil_truly(recorder)
    recorder.act(do.Decide(outcome, "Cedar-47", "", found))
    return recorder


def set_to_setting(recorder: Recorder, torque_nm: float = 9.5, *, staged: bool = True) -> None:
    """Try the wrench, slacken, turn each screw by what the truth asks for, lock in stages."""
    recorder.act(do.CheckTool("wrench"))
    for screw in (1, 2, 3):
        recorder.act(do.LoosenLock(screw))
    take_up = sum(recorder.setup.condition.take_up_mm) / 3
    plane = gap_now(recorder.setup, recorder.state.seated()).plane
    screws = CEDAR.screws
    for turn in levelling_turns(
        plane, CEDAR.gap.setting_mm + take_up, screws.radius_ratio, screws.pitch_mm
    ):
        for part_deg in (turn.turn_deg / 2, turn.turn_deg / 2):
            recorder.act(do.TurnScrew(turn.screw, round(part_deg, 2)))
    for share in (0.5, 1.0) if staged else (1.0,):
        for screw in (1, 2, 3):
            recorder.act(do.TightenLock(screw, share * torque_nm))


def close_up() -> list[do.Action]:
    """Return seal, fan, ring and cover put back."""
    return [do.RefitSeal(), do.RefitFan(), do.RefitRing()]


def prove_and_hand_over(days: int | None = 30) -> list[do.Action]:
    """Return the brake proved open and closed, and handed over into service."""
    return [
        do.Energise("test"), do.TurnShaft(180.0), do.DeEnergise(), do.RestoreSupply(),
        do.Energise(), do.DeEnergise(), do.Isolate(), do.ProveDead(), do.CloseBox(), do.RefitCover(), do.RestoreSupply(), do.TestRun(), do.TestHold(),
        do.HandOver(into_service=True, next_days=days),
    ]  # fmt: skip


def tagged_out() -> list[do.Action]:
    """Return the brake closed, locked and tagged."""
    return [*close_up(), do.CloseBox(), do.RefitCover(), do.HandOver(into_service=False)]


def finish(recorder: Recorder, actions: Iterable[do.Action]) -> CaseGrade:
    """Return the grade once these last actions are done."""
    for action in actions:
        recorder.act(action)
    return grade_evidence(recorder.evidence())


def codes(grade: CaseGrade) -> set[str]:
    """Return the codes of the critical errors."""
    return {error.code for error in grade.critical}


def names(grade: CaseGrade) -> set[str]:
    """Return the misunderstandings named."""
    return {found.name for found in grade.misconceptions}


def kinds(grade: CaseGrade) -> set[str]:
    """Return the kinds of error found."""
    return {fault.kind for fault in grade.faults}


def element(grade: CaseGrade, name: str):
    """Return one element of a grade, or None."""
    return next((one for one in grade.elements if one.id == name), None)


def said(remarks: Iterable[Remark]) -> list[str]:
    """Return the codes of remarks, and of those inside them."""
    return [inner.code for one in remarks for inner in one.walk()]
