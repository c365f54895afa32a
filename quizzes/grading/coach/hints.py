"""The coach's hints, stage by stage of the job: what is still open, in the order of the work."""

from collections.abc import Callable, Iterator, Sequence

from widgets.bench.setup import Start
from widgets.bench.state import State
from widgets.brake.gap.profile import fit_plane
from widgets.brake.judgement.rules import Outcome, Reading
from widgets.brake.judgement.words import sentences

from .work import Hint, Work

ENOUGH_PLACES, ENOUGH_DISC_PLACES = 6, 3
LOOKS = ("seal", "edge", "screws", "springs", "hub", "wear_plate", "leads")


def open_points(work: Work) -> Iterator[Hint]:
    """Return what is still open, the first thing first."""
    if work.state.load_stuck:
        yield from _stuck(work)
        return
    for stage in (_safe, _open, _look, _measure, _decide, _take_apart, _set, _close, _prove):
        yield from stage(work)


def _when(is_open: bool, *words: str) -> Iterator[Hint]:  # noqa: FBT001 (reads as a sentence)
    if is_open:
        yield Hint(*words)


def _stuck(work: Work) -> Iterator[Hint]:
    """Return what is open under a load that will not come down: nobody near, help, lock, record."""
    state = work.state
    yield from _when(
        not (state.kept_clear and state.area_barred and state.called),
        "What can that load do from now on, and whose is it to free it?",
        "Everybody near load, rope and drum; then the telephone.",
        "It may come down at any moment. Send people away, bar the area, call whoever may free it.",
    )
    yield from _when(
        not state.isolated,
        "Who else might press “down” once more?",
        "The main switch.",
        "Each try heats motor and lining against a closed brake. Lock it, tag it.",
    )
    yield from _when(
        not state.decision,
        "What may you do at this brake, with that load on it?",
        "Nothing behind the cover: the record.",
        "No cover comes off under a hanging load, and no lever is pulled. Refer it.",
    )


def _safe(work: Work) -> Iterator[Hint]:
    state = work.state
    if state.decision and state.decision != "refer" and work.since_screws("energise"):
        return
    yield from _when(
        not state.load_landed,
        "What is this brake doing at this very moment?",
        "Look at the hook.",
        "It holds the load. Land it, take it off, let the rope go slack, then open.",
    )
    yield from _when(
        not state.isolated and "running" not in state.looked and state.cover_on,
        "What can this brake tell you only while it works?",
        "Have it run once without load, before you lock it off.",
        "Clack, sag, hum and smell are gone once it stands. They tell of faults behind a good gap.",
    )
    yield from _when(
        not state.isolated and not work.since_screws("energise") and not state.decision,
        "Who else could press a button now?",
        "Go to the main switch.",
        "A controller that is off is no supply locked off. Your lock, your tag, your key.",
    )
    yield from _when(
        state.load_landed and not state.area_barred,
        "Who might walk under this hook while you work?",
        "The floor below and round it.",
        "Clear it and bar it before anything else: what comes down does not ask who stands there.",
    )
    yield from _when(
        state.isolated and not (state.locked and state.start_tried and state.waited),
        "The switch is off. Is that all that switching off means?",
        "The switch, the controls, and what stores energy.",
        "Lock and tag it, try to start, and wait as long as the maker says: then test.",
    )
    told_live = work.has("prove_dead") and not state.proved_dead and state.isolated
    yield from _when(
        told_live,
        "The tester has told you something. What feeds the coil?",
        "Follow the leads of the direct side, with the diagram.",
        "A brake can be fed from a second circuit. Find it, lock it, and prove dead again.",
    )
    yield from _when(
        state.isolated and state.box_on and state.cover_on,
        "Where are the terminals, and who may lay them bare?",
        "The terminal box, and what your work order says of it.",
        "It has a cover of its own. Where the order does not let you, have an electrician open it.",
    )
    yield from _when(
        state.isolated and not state.proved_dead and state.cover_on,
        "How do you know that it is dead?",
        "Tester, terminals of motor and brake, both sides of the rectifier, tester again.",
        "The switch says what it should be. Only a proved tester says what it is.",
    )


def _open(work: Work) -> Iterator[Hint]:
    state = work.state
    if state.decision:
        return
    for is_on, part in (
        (state.cover_on, "cover"),
        (state.ring_on and state.fan_on, "ring of the fan"),
        (state.fan_on, "fan"),
        (state.seal_on, "seal band"),
    ):
        yield from _when(
            is_on,
            "What stands between you and the gap?",
            f"Next comes the {part}.",
            "Cover, ring, fan, seal band: each in its turn, each into the tray in that order.",
        )
    yield from _when(
        not state.plate_read,
        "Which row of the sheet is yours?",
        "The plate on the magnet body.",
        "Limits belong to a size. The wrong row makes a good reading into a wrong decision.",
    )


def _look(work: Work) -> Iterator[Hint]:
    state = work.state
    if state.decision:
        return
    left = [place.replace("_", " ") for place in LOOKS if place not in state.looked]
    yield from _when(
        bool(left) and work.order.start is Start.WORK_ORDER,
        "Half the faults have a perfect gap. What would they look like?",
        f"Not yet looked at: {', '.join(left)}.",
        "Oil, glaze, springs, spline, a missing plate: the leaf finds none of them, the eye does.",
    )
    yield from _when(
        not work.has("clean") and work.order.start is Start.WORK_ORDER,
        "What will the leaf touch first?",
        "The grey on the edge and in the gap.",
        "Dust makes the gap read low. Draw it off or wipe it damp; never blow, never brush dry.",
    )


def _places(readings: Sequence[Reading]) -> int:
    return len({round(reading.angle_deg / 20) for reading in readings})


def _measure(work: Work) -> Iterator[Hint]:
    if work.state.decision:
        return
    yield from _when(
        not {"leaves", "caliper"} <= set(work.state.tools_checked)
        and not work.gaps()
        and work.order.start is Start.WORK_ORDER,
        "What are you about to measure with, and is it right itself?",
        "Leaves and caliper.",
        "A bent leaf makes a gap look smaller, a zero that is off makes a disc look thicker. "
        "Wipe, look along the leaves, close the jaws.",
    )
    yield from _when(
        _places(work.gaps()) < ENOUGH_PLACES,
        "Where could the gap be different from where you have gauged it?",
        "Go round: at each screw and half way between, eight places are best.",
        "The body stands on three screws and can lean. One place tells the gap at one place.",
    )
    yield from _when(
        _places(work.discs()) < ENOUGH_DISC_PLACES,
        "The gap says how far the disc has worn since it was last set. What says how much is left?",
        "Caliper over both linings, at three places or more.",
        "Somebody may have set the gap last week, on a finished disc. The thinnest place counts.",
    )
    yield from _when(
        not work.has("work_lever") and work.state.lever_on,
        "What else can carry the springs' force, unseen?",
        "Pull the hand release and let it go.",
        "Its play shrinks as the lining wears. Without play the lever holds what the disc should.",
    )
    yield from _when(
        not work.has("measure_coil") and work.order.start is Start.WORK_ORDER,
        "The springs hold. What lets go?",
        "Ohms across the coil, with its temperature.",
        "A coil on its way out releases today and not on a hot day; the gap does not show it.",
    )


def _decide(work: Work) -> Iterator[Hint]:
    if work.state.decision:
        return
    found = work.conclusion()
    yield Hint(
        "What do your own readings say, each with its uncertainty, beside the row of the sheet?",
        "Widest gap by the largest allowed, thinnest place by the least; then what you saw.",
        " ".join(sentences(found.reasons)) + " Decide before you touch a screw.",
    )


def _take_apart(work: Work) -> Iterator[Hint]:
    state = work.state
    if state.decision != "replace" or state.disc_part != "old":
        return
    steps: tuple[tuple[Callable[[State], bool], str, str], ...] = (
        (lambda s: s.leads == "off", "the coil's leads", "A body that comes off tears them."),
        (lambda s: not s.lever_on, "the hand release", "It hooks the body to the motor end."),
        (lambda s: s.body_held or not s.body_on, "a sling", "The springs throw the body off."),
        (lambda s: not any(s.lock_nm), "the three locks, in turn", "Evenly, or the body cocks."),
        (lambda s: all(s.drawn), "the retaining screws, right out", "In turn, a little each."),
        (lambda s: not s.body_on, "body, springs and plate as one", "Count the springs."),
        (lambda s: not s.disc_on, "the disc", "See which way its collar points."),
        (lambda s: s.spline_cleaned, "the spline", "A catching disc drags on one side."),
        (lambda s: s.wear_plate_on or work.size.wear_plate_mm == 0, "the wear plate",
         "Forgotten, the gap is wider by its thickness."),
    )  # fmt: skip
    for done, part, why in steps:
        yield from _when(
            not done(state),
            "What holds the next part?",
            f"Next: {part}.",
            f"{why} First off comes last on: the tray keeps the order.",
        )
    yield Hint(
        "What makes this disc the right one, the right way round?",
        "Its number, its spline, the mark for the motor side.",
        "Faces wiped, fingers clean. Turned round, the hub carries the springs, not the lining.",
    )


def _set(work: Work) -> Iterator[Hint]:
    state, torque_nm = work.state, work.size.screws.retaining_torque_nm
    if state.decision not in {"adjust", "replace"}:
        return
    yield from _when(
        not state.body_on, "What is still on the bench?", "The tray: the body comes next.",
        "Plate in its guides, then the top screw first, started by hand.",
    )  # fmt: skip
    yield from _when(
        any(state.drawn), "Which screw first?", "The one at the top, with your fingers.",
        "A screw started with the wrench crosses its thread; one at the bottom lets the body tip.",
    )  # fmt: skip
    yield from _when(
        not work.has("turn_screw"),
        "Which screw has to turn most, and which way?",
        "Slacken the three locks; then the screw nearest to where it is widest.",
        _turning_words(work),
    )
    yield from _when(
        min(state.lock_nm) < 0.9 * torque_nm,
        "What keeps the setting where you have put it?",
        f"Three retaining screws, in turn, in two stages, to {torque_nm:g} N·m.",
        "In one go the body is pulled out of shape; a screw forgotten walks by itself.",
    )
    yield from _when(
        _places(work.gaps()) < ENOUGH_PLACES,
        "Is the gap still what you set?",
        "Gauge all round again, now that the last screw is tight.",
        "Locking takes up the play in the threads: some hundredths, not alike at the three.",
    )
    found = work.conclusion()
    yield from _when(
        found.outcome not in {None, Outcome.FIT},
        "Would you sign for this gap?",
        "Your last round of readings, beside the row.",
        " ".join(sentences(found.reasons)),
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
        f"By your readings the mean is {plane.mean_mm:.2f} mm: {abs(change_mm):.2f} mm {way}, "
        f"{360 * abs(change_mm) / pitch_mm:.0f}° on a pitch of {pitch_mm:g} mm; more than that "
        "where it is widest, less on the other side."
    )


def _close(work: Work) -> Iterator[Hint]:
    state = work.state
    for is_off, part in (
        (not state.lever_on, "hand release, and its play"),
        (state.leads == "off" and state.decision != "refer", "coil's leads, on the direct side"),
        (not state.seal_on, "seal band, its lip seated all round"),
        (not state.fan_on, "fan, on its key"),
        (not state.ring_on, "ring of the fan"),
    ):
        yield from _when(
            is_off and state.body_on,
            "What is left in the tray?",
            f"Next: the {part}.",
            "Backwards through the tray. What is left over would be missed out there.",
        )


def _prove(work: Work) -> Iterator[Hint]:
    state = work.state
    if state.decision == "refer":
        yield from _when(
            not state.isolated, "Who must not use this hoist?", "The main switch.",
            "Out of service means locked and tagged, and the responsible person told.",
        )  # fmt: skip
        return
    yield from _when(
        not work.since_screws("energise"),
        "It is set. Does it let go?",
        "Motor locked off, your test supply on the coil: listen, turn the shaft at two places. "
        "Then off the shaft, supply back, and listen again.",
        "A plate that hangs looks like a gap that is right. A hand is on the shaft only while the "
        "main supply is locked off.",
    )
    yield from _when(
        not state.box_on, "What lies bare, and will be live again?", "The terminal box.",
        "Its cover goes on while the supply is locked off.",
    )  # fmt: skip
    yield from _when(
        state.cover_on is False, "Before anything runs: what turns behind here?",
        "The cover.", "Isolate, cover on, supply back, then the tests.",
    )  # fmt: skip
    yield from _when(
        state.disc_part != "old" and not work.has("bed_in"),
        "Does a new lining hold like an old one?",
        "Light stops without load, as prescribed.",
        "Until it has bedded in it carries on its high spots only.",
    )
    yield from _when(
        not work.since_screws("test_run"),
        "What proves that it runs and stops?",
        "Up, down, emergency stop, without load.",
        "What can do little harm comes before what can do much.",
    )
    order = work.order
    if order.ends_with == "run":
        return
    mine = "load-test" in order.may
    yield from _when(
        mine and not work.since_screws("test_hold"),
        "What proves that it holds?",
        "The test load of the limits sheet: weighed, floor cleared, a hand's breadth high.",
        "Springs, lining and hub are proved by a load and by nothing else.",
    )
    yield from _when(
        not mine,
        "Who may lift the test load?",
        "Your work order.",
        "Not you, here: lock it, tag it, and leave it for its load test. That is a job well done.",
    )
