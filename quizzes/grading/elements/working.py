"""Elements of adjusting and replacing: what was done in which order, and how the brake was left."""

from quizzes.grading.editions import Rules
from quizzes.grading.evidence.as_left import parts_badly_fitted, parts_off, set_well, slack_locks
from quizzes.grading.evidence.gathering import Evidence, places_apart
from quizzes.grading.evidence.log import SCREW_WORK
from widgets.brake.judgement.rules import Outcome

from .scoring import Element, at, shown

_IN_ONE_GO_COST = 0.3  # of the marks for locking: tightened from slack to full; a choice
_LOOKS_BEFORE_FITTING = ("hub", "wear_plate", "new_disc")
_WHAT_LOOK = {"hub": "hub and spline", "wear_plate": "wear plate", "new_disc": "the new disc"}


def was_adjusted(evidence: Evidence) -> bool:
    """Return whether the setting of the gap was worked on."""
    return bool(evidence.did(*SCREW_WORK))


def was_replaced(evidence: Evidence) -> bool:
    """Return whether the brake was taken apart."""
    return bool(evidence.did("remove_body", "fit_body", "fit_disc"))


def given_up(evidence: Evidence) -> bool:
    """Return whether a later decision, or the evidence, lets the job be handed to others."""
    last = evidence.did("decide")
    referred = bool(last) and last[-1].after.decision == Outcome.REFER
    own = evidence.own_conclusion
    return referred or own.outcome is Outcome.REFER or Outcome.REFER in own.arguable


def not_adjusted(evidence: Evidence) -> Element | None:
    """A1, where it was decided and nobody did it."""
    if evidence.taken is not Outcome.ADJUST or evidence.did("set_lever"):
        return None
    line = "Decided to adjust, and no screw was touched."
    return shown("A1", 0.0, line, needed=not given_up(evidence))


def adjusted(evidence: Evidence, rules: Rules) -> Element:
    """A1: the gap set evenly to the setting value."""
    found = set_well(evidence.setup, evidence.end, rules)
    score = 0.5 * found.on_setting + 0.5 * found.even
    turned = evidence.did("turn_screw")
    line = f"Hollow screws turned {len(turned)} times"
    line += f", first at {at(turned[0])}." if turned else "."
    # Given up with nothing against it but the setting itself, the job was not done.
    undone = evidence.as_left in {Outcome.FIT, Outcome.ADJUST}
    needed = evidence.end.into_service or undone
    return shown("A1", score, line, *found.lines, needed=needed)


def locked(evidence: Evidence, rules: Rules) -> Element:
    """A2: all three retaining screws at the torque of the size, in stages."""
    end = evidence.end
    proper_nm = evidence.case.size.screws.retaining_torque_nm
    wrong = [
        f"screw {number} at {lock_nm:g} N·m"
        for number, lock_nm in enumerate(end.lock_nm, start=1)
        if abs(lock_nm - proper_nm) > rules.torque_share * proper_nm
    ]
    needed = end.into_service
    if wrong:
        line = f"{', '.join(wrong).capitalize()}; this size asks for {proper_nm:g} N·m."
        return shown("A2", 0.4 if len(wrong) == 1 else 0.0, line, needed=needed)
    lines = [f"All three at {proper_nm:g} N·m."]
    worked = {
        getattr(step.action, "screw", 0) for step in evidence.did("loosen_lock", "start_lock")
    }
    at_once = [n for n in (1, 2, 3) if n in worked and end.in_one_go[n - 1]]
    if at_once and rules.signs_count:
        lines.append(f"Screw {', '.join(map(str, at_once))} from slack to full in one go.")
    cost = _IN_ONE_GO_COST if len(lines) > 1 else 0.0
    return shown("A2", 1.0 - cost, *lines, needed=needed)


def measured_again(evidence: Evidence, rules: Rules) -> Element:
    """A3: gauged all round again after the last screw was locked."""
    places = places_apart(evidence.gaps_as_left)
    line = (
        f"Gap written down at {places} places after the last screw was locked "
        f"(step {evidence.last_gap_work + 1})."
    )
    score = 1.0 if places >= rules.places else places / (rules.places + 2)
    needed = evidence.end.into_service
    return shown("A3", score, line, needed=needed)


def dismantled(evidence: Evidence) -> Element | None:
    """R1: leads and lever off first, weight held, screws drawn evenly, then the body."""
    removed = evidence.did("remove_body")
    if not removed:
        return None
    body = removed[0]
    checks = {
        "leads marked and off before the body": body.before.leads == "off",
        "body in a sling": body.before.body_held,
        "screws drawn without the body jamming": not body.before.body_cocked,
    }
    lines = tuple(f"{'Yes' if kept else 'No'}: {what}." for what, kept in checks.items())
    return shown("R1", sum(checks.values()) / 3, *lines, needed=False)


def checked_before_fitting(evidence: Evidence) -> Element | None:
    """R2: hub, spline, wear plate and the new disc looked at before it goes on."""
    fitted = evidence.did("fit_disc")
    if not fitted:
        return None
    looked = {
        getattr(step.action, "at", "")
        for step in evidence.did("look")
        if step.number < fitted[-1].number
    }
    cleaned = fitted[-1].before.spline_cleaned
    lines = [
        f"{'Yes' if place in looked else 'No'}: looked at {_WHAT_LOOK[place]}."
        for place in _LOOKS_BEFORE_FITTING
    ]
    lines.append(f"{'Yes' if cleaned else 'No'}: spline cleaned, the disc slides freely.")
    good = sum(place in looked for place in _LOOKS_BEFORE_FITTING) + cleaned
    return shown("R2", good / 4, *lines, needed=False)


def right_disc(evidence: Evidence) -> Element | None:
    """R3: a new disc of this size, the right way round, the wear plate there and its right side."""
    end, size = evidence.end, evidence.case.size
    fitted = evidence.did("fit_disc")
    if not fitted:
        if evidence.taken is not Outcome.REPLACE or was_replaced(evidence):
            return None
        line = "Decided to replace the disc, and it was not done."
        return shown("R3", 0.0, line, needed=not given_up(evidence))
    checks = {
        f"a new disc of {size.name}": end.disc_part == size.name,
        "collar to the motor": not end.disc_reversed,
        "wear plate there": size.wear_plate_mm == 0 or end.wear_plate_on,
        "smooth side of the plate to the disc": end.plate_smooth_to_disc,
    }
    lines = [f"Disc fitted at {at(fitted[-1])}."]
    lines += [f"{'Yes' if kept else 'No'}: {what}." for what, kept in checks.items()]
    score = 1.0 if all(checks.values()) else 0.0
    return shown("R3", score, *lines, needed=end.into_service)


def closed_up(evidence: Evidence, rules: Rules) -> Element:
    """R4: everything back in its place and as it should sit."""
    end = evidence.end
    off = parts_off(end)
    line = f"Left off: {', '.join(off)}." if off else "Seal band, fan and cover back on."
    score = 1 - len(off) / 3
    lines = [line]
    if rules.signs_count and end.into_service:
        badly = parts_badly_fitted(evidence.setup, end)
        lines += [f"Left with {words}." for words in badly]
        score = max(0.0, score - 0.3 * len(badly))
    if was_adjusted(evidence) and end.into_service and not slack_locks(evidence.setup, end, rules):
        lines.append("All three retaining screws hold.")
    return shown("R4", score, *lines, needed=end.into_service)
