"""Elements of competency: which of them a job called for, in the order of the job.

Identities follow the competency breakdown of the scheme: S safety, K knowledge
of the limits, M measuring, D deciding, A adjusting, R replacing, T testing,
W written record. A case on notes asks for the decision and the findings, a brake
already open for measuring and deciding, a work order for everything. A drill asks
for what it had: nobody gauges a gap, or decides on a disc, while the body is off.
"""

from collections.abc import Iterator

from quizzes.grading.editions import Rules
from quizzes.grading.evidence.gathering import Evidence

from . import deciding, measuring, proving, safety, working
from .scoring import Element

__all__ = ["Element", "judge_elements"]


def judge_elements(evidence: Evidence, rules: Rules) -> tuple[Element, ...]:
    """Return every element that the job called for, by the rules of an edition."""
    return tuple(element for element in _elements(evidence, rules) if element is not None)


def _elements(evidence: Evidence, rules: Rules) -> Iterator[Element | None]:
    if evidence.load_stuck:
        yield from _kept_away(evidence, rules)
        return
    if not evidence.on_paper:
        yield from _safety(evidence)
    yield deciding.limits(evidence)
    if not evidence.on_paper:
        yield from _measuring(evidence, rules)
    yield deciding.decision(evidence, rules)
    yield deciding.findings(evidence, rules)
    if evidence.growth_mm:
        yield deciding.looked_ahead(evidence)
    if evidence.whole_job:
        yield from _work(evidence, rules)
        yield from _proof(evidence, rules)


def _kept_away(evidence: Evidence, rules: Rules) -> Iterator[Element | None]:
    """Yield what is called for under a load that cannot be landed: nobody near, help called."""
    yield safety.kept_clear(evidence)
    yield safety.locked_out(evidence)
    yield deciding.limits(evidence)
    yield deciding.decision(evidence, rules)
    yield deciding.findings(evidence, rules)
    yield proving.record(evidence)
    yield proving.next_due(evidence, rules)


def _safety(evidence: Evidence) -> Iterator[Element | None]:
    if evidence.from_closed:
        yield safety.load_landed(evidence)
        yield safety.isolated(evidence)
    yield safety.gravity_and_springs(evidence)
    yield safety.dust(evidence)
    yield safety.clean_faces(evidence)


def _measuring(evidence: Evidence, rules: Rules) -> Iterator[Element | None]:
    # Nobody has to gauge a brake with a broken spring; what was measured is judged all the same.
    called_for = not evidence.referred_by_sign and not evidence.began_apart
    yield measuring.instruments(evidence)
    if called_for or evidence.gaps_as_found:
        yield measuring.gap_measured(evidence, rules, needed=called_for)
        yield measuring.second_position(evidence)
    if called_for or evidence.discs_as_found:
        yield measuring.disc_measured(evidence, rules, needed=called_for)
    if called_for and (evidence.coil_asked or evidence.did("measure_coil")):
        yield measuring.coil_measured(evidence)


def _work(evidence: Evidence, rules: Rules) -> Iterator[Element | None]:
    yield working.dismantled(evidence)
    yield working.checked_before_fitting(evidence)
    yield working.right_disc(evidence)
    if working.was_adjusted(evidence) or working.was_replaced(evidence):
        if evidence.case.size.design.adjusts:
            yield working.adjusted(evidence, rules)
        yield working.locked(evidence, rules)
        yield working.measured_again(evidence, rules)
    else:
        yield working.not_adjusted(evidence)
    yield working.closed_up(evidence, rules)


def _proof(evidence: Evidence, rules: Rules) -> Iterator[Element | None]:
    if evidence.given_back:
        yield proving.release_proved(evidence)
        yield proving.hold_proved(evidence)
    if evidence.end.into_service:
        yield proving.lining_to_last(evidence)
    yield proving.record(evidence)
    yield proving.next_due(evidence, rules)
