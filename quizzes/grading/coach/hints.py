"""The coach's hints, stage by stage of the job: what is still open, in the order of the work."""

from collections.abc import Iterator

from widgets.bench.setup import Start
from widgets.brake.judgement.words import sentences

from .after import close_up, prove, set_gap, take_apart
from .work import ENOUGH_PLACES, Hint, Work, places, when

ENOUGH_DISC_PLACES = 3
LOOKS = ("seal", "edge", "screws", "springs", "hub", "wear_plate", "leads")


def open_points(work: Work) -> Iterator[Hint]:
    """Return what is still open, the first thing first."""
    if work.state.load_stuck:
        yield from _stuck(work)
        return
    for stage in (_safe, _open, _look, _measure, _decide, take_apart, set_gap, close_up, prove):
        yield from stage(work)


def _stuck(work: Work) -> Iterator[Hint]:
    """Return what is open under a load that will not come down: nobody near, help, lock, record."""
    state = work.state
    yield from when(
        not (state.kept_clear and state.area_barred and state.called),
        "What can that load do from now on, and who may free it?",
        "Everybody near load, rope and drum; then the telephone.",
        "It may come down at any moment. Send people away, bar the area, call whoever may free it.",
    )
    yield from when(
        not state.isolated,
        "Who else might press “down” once more?",
        "The main switch.",
        "Each try heats the motor, and if the brake gives way the load runs. Lock it, tag it.",
    )
    yield from when(
        not state.decision,
        "What may you do at this brake, with that load on it?",
        "Nothing behind the cover: the record.",
        "No cover comes off under a hanging load, and no lever is pulled. Refer it.",
    )


def _safe(work: Work) -> Iterator[Hint]:
    state = work.state
    if state.decision and state.decision != "refer" and work.since_screws("energise"):
        return
    yield from when(
        not state.load_landed,
        "What is this brake doing right now?",
        "Look at the hook.",
        "It is holding the load. Land the load, unhook it, let the rope go slack, then open.",
    )
    yield from when(
        not state.isolated and "running" not in state.looked and state.cover_on,
        "What can this brake tell you only while it runs?",
        "Run it once without load, before you lock it off.",
        "Clack, sag, hum and smell are gone once it stops. They show faults behind a good gap.",
    )
    yield from when(
        not state.isolated and not work.since_screws("energise") and not state.decision,
        "Who else could press a button now?",
        "Go to the main switch.",
        "A controller that is off locks nothing off. Use your lock, your tag, your key.",
    )
    yield from when(
        state.load_landed and not state.area_barred,
        "Who might walk under this hook while you work?",
        "The floor below and round it.",
        "Clear it and bar it before anything else: a falling load gives nobody time to step aside.",
    )
    yield from when(
        state.isolated and not (state.locked and state.start_tried and state.waited),
        "The switch is off. Is that all that switching off means?",
        "The switch, the controls, and what stores energy.",
        "Lock and tag it, try to start, and wait as long as the maker says: then test.",
    )
    told_live = work.has("prove_dead") and not state.proved_dead and state.isolated
    yield from when(
        told_live,
        "The tester has shown you something. What feeds the coil?",
        "Follow the leads on the DC side, with the diagram.",
        "A brake can be fed from a second circuit. Find it, lock it, and prove dead again.",
    )
    yield from when(
        state.isolated and state.box_on and state.cover_on,
        "Where are the terminals, and who may uncover them?",
        "The terminal box, and what your work order says about it.",
        "It has a cover of its own. Where the order does not let you, have an electrician open it.",
    )
    yield from when(
        state.isolated and not state.proved_dead and not (state.decision and state.cover_on),
        "How do you know that it is dead?",
        "Tester, terminals of motor and brake, both sides of the rectifier, tester again.",
        "The switch says what should be so. Only a proved tester says what is so.",
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
        yield from when(
            is_on,
            "What stands between you and the gap?",
            f"Next comes the {part}.",
            "Cover, ring, fan, seal band: one after the other, into the tray in that order.",
        )
    yield from when(
        not state.plate_read,
        "Which row of the sheet is yours?",
        "The nameplate on the magnet body.",
        "Limits belong to a size. The wrong row turns a good reading into a wrong decision.",
    )


def _look(work: Work) -> Iterator[Hint]:
    state = work.state
    if state.decision:
        return
    left = [place.replace("_", " ") for place in LOOKS if place not in state.looked]
    yield from when(
        bool(left) and work.order.start is Start.WORK_ORDER,
        "Many faults leave the gap perfect. What would they look like?",
        f"Not yet looked at: {', '.join(left)}.",
        "Oil, glaze, springs, spline, a missing plate: no leaf finds these, but your eyes do.",
    )
    seen = {code for _, _, facts in state.seen_there for code in facts.get("symptoms", ())}
    yield from when(
        "track-of-water" in seen and not work.has("stop_water"),
        "It is wet. From where?",
        "Up, along the track.",
        "Dried before the water is stopped, it is wet again tomorrow. The source comes first.",
    )
    yield from when(
        "wet-inside" in seen and not work.has("dry_out"),
        "What do lining and insulation tell you while they are wet?",
        "Warm air, as the sheet allows.",
        "A wet lining grips less, and a wet coil has no insulation to speak of. Dry, then measure.",
    )
    yield from when(
        not work.has("clean") and work.order.start is Start.WORK_ORDER,
        "What will the leaf touch first?",
        "The grey dust on the edge and in the gap.",
        "Dust makes the gap read low. Vacuum it or wipe it damp; never blow, never brush dry.",
    )


def _measure(work: Work) -> Iterator[Hint]:
    if work.state.decision:
        return
    yield from when(
        not {"leaves", "caliper"} <= set(work.state.tools_checked)
        and not work.gaps()
        and work.order.start is Start.WORK_ORDER,
        "What are you about to measure with, and is it right itself?",
        "Leaves and caliper.",
        "A bent leaf makes a gap look smaller, a zero that is off makes a disc look thicker. "
        "Wipe, look along the leaves, close the jaws.",
    )
    yield from when(
        work.state.body_on and places(work.gaps()) < ENOUGH_PLACES,
        "Where could the gap be different from where you have gauged it?",
        "Go round: at each screw and halfway between. Eight places are best.",
        "The body stands on three screws and can lean. One place tells you the gap at one place.",
    )
    yield from when(
        work.state.disc_on and places(work.discs()) < ENOUGH_DISC_PLACES,
        "The gap says how far the disc has worn since it was last set. What says how much is left?",
        "Caliper over both linings, at three places or more.",
        "Somebody may have set the gap last week, on a worn-out disc. The thinnest place counts.",
    )
    yield from when(
        not work.has("work_lever") and work.state.lever_on,
        "What else can take the springs’ force, unseen?",
        "Pull the hand release and let it go.",
        "Its play shrinks as the lining wears. Without play the lever holds what the disc should.",
    )
    yield from when(
        work.state.body_on
        and not work.has("measure_coil")
        and work.order.start is Start.WORK_ORDER,
        "The springs hold the load. What opens the brake?",
        "Measure the ohms across the coil, and its temperature.",
        "A failing coil may release today but not on a hot day; the gap does not show it.",
    )


def _decide(work: Work) -> Iterator[Hint]:
    if work.state.decision:
        return
    if not work.state.body_on and not work.gaps():
        yield Hint(
            "Why is the magnet body off?",
            "The work order, and what you have read off the disc.",
            "There is no gap to judge while the body is off. Write down what the disc needs before "
            "you fit anything.",
        )
    found = work.conclusion()
    yield Hint(
        "What do your own readings say, each with its uncertainty, beside the row of the sheet?",
        "Widest gap and largest allowed, thinnest place and least allowed; then what you saw.",
        " ".join(sentences(found.reasons)) + " Decide before you touch a screw.",
    )
