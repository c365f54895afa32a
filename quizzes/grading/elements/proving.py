"""Elements of proving and recording: release, hold, the record, the next date, the tag."""

from collections.abc import Iterable

from quizzes.cases.next_due import next_days
from quizzes.grading.editions import Rules
from quizzes.grading.evidence.gathering import Evidence
from quizzes.grading.evidence.log import Step
from widgets.brake.judgement.remark import Remark, remark
from widgets.brake.judgement.rules import Outcome, Reading

from .deciding import KEPT_UNSEEN
from .scoring import Element, checked, on, shown
from .working import was_replaced

MONTH_DAYS = 31  # a date within a month fails nobody, however little is left; a choice
# Of the marks for a release heard, a shaft felt free, a run without load: the element is reached
# with the release and the shaft, and by neither of them with the run; choices of this scheme.
HEARD, FELT, RUN = 0.45, 0.45, 0.1
AT_ODDS = 0.5  # of the marks at most for a record whose end contradicts its decision; a choice
_GOES_BACK = frozenset({Outcome.FIT, Outcome.ADJUST, Outcome.REPLACE})


def release_proved(evidence: Evidence) -> Element:
    """T1: the release heard after the last work, the shaft felt free, a run without load."""
    since = evidence.last_work
    heard = [s for s in evidence.did("energise") if s.number > since and s.after.released]
    turned = [
        s
        for s in evidence.did("turn_shaft")
        if s.number > since and s.observation.facts.get("turns") == "freely" and s.before.isolated
    ]
    run = _after(evidence.did("test_run"), since)
    lifted = _after(evidence.did("test_hold"), since)
    late = bool(run and lifted) and lifted[0].number < run[0].number
    lines: tuple[Remark, ...] = (
        _last("release.heard", heard) or remark("release.not-tried"),
        _last("shaft.felt-free", turned) or remark("shaft.not-felt"),
        (on("run.after-the-load", run[0]) if late else _last("run.done", run))
        or remark("run.not-done"),
    )
    if not any(getattr(s.action, "what", "") == "voltage" for s in evidence.did("measure_coil")):
        lines = (*lines, remark(KEPT_UNSEEN, places=["voltage"]))
    score = HEARD * bool(heard) + FELT * bool(turned) + RUN * (bool(run) and not late)
    return shown("T1", score, *lines)


def hold_proved(evidence: Evidence) -> Element:
    """T2: the test that the work order ends with, after the last work, by whoever may do it."""
    order, since = evidence.setup.order, evidence.last_work
    if evidence.end.awaits_test:
        left = _load_test_is_for_others(evidence)
        line = remark("hold.left-for-others") if left else remark("hold.could-have-tested")
        return shown("T2", float(left), line)
    if order.ends_with == "run":
        run = _after(evidence.did("test_run"), since)
        line = _last("hold.run-is-enough", run) or remark("run.not-done")
        return shown("T2", float(bool(run)), line)
    held = [
        step
        for step in evidence.did("test_hold")
        if step.number > since and step.observation.facts.get("holds")
    ]
    if order.brakes > 1:
        return _each_held(held, dynamic=order.ends_with == "dynamic")
    if order.ends_with == "dynamic":
        held = [step for step in held if step.observation.facts.get("dynamic")] or []
        line = _last("hold.stopped-too", held) or remark("hold.not-stopped")
        return shown("T2", float(bool(held)), line)
    line = _last("hold.shown", held) or remark("hold.not-shown")
    return shown("T2", float(bool(held)), line)


def _each_held(held: Iterable[Step], *, dynamic: bool) -> Element:
    """T2 with two brakes: each has held the load by itself, for a good one hides a bad one."""
    good = [step for step in held if step.observation.facts.get("dynamic") or not dynamic]
    alone = {step.observation.facts.get("on") for step in good}
    checks = {"hold.this-alone": "this" in alone, "hold.other-alone": "other" in alone}
    return shown("T2", sum(checks.values()) / len(checks), *checked(checks))


def _load_test_is_for_others(evidence: Evidence) -> bool:
    """Return whether the order asks for a load test and does not let the candidate do it."""
    order = evidence.setup.order
    return order.ends_with != "run" and "load-test" not in order.may


def _after(steps: Iterable[Step], since: int) -> list[Step]:
    return [step for step in steps if step.number > since]


def _last(code: str, steps: list[Step]) -> Remark | None:
    return on(code, steps[-1]) if steps else None


def record(evidence: Evidence) -> Element:
    """W1: readings, decision and hand-over on the record and of one mind."""
    end, decided, last = evidence.end, evidence.decision, evidence.did("decide")
    final = Outcome(last[-1].after.decision) if last else None
    if end.awaits_test:
        fits = final in _GOES_BACK and _load_test_is_for_others(evidence)
    else:
        fits = final in _GOES_BACK if end.into_service else final in _not_back(evidence)
    measured = not evidence.referred_by_sign
    read = {
        "record.gap-read-first": bool(evidence.gaps_as_found) or not measured,
        "record.disc-read-first": bool(evidence.discs_as_found) or not measured,
    }
    checks = ({} if evidence.began_apart else read) | {
        "record.decided-first": bool(decided) and evidence.decided_at < evidence.first_work,
        "record.hand-over-fits": end.handed_over and fits,
    }
    lines = checked(checks)
    share = sum(checks.values()) / len(checks)
    return shown("W1", share if fits else min(share, AT_ODDS), *lines)


def _not_back(evidence: Evidence) -> frozenset[Outcome]:
    """Return the decisions after which a hoist may stay locked out."""
    done = was_replaced(evidence) and evidence.end.disc_part != "old"
    return frozenset({Outcome.REFER}) if done else frozenset({Outcome.REFER, Outcome.REPLACE})


def next_due(evidence: Evidence, rules: Rules) -> Element:
    """W2: in service with a date that wear and the local rule allow; else locked and tagged."""
    end = evidence.end
    if not end.into_service:
        kept = end.handed_over and end.isolated
        line = remark("due.tagged-out") if kept else remark("due.neither")
        return shown("W2", float(kept), line)
    if end.next_days is None:
        return shown("W2", 0.0, remark("due.no-date"))
    allowed = days_allowed(evidence)
    line = remark("due.date", next_days=end.next_days, allowed_days=allowed)
    if end.next_days > max(allowed * rules.due_far, MONTH_DAYS):
        return shown("W2", 0.0, line)
    good = end.next_days <= max(allowed * rules.due_slack, allowed + 1)
    return shown("W2", 1.0 if good else 0.3, line, needed=False)


def days_allowed(evidence: Evidence) -> int:
    """Return the days to the next inspection that the candidate's own last readings allow."""
    gaps = [one.reading for one in evidence.gaps_as_left or evidence.gaps_as_found]
    return next_days(evidence.case.size, evidence.order, gaps, discs_now(evidence))


def discs_now(evidence: Evidence) -> list[Reading]:
    """Return the disc readings of what is on the hub now; none of a new disc."""
    if evidence.end.disc_part != "old":
        return []
    return [one.reading for one in evidence.discs_as_found]


def lining_to_last(evidence: Evidence) -> Element | None:
    """D3: nothing goes back on a disc that will pass its limit before the next inspection."""
    end, discs = evidence.end, discs_now(evidence)
    if not end.into_service or not discs or end.next_days is None:
        return None
    size, order = evidence.case.size, evidence.order
    allowed = next_days(size, order, [], discs)
    left_mm = min(one.value_mm for one in discs) - size.disc.min_mm
    line = remark("due.disc-left", left_mm=left_mm, allowed_days=allowed, next_days=end.next_days)
    good = end.next_days <= max(2 * allowed, allowed + 1)
    return shown("D3", float(good), line, needed=False)
