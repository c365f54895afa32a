"""The coach's hints after the decision: taking apart, setting, closing, proving."""

from collections.abc import Callable, Iterator

from widgets.bench.actions.adjusting import SETS_THE_GAP
from widgets.bench.state import State
from widgets.brake.gap.profile import fit_plane
from widgets.brake.judgement.rules import Outcome
from widgets.brake.judgement.words import sentences
from widgets.brake.sizes.design import Design

from .work import ENOUGH_PLACES, Hint, Work, places, when


def take_apart(work: Work) -> Iterator[Hint]:
    """Return what is open on the way to the disc."""
    state = work.state
    if state.decision != "replace" or state.disc_part != "old":
        return
    steps: tuple[tuple[Callable[[State], bool], str, str], ...] = (
        (lambda s: s.leads == "off", "the coil’s leads", "A body that comes off tears them."),
        (lambda s: not s.lever_on, "the hand release", "It hooks the body to the motor end."),
        (lambda s: s.body_held or not s.body_on, "a sling", "The springs throw the body off."),
        (lambda s: not any(s.lock_nm), "the three screws, in turn", "Evenly, or the body tilts."),
        (lambda s: all(s.drawn), "the retaining screws, right out", "In turn, a little each."),
        (lambda s: not s.body_on, "body, springs and plate as one", "Count the springs."),
        (lambda s: not s.disc_on, "the disc", "See which way its collar points."),
        (lambda s: s.spline_cleaned, "the spline", "A catching disc drags on one side."),
        (lambda s: s.wear_plate_on or work.size.wear_plate_mm == 0, "the wear plate",
         "Without it, the gap is wider by its thickness."),
    )  # fmt: skip
    for done, part, why in steps:
        yield from when(
            not done(state),
            "What holds the next part?",
            f"Next: {part}.",
            f"{why} First off goes on last: the tray keeps the order.",
        )
    yield Hint(
        "What makes this disc the right one, the right way round?",
        "Its number, its spline, the mark for the motor side.",
        "Faces wiped, fingers clean. The wrong way round, the hub takes the spring force and the "
        "lining does not.",
    )


def set_gap(work: Work) -> Iterator[Hint]:
    """Return what is open on the way to a gap set, locked and read again."""
    state, torque_nm = work.state, work.size.screws.retaining_torque_nm
    if state.decision not in {"adjust", "replace"}:
        return
    yield from when(
        not state.body_on, "What is still on the bench?", "The tray: the body comes next.",
        "Plate in its guides, then the top screw first, started by hand.",
    )  # fmt: skip
    yield from when(
        any(state.drawn), "Which screw first?", "The one at the top, with your fingers.",
        "A screw started with the wrench crosses its thread; one at the bottom lets the body tip.",
    )  # fmt: skip
    yield from _set(work)
    yield from when(
        state.ring_loose,
        "What keeps the ring in its notch?",
        "Its lock.",
        "Loose, it has play, and it walks: the gap that you gauge is not the gap that stays.",
    )
    yield from when(
        min(state.lock_nm) < 0.9 * torque_nm,
        "What keeps the setting where you have put it?",
        f"Three retaining screws, in turn, in two stages, to {torque_nm:g} N·m.",
        "Tightened in one go, they pull the body out of shape. A forgotten screw works loose.",
    )
    unread = places(work.gaps()) < ENOUGH_PLACES
    yield from when(
        unread and state.energised,
        "Where is the plate while the coil is energised?",
        "The coil: take the voltage off first.",
        "Pulled in, the plate closes the gap. A leaf shows the gap only with the coil off.",
    )
    covering = _covering(state)
    yield from when(
        unread and bool(covering),
        "Is the gap still what you set, and can a leaf reach it?",
        f"First take off again: the {covering}.",
        "Locking takes up the play in the threads. Gauge all round before you close up.",
    )
    yield from when(
        unread,
        "Is the gap still what you set?",
        "Gauge all round again, now that the last screw is tight.",
        "Locking takes up the play in the threads: a few hundredths, not the same at each.",
    )
    found = work.conclusion()
    yield from when(
        found.outcome not in {None, Outcome.FIT},
        "Would you sign for this gap?",
        "Your last round of readings, beside the row of the sheet.",
        " ".join(sentences(found.reasons)),
    )


def _covering(state: State) -> str:
    """Return the first part that keeps a leaf from the gap, or nothing."""
    on = (("cover", state.cover_on), ("fan", state.fan_on), ("seal band", state.seal_on))
    return next((part for part, is_on in on if is_on), "")


def _set(work: Work) -> Iterator[Hint]:
    """Return what is open where the gap is set: by screws, shims, a ring, or nothing."""
    question, where, why = _setting_words(work)
    touched = any(work.has(kind) for kind in SETS_THE_GAP)
    if work.size.design.adjusts:
        yield from when(not touched, question, where, why)
    else:
        yield from when(
            work.state.decision == "adjust",
            "What on this brake sets its gap?",
            "The row of the limits sheet, and the foot of the magnet body.",
            "Nothing does. Here, a gap that is too large means a worn-out disc: replace it.",
        )


def _setting_words(work: Work) -> tuple[str, str, str]:
    """Return question, place and reasoning for what sets the gap of this design."""
    step_mm = work.size.step_mm
    if work.size.design is Design.SHIMS:
        return (
            "Which pack has to lose most, and how much?",
            "Slacken the three retaining screws; then the spacer nearest to where it is widest.",
            (
                f"A shim taken out closes the gap there by its thickness; {step_mm:g} mm is the "
                "thinnest. Work out each of the three from your readings."
            ),
        )
    if work.size.design is Design.ADJUSTING_RING:
        return (
            "How many notches, and which way?",
            "The set screw of the adjusting ring first; then the ring.",
            (
                f"A notch moves the gap by {step_mm:g} mm all the way round. It cannot level a "
                "tilt: refer a tilt."
            ),
        )
    return (
        "Which screw has to turn most, and which way?",
        "Slacken the three retaining screws; then start with the screw nearest the widest place.",
        _turning_words(work) if work.size.screws.pitch_mm else "",
    )


def _turning_words(work: Work) -> str:
    gaps = work.gaps()
    if len(gaps) < 3:
        return "Out opens the gap, in closes it; one turn is one pitch."
    plane = fit_plane([r.angle_deg for r in gaps], [r.value_mm for r in gaps]).plane
    pitch_mm = work.size.screws.pitch_mm
    change_mm = work.size.gap.setting_mm - plane.mean_mm
    way = "in" if change_mm < 0 else "out"
    return (
        f"By your readings the mean is {plane.mean_mm:.2f} mm. Turn {abs(change_mm):.2f} mm {way}: "
        f"{360 * abs(change_mm) / pitch_mm:.0f}° on a pitch of {pitch_mm:g} mm. Turn more where "
        "the gap is furthest from the setting, less on the other side."
    )


def close_up(work: Work) -> Iterator[Hint]:
    """Return what is still in the tray."""
    state = work.state
    for is_off, part in (
        (not state.lever_on, "hand release, and its play"),
        (state.leads == "off" and state.decision != "refer", "coil’s leads, on the DC side"),
        (not state.seal_on, "seal band, its lip seated all round"),
        (not state.fan_on, "fan, on its key"),
        (not state.ring_on, "ring of the fan"),
    ):
        yield from when(
            is_off and state.body_on,
            "What is left in the tray?",
            f"Next: the {part}.",
            "Work backwards through the tray. Whatever is left over is missing from the brake.",
        )


def prove(work: Work) -> Iterator[Hint]:
    """Return what is still to be proved."""
    state = work.state
    if state.decision == "refer":
        yield from when(
            not state.isolated, "Who must not use this hoist?", "The main switch.",
            "Out of service means locked and tagged, and the person responsible told.",
        )  # fmt: skip
        return
    yield from when(
        not work.since_screws("energise"),
        "The gap is set. Does the brake release?",
        "Motor locked off, your test supply on the coil: listen, turn the shaft at two places. "
        "Then hands off the shaft, supply back on, and listen again.",
        "A plate that sticks looks like a gap that is right. Keep your hand off the shaft unless "
        "the main supply is locked off.",
    )
    yield from when(
        not state.box_on, "What is bare now, and will be live again?", "The terminal box.",
        "Its cover goes on while the supply is locked off.",
    )  # fmt: skip
    yield from when(
        state.cover_on is False, "Before anything runs: what turns behind this opening?",
        "The cover.", "Isolate, cover on, supply back, then the tests.",
    )  # fmt: skip
    yield from when(
        state.disc_part != "old" and not work.has("bed_in"),
        "Does a new lining hold like an old one?",
        "Light stops without load, as prescribed.",
        "Until it has bedded in, only its high spots grip.",
    )
    yield from when(
        not work.since_screws("test_run"),
        "What proves that it runs and stops?",
        "Up, down, emergency stop, without load.",
        "Tests that can do little harm come before tests that can do much.",
    )
    order = work.order
    if order.ends_with == "run":
        return
    mine = "load-test" in order.may
    yield from when(
        mine and not work.since_screws("test_hold"),
        "What proves that it holds?",
        "The test load of the limits sheet: weighed, floor cleared, a hand’s breadth high.",
        "Only a load proves springs, lining and hub.",
    )
    yield from when(
        mine and order.brakes > 1 and not {"this", "other"} <= work.held_on,
        "Two brakes held it. Which of them?",
        "Each brake by itself, the other held open.",
        "A good brake hides one that carries nothing. Each must hold the load alone.",
    )
    yield from when(
        not mine,
        "Who may lift the test load?",
        "Your work order.",
        "Not you, on this job: lock it, tag it, and leave it for its load test. That is "
        "a job well done.",
    )
