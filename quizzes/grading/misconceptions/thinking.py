"""Misunderstandings that show in the decision: what explains it, if readings and findings do not.

Each looks at one log and answers whether it is there to be seen. Where the row was wrong or
the disc was read by rule, every decision follows from that, and nothing else is read into it.
"""

from collections.abc import Sequence

from quizzes.grading.evidence.gathering import Evidence, places_apart
from quizzes.grading.evidence.plane import disc_tapers
from widgets.brake.judgement import Zone, zone
from widgets.brake.judgement.rules import Conclusion, Outcome, Reading
from widgets.brake.judgement.signs import conclude_all
from widgets.instruments.written import DISC_U_MM

EXACT_U_MM = 0.001  # mm, what somebody allows who takes a leaf for the gap itself
FEWEST_PLACES = 3  # fewer tell nothing of a tilt
_NO_WEAR = {Outcome.FIT, Outcome.ADJUST}


def own_hand(evidence: Evidence) -> bool:
    """Return whether the readings were the candidate's own and not a colleague's."""
    return not evidence.on_paper


def wrong_row(evidence: Evidence) -> bool:
    """Return whether the decision rests on the limits of another size."""
    decided = evidence.decision
    return decided is not None and decided.after.decision_row != evidence.case.size.name


def rule_for_the_disc(evidence: Evidence) -> bool:
    """Return whether the disc readings that the decision rests on were taken with a rule."""
    return any(one.tool == "rule" and not one.given for one in evidence.discs_as_found)


def _open(evidence: Evidence) -> bool:
    """Return whether a decision is there that its own evidence does not ask for.

    What the notes ask for as they were written is no misunderstanding, whatever else it is.
    """
    taken, own, notes = evidence.taken, evidence.own_conclusion, evidence.by_notes
    if taken is None or wrong_row(evidence) or rule_for_the_disc(evidence):
        return False
    if taken is notes.outcome or taken in notes.arguable:
        return False
    return own.outcome is not None and taken is not own.outcome and taken not in own.arguable


def one_place(evidence: Evidence) -> bool:
    """Return whether the gap was judged from fewer than three places."""
    judged = evidence.gaps_as_found
    asked = evidence.decision is not None and not evidence.referred_by_sign
    felt_at = {round(one.angle_deg) for one in evidence.gap_readings}  # written or not
    few = 0 < places_apart(judged) < FEWEST_PLACES and len(felt_at) < FEWEST_PLACES
    return own_hand(evidence) and asked and few


def without_the_disc(evidence: Evidence) -> bool:
    """Return whether the gap was judged, the disc not measured, and nothing else found decides."""
    if evidence.decision is None or evidence.referred_by_sign or evidence.on_paper:
        return False
    return bool(evidence.gaps_as_found) and not evidence.discs_as_found


def _with_discs(evidence: Evidence, discs: Sequence[Reading]) -> Conclusion:
    size, signs = evidence.case.size, evidence.own_signs
    return conclude_all(size, evidence.gap_readings, discs, signs, evidence.growth_mm)


def _disc_worn(evidence: Evidence) -> bool:
    """Return whether the least disc reading is not clear of its limit."""
    discs, least_mm = evidence.disc_readings, evidence.case.size.disc.min_mm
    if not discs:
        return False
    thinnest = min(discs, key=lambda one: one.value_mm)
    return zone(thinnest.value_mm, thinnest.u_mm, lower=least_mm) is not Zone.CONTINUE


def by_mean_disc(evidence: Evidence) -> bool:
    """Return whether the decision is that of the mean disc reading, not that of the least one."""
    if not _open(evidence) or evidence.taken not in _NO_WEAR or not _disc_worn(evidence):
        return False
    discs = evidence.disc_readings
    if not disc_tapers(discs):
        return False
    mean_mm = sum(one.value_mm for one in discs) / len(discs)
    return _with_discs(evidence, [Reading(0.0, mean_mm, DISC_U_MM)]).outcome is evidence.taken


def _mean_gap_fits(evidence: Evidence) -> bool:
    """Return whether the mean of the gap is clear of its largest: that may be what was judged."""
    gaps, largest_mm = evidence.gap_readings, evidence.case.size.gap.max_mm
    mean_mm = sum(one.value_mm for one in gaps) / len(gaps) + evidence.growth_mm
    return zone(mean_mm, gaps[0].u_mm, upper=largest_mm) is Zone.CONTINUE


def step_exact(evidence: Evidence) -> bool:
    """Return whether the decision is that of the leaf that went in, taken for the gap itself."""
    if not _open(evidence) or not evidence.gap_readings or not evidence.disc_readings:
        return False
    if evidence.taken is Outcome.REPLACE or by_mean_disc(evidence) or _mean_gap_fits(evidence):
        return False
    size, signs = evidence.case.size, evidence.own_signs
    exact = [
        Reading(one.reading.angle_deg, one.go_mm, EXACT_U_MM) for one in evidence.gaps_as_found
    ]
    found = conclude_all(size, exact, evidence.disc_readings, signs, evidence.growth_mm)
    return found.outcome is evidence.taken


def normal_gap(evidence: Evidence) -> bool:
    """Return whether the decision is that of gap and disc alone, while a finding asks for more."""
    if evidence.taken not in _NO_WEAR | {Outcome.REPLACE}:
        return False
    if wrong_row(evidence) or rule_for_the_disc(evidence):
        return False
    alone = evidence.by_readings.outcome
    if alone is not evidence.taken:
        return False
    if evidence.own_conclusion.outcome is not alone and evidence.taken not in (
        evidence.own_conclusion.arguable
    ):
        return True
    grave = [one for one in evidence.overlooked if one.sign.needs is Outcome.REFER]
    return bool(grave) and evidence.taken is Outcome.FIT


def worn_disc_kept(evidence: Evidence) -> bool:
    """Return whether the disc is at its end by the candidate's own evidence, and was to stay."""
    if not _open(evidence) or evidence.taken not in _NO_WEAR:
        return False
    finished = evidence.own_conclusion.outcome is Outcome.REPLACE
    explained = normal_gap(evidence) or by_mean_disc(evidence) or step_exact(evidence)
    return finished and not explained


def passed_out_of_limits(evidence: Evidence) -> bool:
    """Return whether it was passed as fit although its disc was read under its least."""
    discs, least_mm = evidence.disc_readings, evidence.case.size.disc.min_mm
    under = bool(discs) and min(one.value_mm for one in discs) < least_mm
    return evidence.taken is Outcome.FIT and under and worn_disc_kept(evidence)


def worn_disc_adjusted(evidence: Evidence) -> bool:
    """Return whether a disc at its end was to stay and its gap to be set."""
    return evidence.taken is Outcome.ADJUST and worn_disc_kept(evidence)


def never_wrong_at_all(evidence: Evidence) -> bool:
    """Return whether it was passed as fit while the own readings of gap or disc say otherwise."""
    return never_wrong(evidence) or passed_out_of_limits(evidence)


def good_disc_replaced(evidence: Evidence) -> bool:
    """Return whether a disc was to be changed that is good by the candidate's own evidence."""
    if not _open(evidence) or evidence.taken is not Outcome.REPLACE:
        return False
    own = evidence.own_conclusion
    finished = _disc_worn(evidence) or Outcome.REPLACE in own.arguable
    finished = finished or any(
        Outcome.REPLACE is sign.needs or Outcome.REPLACE in sign.also for sign in evidence.own_signs
    )
    return bool(evidence.disc_readings) and not finished


def never_wrong(evidence: Evidence) -> bool:
    """Return whether it was passed as fit while the own gap readings clearly say otherwise."""
    if not _open(evidence) or evidence.taken is not Outcome.FIT or _disc_worn(evidence):
        return False
    told = evidence.by_readings.outcome in {Outcome.ADJUST, Outcome.REFER}
    clearly = bool(evidence.named_by_readings.asked)
    return told and clearly and not step_exact(evidence)


def always_adjusted(evidence: Evidence) -> bool:
    """Return whether the gap was to be set although the own gap readings ask for no setting."""
    if not _open(evidence) or evidence.taken is not Outcome.ADJUST or _disc_worn(evidence):
        return False
    asked = any(sign.needs is Outcome.ADJUST for sign in evidence.own_signs)
    alone = evidence.by_readings
    called_for = alone.outcome is Outcome.ADJUST or Outcome.ADJUST in alone.arguable
    kept = evidence.own_conclusion.outcome is Outcome.REPLACE
    return (
        alone.outcome is not None and not (asked or called_for or kept) and not step_exact(evidence)
    )
