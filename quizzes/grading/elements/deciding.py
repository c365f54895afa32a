"""Elements of deciding: the right row, the decision, the findings, the time that is left."""

from collections.abc import Sequence

from quizzes.grading.editions import Rules
from quizzes.grading.evidence.gathering import Evidence
from widgets.brake.judgement.remark import Remark, remark
from widgets.brake.judgement.rules import Outcome
from widgets.brake.judgement.signs import Finding, Sign

from .scoring import Element, shown

# Cost of a decision (row) on a brake that needs the outcome (column). A choice of this scheme:
# passing a worn brake costs most, referring always costs something, needless work a little.
COST = {
    Outcome.FIT: {Outcome.FIT: 0, Outcome.ADJUST: 20, Outcome.REPLACE: 50, Outcome.REFER: 50},
    Outcome.ADJUST: {Outcome.FIT: 1, Outcome.ADJUST: 0, Outcome.REPLACE: 40, Outcome.REFER: 40},
    Outcome.REPLACE: {Outcome.FIT: 5, Outcome.ADJUST: 4, Outcome.REPLACE: 0, Outcome.REFER: 4},
    Outcome.REFER: {Outcome.FIT: 3, Outcome.ADJUST: 3, Outcome.REPLACE: 3, Outcome.REFER: 0},
}
_GRAVITY = (Outcome.FIT, Outcome.ADJUST, Outcome.REPLACE, Outcome.REFER)
_NOTHING = "nothing"
# Where what lets a load fall shows while the gap is normal. A new disc lays hub and springs bare.
_LOOKED_AT_TO_KEEP = ("edge", "springs", "hub")
_LOOKED_AT_TOO = ("leads", "lever", "screws")  # the same, where a single look costs no marks
MOST_UNSEEN = 2  # of the first three from which a case is not right; a choice of this scheme
KEPT_UNSEEN, NOT_NAMED = "findings.kept-unseen", "findings.not-named"


def limits(evidence: Evidence) -> Element:
    """K3: the limits of this size, not of another."""
    size = evidence.case.size.name
    decided = evidence.decision
    if decided is None:
        return shown("K3", 0.0, remark("row.none"))
    row = decided.after.decision_row
    if row != size:
        line = remark("row.wrong", row=row or "", size=size)
        return shown("K3", 0.0, line)
    if not decided.before.plate_read:
        line = remark("row.guessed", size=size)
        return shown("K3", 0.5, line)
    return shown("K3", 1.0, remark("row.right", size=size))


def decision(evidence: Evidence, rules: Rules) -> Element:
    """D1: the decision against what the candidate's own readings and findings support."""
    taken, own = evidence.taken, evidence.own_conclusion
    if taken is None:
        return shown("D1", 0.0, remark("decision.none"))
    lines = [remark("decision.taken", taken=taken, step=evidence.decided_at + 1), *own.reasons]
    if own.outcome is None:
        return shown("D1", 0.0, *lines)
    lines.append(remark("decision.supported", outcome=own.outcome))
    if taken in own.arguable:
        lines.append(remark("decision.arguable"))
        return shown("D1", _arguable(taken, own.outcome, rules), *lines, needed=False)
    score = decision_share(taken, own.outcome, rules)
    # A needless job costs something and fails nobody; false alarms are looked at apart.
    needed = taken not in false_alarms(own.outcome)
    return shown("D1", score, *lines, needed=needed)


def looked_ahead(evidence: Evidence) -> Element | None:
    """D3: decided for the time until the planned inspection, and not for today alone."""
    taken, own = evidence.taken, evidence.own_conclusion
    if taken is None or own.outcome is None:
        return None
    heeded = taken is own.outcome or taken in own.arguable or taken in false_alarms(own.outcome)
    line = remark("ahead.heeded") if heeded else remark("ahead.not-heeded")
    return shown("D3", float(heeded), line, needed=False)


def _arguable(taken: Outcome, right: Outcome, rules: Rules) -> float:
    """Return the marks of a decision that can be argued: in full where it is the more careful."""
    careful = _GRAVITY.index(taken) > _GRAVITY.index(right)
    return 1.0 if careful else rules.arguable_share


def decision_share(taken: Outcome, right: Outcome, rules: Rules) -> float:
    """Return the share of marks for a decision on a brake that needs `right`, 0 to 1."""
    costs = {outcome: float(COST[outcome][right]) for outcome in Outcome}
    if right is Outcome.REFER:
        costs[Outcome.REPLACE] = rules.disc_for_refer
    return 1 - (costs[taken] - min(costs.values())) / (max(costs.values()) - min(costs.values()))


def false_alarms(right: Outcome) -> frozenset[Outcome]:
    """Return the decisions that ask for more than a brake needs, and harm nobody."""
    return frozenset(_GRAVITY[_GRAVITY.index(right) + 1 :])


def findings(evidence: Evidence, rules: Rules) -> Element | None:
    """D2: what was found is named, nothing is named that is not there, nothing was overlooked."""
    decided = evidence.decision
    if decided is None:
        return None
    named = [Finding(one) for one in decided.after.decision_found if one != _NOTHING]
    asked = [*evidence.named_by_readings.asked]
    asked += [frozenset({sign.finding}) for sign in evidence.own_signs if _to_be_named(sign)]
    groups = list(dict.fromkeys(asked))
    missed = [group for group in groups if group.isdisjoint(named)]
    allowed = evidence.named_by_readings.allowed.union(*groups)
    allowed |= {sign.finding for sign in evidence.own_signs}
    false = [one for one in named if one not in allowed]
    unseen = [one for one in evidence.overlooked if one.sign.needs is not None]
    whole = len(groups) + len(unseen)
    share = (len(groups) - len(missed)) / whole if whole else 1.0
    lines = [remark("findings.named", named=named), *_looked(evidence)]
    lines += [remark(NOT_NAMED, any_of=sorted(group)) for group in missed]
    lines += [remark("findings.not-there", finding=one) for one in false]
    lines += [one.remark for one in unseen]
    score = max(0.0, share - rules.false_finding_cost * len(false))
    unseen_parts = _kept_unseen(evidence, _LOOKED_AT_TO_KEEP)
    all_unseen = [*unseen_parts, *_kept_unseen(evidence, _LOOKED_AT_TOO)]
    if all_unseen:
        lines.append(remark(KEPT_UNSEEN, places=all_unseen))
        score *= 1 - len(unseen_parts) / len(_LOOKED_AT_TO_KEEP)
    to_tell = {sign.finding for sign in evidence.own_signs if sign.told}
    needed = len(unseen_parts) >= MOST_UNSEEN or not to_tell <= set(named)
    # Whoever takes a job over has to know what it was referred for.
    needed |= evidence.taken is Outcome.REFER and bool(groups) and missed == groups
    return shown("D2", score, *lines, needed=needed)


def _to_be_named(sign: Sign) -> bool:
    return sign.needs is not None or sign.told


def _kept_unseen(evidence: Evidence, places: Sequence[str]) -> list[str]:
    """Return where nobody looked at a brake that was to be kept in use with its disc in it."""
    if evidence.on_paper or evidence.taken not in {Outcome.FIT, Outcome.ADJUST}:
        return []
    return [place for place in places if place not in evidence.looked_at]


def _looked(evidence: Evidence) -> list[Remark]:
    """Return where the candidate looked before deciding."""
    if evidence.on_paper:
        return []
    return [remark("findings.looked-at", places=sorted(evidence.looked_at))]
