"""Elements of adjusting and replacing: what was done in which order, and how the brake was left."""

from quizzes.grading.editions import Rules
from quizzes.grading.evidence.as_left import parts_badly_fitted, parts_off, set_well, slack_locks
from quizzes.grading.evidence.gathering import Evidence, places_apart
from quizzes.grading.evidence.log import SCREW_WORK
from widgets.bench.actions.adjusting import SETS_THE_GAP
from widgets.brake.judgement.remark import Remark, remark
from widgets.brake.judgement.rules import Outcome

from .measuring import HALF_ROUND_SHARE, widest_hole_deg
from .scoring import Element, checked, on, shown

_IN_ONE_GO_COST = 0.3  # of the marks for locking: tightened from slack to full; a choice
# Of the marks for locking by a wrench that was never tried: it fails no case, and shows no skill.
WRENCH_UNTRIED = 0.5
_CLOSING_PARTS = 4  # seal band, fan, cover, terminal box
_LOOKS_BEFORE_FITTING = ("hub", "wear_plate", "new_disc")


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
    line = remark("screws.not-touched")
    return shown("A1", 0.0, line, needed=not given_up(evidence))


def adjusted(evidence: Evidence, rules: Rules) -> Element:
    """A1: the gap set evenly to the setting value."""
    found = set_well(evidence.setup, evidence.end, rules)
    score = 0.5 * found.on_setting + 0.5 * found.even
    turned = evidence.did(*SETS_THE_GAP)
    line = remark("screws.not-turned")
    if turned:
        line = on("screws.turned", turned[0], times=len(turned))
    # Given up with nothing against it but the setting itself, the job was not done.
    undone = evidence.as_left in {Outcome.FIT, Outcome.ADJUST}
    needed = evidence.given_back or (undone and not evidence.cannot_be_set)
    return shown("A1", score, line, *found.lines, needed=needed)


def locked(evidence: Evidence, rules: Rules) -> Element:
    """A2: all three retaining screws at the torque of the size, in stages."""
    end = evidence.end
    proper_nm = evidence.case.size.screws.retaining_torque_nm
    wrong = [
        remark("lock.torque", screw=number, torque_nm=lock_nm)
        for number, lock_nm in enumerate(end.lock_nm, start=1)
        if abs(lock_nm - proper_nm) > rules.torque_share * proper_nm
    ]
    needed = evidence.given_back
    if end.ring_loose:
        return shown("A2", 0.0, remark("lock.ring-loose"), needed=needed)
    if wrong:
        line = remark("lock.wrong-torque", screws=wrong, proper_nm=proper_nm)
        return shown("A2", 0.4 if len(wrong) == 1 else 0.0, line, needed=needed)
    crossed = [s for s in evidence.did("start_lock") if s.observation.facts.get("crossed")]
    if crossed:
        return shown("A2", 0.4, on("lock.started-crossed", crossed[0]), needed=needed)
    lines = [remark("lock.all-at-torque", proper_nm=proper_nm)]
    lines += _wrench_untried(evidence)
    if len(lines) > 1:
        return shown("A2", WRENCH_UNTRIED, *lines, needed=False)
    worked = {
        getattr(step.action, "screw", 0) for step in evidence.did("loosen_lock", "start_lock")
    }
    at_once = [n for n in (1, 2, 3) if n in worked and end.in_one_go[n - 1]]
    if at_once:
        lines.append(remark("lock.in-one-go", screws=at_once))
    cost = _IN_ONE_GO_COST if len(lines) > 1 else 0.0
    return shown("A2", 1.0 - cost, *lines, needed=needed)


def _wrench_untried(evidence: Evidence) -> list[Remark]:
    """Return the line on a torque that nobody can know: of a wrench that was never tried."""
    locked_at = evidence.did("tighten_lock")
    tried = [
        step
        for step in evidence.did("check_tool")
        if getattr(step.action, "tool", "") == "wrench"
        and (not locked_at or step.number < locked_at[-1].number)
    ]
    return [] if tried or not locked_at else [remark("lock.wrench-untried")]


def measured_again(evidence: Evidence, rules: Rules) -> Element:
    """A3: gauged all round again after the last screw was locked."""
    judged = [one for one in evidence.gaps_as_left if one.supported]
    places = places_apart(judged)
    line = remark("gap.written-after", places=places, step=evidence.last_gap_work + 1)
    score = 1.0 if places >= rules.places else places / (rules.places + 2)
    if widest_hole_deg(judged) > rules.widest_hole_deg:
        score = min(score, HALF_ROUND_SHARE)
    needed = evidence.given_back
    return shown("A3", score, line, needed=needed)


def dismantled(evidence: Evidence) -> Element | None:
    """R1: leads and lever off first, weight held, screws drawn evenly, then the body."""
    removed = evidence.did("remove_body")
    if not removed:
        return None
    body = removed[0]
    checks = {
        "apart.leads-off-first": body.before.leads == "off",
        "apart.body-in-sling": body.before.body_held,
        "apart.not-jammed": not body.before.body_cocked,
    }
    lines = checked(checks)
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
        remark("fitting.looked-at", at=place, kept=place in looked)
        for place in _LOOKS_BEFORE_FITTING
    ]
    lines.append(remark("fitting.spline-cleaned", kept=cleaned))
    good = sum(place in looked for place in _LOOKS_BEFORE_FITTING) + cleaned
    return shown("R2", good / 4, *lines, needed=False)


def right_disc(evidence: Evidence) -> Element | None:
    """R3: a new disc of this size, the right way round, the wear plate there and its right side."""
    end, size = evidence.end, evidence.case.size
    fitted = evidence.did("fit_disc")
    if not fitted:
        if evidence.taken is not Outcome.REPLACE or was_replaced(evidence):
            return None
        line = remark("disc.not-replaced")
        return shown("R3", 0.0, line, needed=not given_up(evidence))
    checks = {
        "fitted.right-size": end.disc_part == size.name,
        "fitted.collar-to-motor": not end.disc_reversed,
        "fitted.wear-plate": size.wear_plate_mm == 0 or end.wear_plate_on,
        "fitted.smooth-to-disc": end.plate_smooth_to_disc,
    }
    lines = [on("disc.fitted", fitted[-1])]
    lines += checked(checks)
    score = 1.0 if all(checks.values()) else 0.0
    return shown("R3", score, *lines, needed=evidence.given_back)


def closed_up(evidence: Evidence, rules: Rules) -> Element:
    """R4: everything back in its place and as it should sit."""
    end = evidence.end
    off = parts_off(end)
    score = 1 - len(off) / _CLOSING_PARTS
    lines = [remark("closed.left-off", parts=off) if off else remark("closed.all-on")]
    if evidence.given_back:
        badly = parts_badly_fitted(evidence.setup, end)
        lines += badly
        score = max(0.0, score - 0.3 * len(badly))
    if (
        was_adjusted(evidence)
        and evidence.given_back
        and not slack_locks(evidence.setup, end, rules)
    ):
        lines.append(remark("closed.screws-hold"))
    return shown("R4", score, *lines, needed=evidence.given_back)
