"""Shared hypothesis strategies: any action, any brake of the invented sheet in any condition."""

from collections.abc import Sequence
from dataclasses import replace
from typing import get_args

from hypothesis import strategies as st

from quizzes.candidates.worker import HABITS, work
from quizzes.cases.case import Case
from widgets.bench import actions as do
from widgets.bench.actions import codec as form
from widgets.bench.actions.fields import Finding, LookAt, Quantity
from widgets.bench.session import Session
from widgets.bench.setup import Order, Setup, Start
from widgets.brake.condition import Condition, Disc, sound_condition
from widgets.brake.gap.profile import Plane
from widgets.brake.sizes.sheet import LimitsSheet, load_sheet
from widgets.brake.sizes.size import BrakeSize
from widgets.instruments.feeler import ALL_LEAVES_MM

SHEET: LimitsSheet = load_sheet()
SEEDS = st.binary(min_size=16, max_size=32)
SIZES = st.sampled_from(SHEET.sizes)

# Whole steps, as a hand would choose them: a hidden number met among them is then no chance.
ANGLES_DEG = st.integers(0, 23).map(lambda step: 15.0 * step)
LEAVES_MM = st.lists(st.sampled_from(ALL_LEAVES_MM), min_size=1, max_size=4).map(tuple)
HUNDREDTHS_MM = st.integers(0, 1500).map(lambda step: step / 100)
SCREWS = st.integers(1, 3)
OUTCOMES = st.sampled_from(["fit", "adjust", "replace", "refer"])
ROWS = st.sampled_from([*(size.name for size in SHEET.sizes), "Nowhere-1"])
WORDS = st.text(st.characters(exclude_categories=["Cs"]), max_size=20)

MOSTLY = st.sampled_from([True, True, True, False])
TOOLS = st.sampled_from(["leaves", "caliper", "wrench"])
ACTIONS_BY_KIND: dict[str, st.SearchStrategy[do.Action]] = {
    "land_load": st.builds(do.LandLoad, unhook=MOSTLY, prove_slack=MOSTLY, bar_area=st.booleans()),
    "isolate": st.builds(do.Isolate, lock=st.booleans(), try_start=st.booleans(), wait=MOSTLY),
    "isolate_second": st.builds(do.IsolateSecond),
    "prove_dead": st.builds(
        do.ProveDead,
        tester=st.sampled_from(["two_pole", "two_pole", "contactless"]),
        known_source=MOSTLY,
        sides=st.sampled_from(["both", "both", "ac"]),
    ),
    "keep_clear": st.builds(do.KeepClear, bar_area=st.booleans(), call=st.booleans()),
    "let_cool": st.builds(do.LetCool),
    "stop_water": st.builds(do.StopWater),
    "dry_out": st.builds(do.DryOut),
    "open_box": st.builds(do.OpenBox, by=st.sampled_from(["self", "electrician"])),
    "close_box": st.builds(do.CloseBox),
    "restore_supply": st.builds(do.RestoreSupply),
    "remove_cover": st.builds(do.RemoveCover, protected=st.booleans()),
    "refit_cover": st.builds(do.RefitCover),
    "remove_ring": st.builds(do.RemoveRing),
    "refit_ring": st.builds(do.RefitRing),
    "remove_fan": st.builds(do.RemoveFan),
    "refit_fan": st.builds(do.RefitFan, on_key=st.booleans()),
    "remove_seal": st.builds(do.RemoveSeal),
    "refit_seal": st.builds(
        do.RefitSeal, band=st.sampled_from(["old", "new"]), seated=st.booleans()
    ),
    "look": st.builds(do.Look, at=st.sampled_from(get_args(LookAt))),
    "read_plate": st.builds(do.ReadPlate),
    "clean": st.builds(
        do.Clean,
        method=st.sampled_from(["vacuum", "damp_wipe", "air_blast", "dry_brush", "solvent"]),
    ),
    "check_tool": st.builds(do.CheckTool, tool=TOOLS),
    "change_tool": st.builds(do.ChangeTool, tool=TOOLS),
    "gauge_gap": st.builds(
        do.GaugeGap,
        angle_deg=ANGLES_DEG,
        leaves_mm=LEAVES_MM,
        hand=st.sampled_from(["soft", "forced"]),
    ),
    "measure_disc": st.builds(
        do.MeasureDisc, angle_deg=ANGLES_DEG, tool=st.sampled_from(["caliper", "rule"])
    ),
    "measure_coil": st.builds(
        do.MeasureCoil,
        what=st.sampled_from(["resistance", "insulation", "voltage"]),
        leads_lifted=MOSTLY,
    ),
    "find_release": st.builds(do.FindRelease),
    "write_value": st.builds(
        do.WriteValue, what=st.sampled_from(get_args(Quantity)), value=HUNDREDTHS_MM
    ),
    "strike_out": st.builds(
        do.StrikeOut, sheet=st.sampled_from(["gap", "disc", "value"]), line=st.integers(0, 3)
    ),
    "try_lock": st.builds(do.TryLock, screw=SCREWS),
    "work_lever": st.builds(do.WorkLever),
    "set_lever": st.builds(do.SetLever, play_mm=st.sampled_from([0.0, 0.5, 1.0, 10.0])),
    "disconnect_leads": st.builds(do.DisconnectLeads),
    "connect_leads": st.builds(do.ConnectLeads, side=st.sampled_from(["dc", "ac"])),
    "remove_lever": st.builds(do.RemoveLever),
    "refit_lever": st.builds(do.RefitLever),
    "hold_body": st.builds(do.HoldBody),
    "draw_lock": st.builds(do.DrawLock, screw=SCREWS),
    "remove_body": st.builds(do.RemoveBody),
    "remove_disc": st.builds(do.RemoveDisc),
    "remove_wear_plate": st.builds(do.RemoveWearPlate),
    "clean_spline": st.builds(do.CleanSpline),
    "fit_wear_plate": st.builds(do.FitWearPlate, smooth_to_disc=st.booleans()),
    "fit_disc": st.builds(do.FitDisc, part=ROWS | st.just("old"), reversed=st.booleans()),
    "fit_body": st.builds(do.FitBody),
    "start_lock": st.builds(do.StartLock, screw=SCREWS, by=st.sampled_from(["hand", "wrench"])),
    "bed_in": st.builds(do.BedIn),
    "test_run": st.builds(do.TestRun),
    "loosen_lock": st.builds(do.LoosenLock, screw=SCREWS),
    "tighten_lock": st.builds(
        do.TightenLock,
        screw=SCREWS,
        torque_nm=st.sampled_from([0.5, 2.8, 5.5, 9.5, 23.0]) | st.floats(0.1, 40),
    ),
    "turn_screw": st.builds(do.TurnScrew, screw=SCREWS, turn_deg=st.integers(-720, 720).map(float)),
    "change_shim": st.builds(
        do.ChangeShim, screw=SCREWS, change_mm=st.sampled_from([-0.5, -0.1, -0.05, 0.05, 0.1, 1.0])
    ),
    "loosen_adjusting_ring": st.builds(do.LoosenAdjustingRing),
    "turn_adjusting_ring": st.builds(do.TurnAdjustingRing, notches=st.integers(-40, 40)),
    "lock_adjusting_ring": st.builds(do.LockAdjustingRing),
    "energise": st.builds(do.Energise, supply=st.sampled_from(["hoist", "test"])),
    "de_energise": st.builds(do.DeEnergise),
    "turn_shaft": st.builds(do.TurnShaft, turn_deg=st.integers(-360, 360).map(float)),
    "test_hold": st.builds(
        do.TestHold,
        weighed=MOSTLY,
        floor_clear=MOSTLY,
        dynamic=st.booleans(),
        on=st.sampled_from(("both", "both", "this", "other")),
    ),
    "write_gap": st.builds(
        do.WriteGap, angle_deg=ANGLES_DEG, go_mm=HUNDREDTHS_MM, no_go_mm=HUNDREDTHS_MM
    ),
    "write_disc": st.builds(
        do.WriteDisc,
        angle_deg=ANGLES_DEG,
        value_mm=HUNDREDTHS_MM,
        tool=st.sampled_from(["caliper", "rule"]),
    ),
    "decide": st.builds(
        do.Decide,
        outcome=OUTCOMES,
        row=ROWS,
        why=WORDS,
        found=st.lists(st.sampled_from(get_args(Finding)), max_size=3).map(tuple),
    ),
    "hand_over": st.builds(
        do.HandOver,
        into_service=st.booleans(),
        remarks=WORDS,
        next_days=st.none() | st.integers(1, 400),
        awaits_test=st.booleans(),
    ),
}
ANY_ACTION = st.one_of(*ACTIONS_BY_KIND.values())
# Hands over only at the end, so that what comes before is worked through.
WORK_ACTION = st.one_of(
    *(strategy for kind, strategy in ACTIONS_BY_KIND.items() if kind != "hand_over")
)
OPENED: tuple[do.Action, ...] = (
    do.RemoveCover(),
    do.RemoveRing(),
    do.RemoveFan(),
    do.RemoveSeal(),
)
BODY_OFF: tuple[do.Action, ...] = (
    *OPENED,
    do.DisconnectLeads(),
    do.RemoveLever(),
    do.HoldBody(),
    *(do.LoosenLock(screw=screw) for screw in (1, 2, 3)),
    *(do.DrawLock(screw=screw) for screw in (1, 2, 3)),
    do.RemoveBody(),
)


@st.composite
def action_lists(draw: st.DrawFn, most: int = 40) -> list[do.Action]:
    """Return any actions, mostly on a brake opened or taken apart first, so that they go through."""
    safe = (do.LandLoad(), do.Isolate(), do.OpenBox(), do.ProveDead())
    opening = draw(st.sampled_from([(), OPENED, (*safe, *BODY_OFF), BODY_OFF]))
    return [*opening, *draw(st.lists(WORK_ACTION | ANY_ACTION, max_size=most))]


@st.composite
def conditions(draw: st.DrawFn, size: BrakeSize) -> Condition:
    """Return a brake in any condition, sound or not: gap, tilt, disc, springs, warp, dust."""
    mean_mm = draw(st.floats(0.05, 1.6 * size.gap.max_mm))
    tilt_mm = draw(st.floats(0, 0.9)) * min(mean_mm, 3 * size.gap.evenness_mm)
    turn_deg = draw(st.floats(0, 360))
    whole = Plane(mean_mm, tilt_mm)
    gap = Plane(mean_mm, whole.at_mm(turn_deg) - mean_mm, whole.at_mm(turn_deg - 90) - mean_mm)
    thickness_mm = draw(st.floats(0.8 * size.disc.min_mm, size.disc.new_mm))
    disc = Disc(thickness_mm, draw(st.floats(0, 0.1)), draw(st.floats(0, 360)))
    take_ups = tuple(draw(st.floats(0, 0.06)) for _ in range(3))
    sound = sound_condition(size, gap=gap, disc=disc, take_up_mm=take_ups)
    return replace(
        sound,
        warp_mm=draw(st.sampled_from([0.0, 0.0, 0.06])),
        warp_deg=draw(st.floats(0, 180)),
        dust_mm=draw(st.floats(0, 0.2)),
        friction=draw(st.sampled_from([size.lining.friction, 0.25, 0.1])),
        springs_intact=draw(st.integers(size.springs.count - 2, size.springs.count)),
        supply_factor=draw(st.sampled_from([1.0, 1.0, 0.7])),
        coil_live=draw(st.sampled_from([False, False, True])),
        seal_ok=draw(st.booleans()),
        fan_ok=draw(st.booleans()),
        release_lever_returns=draw(st.sampled_from([True, True, False])),
        release_lever_play_mm=draw(st.none() | st.floats(0, 1)),
        lock_share=draw(st.sampled_from([(1.0, 1.0, 1.0), (1.0, 0.0, 1.0)])),
        wear_plate_mm=draw(st.sampled_from([size.wear_plate_mm, size.wear_plate_mm, 0.0])),
        clamp_wave_mm=draw(st.sampled_from([0.0, 0.05])),
    )


@st.composite
def setups(draw: st.DrawFn) -> Setup:
    """Return any brake on a bench."""
    size = draw(SIZES)
    order = Order(start=draw(st.sampled_from(list(Start))))
    return Setup.of(size, draw(conditions(size)), draw(SEEDS), order)


@st.composite
def cases(draw: st.DrawFn) -> Case:
    """Return a case on any brake, of no family."""
    size = draw(SIZES)
    return Case("any", size, draw(conditions(size)), draw(SEEDS), "Inspect.")


def worked(case: Case, habit: str = "careful") -> Session:
    """Return the session of a candidate with a habit who worked a case to its end."""
    session = Session(case.setup())
    work(session.act, SHEET, HABITS[habit], case.order)
    return session


def actions_of(session: Session) -> list[do.Action]:
    """Return what was done, in order."""
    return [form.from_json(dict(event.action)) for event in session.events]


def redo(case: Case, actions: Sequence[do.Action]) -> Session:
    """Return the session of a case in which exactly these actions were tried."""
    session = Session(case.setup())
    for action in actions:
        session.act(action)
    return session
