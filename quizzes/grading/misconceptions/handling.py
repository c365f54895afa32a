"""Misunderstandings that show in what was done with the hands: safety, leaves, screws, parts."""

from collections.abc import Callable

from quizzes.grading.editions import EDITION, EDITIONS
from quizzes.grading.elements.working import was_adjusted, was_replaced
from quizzes.grading.evidence.as_left import parts_off, slack_locks
from quizzes.grading.evidence.gathering import Evidence
from quizzes.grading.evidence.log import GAP_WORK, Step
from quizzes.grading.evidence.plane import quick_plane
from quizzes.grading.evidence.readings import latest, places_apart
from widgets.bench import actions as do
from widgets.bench.actions.adjusting import SETS_THE_GAP
from widgets.bench.state import State

EQUAL_WITHIN_DEG = 3.0  # turns that differ by less were meant to be equal
LEAST_TURN_DEG = 5.0  # less is a touch, and tells of no plan


def isolation_skipped(evidence: Evidence) -> bool:
    """Return whether a hand was in the brake before the supply was ever locked off."""
    return _first_hand(evidence, lambda state: state.isolated)


def load_left(evidence: Evidence) -> bool:
    """Return whether a hand was in the brake before the load was down."""
    return _first_hand(evidence, lambda state: state.load_landed)


def not_proved(evidence: Evidence) -> bool:
    """Return whether a hand was in a brake that was locked off and had not been proved dead."""
    hands = evidence.hands_in
    first = hands[0].before if hands else None
    return first is not None and first.isolated and not first.proved_dead


def _first_hand(evidence: Evidence, safe: Callable[[State], bool]) -> bool:
    hands = evidence.hands_in
    return bool(hands) and not safe(hands[0].before)


def cleaned_by(*methods: str) -> Callable[[Evidence], bool]:
    """Return a look for cleaning by one of these methods."""

    def shown(evidence: Evidence) -> bool:
        return any(getattr(s.action, "method", "") in methods for s in evidence.did("clean"))

    return shown


def energised(evidence: Evidence) -> bool:
    """Return whether leaves went in with the coil on a voltage that the candidate gave it."""
    return any(
        step.before.energised and not step.before.brake.coil_live
        for step in evidence.did("gauge_gap")
    )


def forced(evidence: Evidence) -> bool:
    """Return whether a gap was written down by leaves that were forced in."""
    return any(one.forced for one in evidence.gaps)


def through_dust(evidence: Evidence) -> bool:
    """Return whether the gap that the decision rests on was read with dust in it."""
    return any(one.dusty for one in evidence.gaps_as_found)


def made_up(evidence: Evidence) -> bool:
    """Return whether a reading is in the notes that was never taken."""
    return not (
        all(one.gauged for one in evidence.gaps)
        and all(one.gauged for one in evidence.discs)
        and all(one.gauged for one in evidence.values)
    )


def not_measured_again(evidence: Evidence) -> bool:
    """Return whether it went back into service without a gap reading after the last locking."""
    worked = was_adjusted(evidence) or was_replaced(evidence)
    return worked and evidence.given_back and places_apart(evidence.gaps_as_left) == 0


def equal_turns(evidence: Evidence) -> bool:
    """Return whether all three screws were turned alike although the readings show a tilt."""
    return any(
        _alike(turned) and _tilted(evidence, first.number) for first, turned in _rounds(evidence)
    )


def _rounds(evidence: Evidence) -> list[tuple[Step, list[float]]]:
    """Return each round of turning: its first step, and what each screw was turned, degrees."""
    rounds: list[tuple[Step, list[float]]] = []
    fresh = True
    for step in evidence.did("turn_screw", "tighten_lock", "fit_body"):
        if not isinstance(step.action, do.TurnScrew):
            fresh = True
            continue
        if fresh:
            rounds.append((step, [0.0, 0.0, 0.0]))
            fresh = False
        rounds[-1][1][step.action.screw - 1] += step.action.turn_deg
    return rounds


def _alike(turned: list[float]) -> bool:
    return min(map(abs, turned)) > LEAST_TURN_DEG and max(turned) - min(turned) < EQUAL_WITHIN_DEG


def _tilted(evidence: Evidence, before: int) -> bool:
    """Return whether the readings in hand then say that the gap is tilted beyond its evenness."""
    work = [s.number for s in evidence.did(*GAP_WORK) if s.number < before]
    # Slackening comes between reading and turning; the readings before it are the ones in hand.
    known = latest(one for one in evidence.gaps if one.step < before)
    if not known or _new_disc_since(evidence, known[-1].step, before) or not work:
        return False
    plane = quick_plane([one.reading for one in known])
    limit_mm = evidence.case.size.gap.evenness_mm
    return plane is not None and plane.spread_mm - 2 * plane.spread_u_mm > limit_mm


def _new_disc_since(evidence: Evidence, read_at: int, before: int) -> bool:
    return any(read_at < step.number < before for step in evidence.did("fit_disc", "fit_body"))


def wrong_order(evidence: Evidence) -> bool:
    """Return whether parts came off or went on in an order that fails or spoils a setting."""
    return (
        any(_out_of_order(step) for step in evidence.did("draw_lock", "start_lock"))
        or any(one.after.body_cocked and not one.before.body_cocked for one in evidence.steps)
        or _torn(evidence)
        or _lever_before_gap(evidence)
    )


def _out_of_order(step: Step) -> bool:
    if step.action.kind == "draw_lock":
        return all(step.after.drawn) and not step.before.body_held
    return bool(step.observation.facts.get("crossed"))


def _torn(evidence: Evidence) -> bool:
    return evidence.start.leads != "torn" and evidence.end.leads == "torn"


def _lever_before_gap(evidence: Evidence) -> bool:
    """Return whether the play was set on a gap that was set afterwards, and not again."""
    set_at, turned = evidence.did("set_lever"), evidence.did(*SETS_THE_GAP)
    return bool(set_at) and bool(turned) and set_at[-1].number < turned[-1].number


def lock_wrong(evidence: Evidence) -> bool:
    """Return whether it went back into service with a screw worked on and not at its torque."""
    worked = was_adjusted(evidence) and evidence.given_back
    return worked and bool(slack_locks(evidence.setup, evidence.end, EDITIONS[EDITION]))


def tests_skipped(evidence: Evidence) -> bool:
    """Return whether it went back into service untried under load after the last work."""
    if not evidence.whole_job or not evidence.end.into_service:
        return False
    run_is_enough = evidence.setup.order.ends_with == "run"
    if run_is_enough and any(s.number > evidence.last_work for s in evidence.did("test_run")):
        return False
    # Whoever was refused a test has tried: what stood in its way is an error of its own.
    tried = (s for s in evidence.steps if s.action.kind in {"test_hold", "test_run"})
    since = [step for step in tried if step.number > evidence.last_work]
    return all(step.done and step.action.kind == "test_run" for step in since)


_OFF_BY = {
    "seal-band": ("remove_seal", "refit_seal"),
    "fan": ("remove_fan", "refit_fan"),
    "cover": ("remove_cover", "refit_cover"),
    "terminal-box": ("open_box", "close_box"),
}


def left_open(evidence: Evidence) -> bool:
    """Return whether what was taken off stayed off at the hand-over, and nobody tried to fit it."""
    if not evidence.whole_job or not evidence.end.handed_over or not _assembled(evidence.end):
        return False
    tried = {step.action.kind for step in evidence.steps}
    return any(
        evidence.did(_OFF_BY[part][0]) and _OFF_BY[part][1] not in tried
        for part in parts_off(evidence.end)
    )


def _assembled(state: State) -> bool:
    return state.body_on and state.disc_on
