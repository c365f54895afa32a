"""Elements of safety: load landed, isolated, nothing falls or springs, dust bound, faces clean."""

from quizzes.grading.evidence.gathering import Evidence
from quizzes.grading.evidence.log import GAP_WORK

from .scoring import Element, at, named, shown

# What puts a hand where the brake, the fan or a live terminal can hurt it.
HANDS_IN = frozenset(
    {"remove_cover", "remove_ring", "remove_fan", "remove_seal", "clean", "gauge_gap",
     "measure_disc", "try_lock", "set_lever", "disconnect_leads", "remove_lever", "hold_body",
     "remove_disc", "clean_spline", "remove_wear_plate"}
) | GAP_WORK  # fmt: skip
CLOSING = ("refit_seal", "refit_fan", "refit_ring", "refit_cover")
_CLEANED_WELL = {"vacuum", "damp_wipe"}


def load_landed(evidence: Evidence) -> Element:
    """S1: the hook was empty before a hand went in."""
    before = [step for step in evidence.did(*HANDS_IN) if not step.before.load_landed]
    if before:
        line = f"{named(before[0])} at {at(before[0])} with the load still hanging."
        return shown("S1", 0.0, line)
    if not evidence.end.load_landed:
        return shown("S1", 0.0, "The load was never landed.")
    landed = evidence.did("land_load")
    line = f"Load down at {at(landed[0])}, before opening." if landed else "The load was down."
    return shown("S1", 1.0, line)


def isolated(evidence: Evidence) -> Element:
    """S2: locked off and proved dead whenever a hand was in."""
    hands = evidence.did(*HANDS_IN)
    live = next((step for step in hands if not step.before.isolated), None)
    unproved = next((step for step in hands if not step.before.proved_dead), None)
    closing = [step for step in evidence.did(*CLOSING) if not step.before.isolated]
    if live:
        line = f"{named(live)} at {at(live)} without the supply locked off."
        return shown("S2", 0.0, line)
    if unproved:
        line = f"{named(unproved)} at {at(unproved)} before proving dead."
        return shown("S2", 0.0, line)
    if closing:
        line = f"{named(closing[0])} at {at(closing[0])} with the supply on: the fan may start."
        return shown("S2", 0.6, line)
    if not hands:
        return shown("S2", 0.0, "The brake was never opened.")
    proved = evidence.did("prove_dead")
    where = f" at {at(proved[0])}" if proved else ""
    line = f"Locked off and proved dead{where}, for all work inside."
    return shown("S2", 1.0, line)


def gravity_and_springs(evidence: Evidence) -> Element | None:
    """S3: the magnet body held before its last screw was drawn; nothing cocked or thrown off."""
    drawn = evidence.did("draw_lock")
    if not drawn:
        return None
    last = next((step for step in drawn if all(step.after.drawn)), None)
    if last and not last.before.body_held:
        line = f"Last retaining screw drawn at {at(last)} with nothing holding the magnet body."
        return shown("S3", 0.0, line)
    cocked = next((s for s in drawn if s.after.body_cocked and not s.before.body_cocked), None)
    if cocked:
        line = f"A screw was drawn at {at(cocked)} while others were tight: the body jammed."
        return shown("S3", 0.4, line, needed=False)
    return shown("S3", 1.0, "Body in a sling, screws slackened evenly.")


def dust(evidence: Evidence) -> Element | None:
    """S4: dust bound, not blown, and gone before measuring."""
    cleaned = evidence.did("clean")
    blown = [step for step in cleaned if step.observation.alarm]
    if blown:
        line = f"{named(blown[0])} at {at(blown[0])}: brake dust in the air that people breathe."
        return shown("S4", 0.0, line)
    if not evidence.start.dust_mm > 0:
        return None
    well = [step for step in cleaned if getattr(step.action, "method", "") in _CLEANED_WELL]
    if not well:
        line = "The dust was left in the gap: leaves read low through it."
        return shown("S4", 0.3, line, needed=False)
    line = f"{named(well[0])} at {at(well[0])}: dust bound before measuring."
    return shown("S4", 1.0, line)


def clean_faces(evidence: Evidence) -> Element | None:
    """S5: neither oil nor solvent on the friction faces by the candidate's own hand."""
    wet = [s for s in evidence.did("clean") if getattr(s.action, "method", "") == "solvent"]
    if wet:
        line = f"Solvent used at {at(wet[0])}: it runs onto the lining and spoils it."
        return shown("S5", 0.0, line)
    new = evidence.did("fit_disc")
    if not new:
        return None
    if evidence.end.brake.surface == "oiled":
        line = f"Disc fitted at {at(new[-1])} against faces that were not wiped of oil."
        return shown("S5", 0.0, line)
    return shown("S5", 1.0, f"Disc fitted at {at(new[-1])}, dry and clean.")
