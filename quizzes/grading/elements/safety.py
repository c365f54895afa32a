"""Elements of safety: load landed, isolated, nothing falls or springs, dust bound, faces clean."""

from quizzes.grading.evidence.gathering import Evidence
from widgets.brake.judgement.remark import remark

from .scoring import Element, checked, done, on, shown

PART_LEFT_OUT = 0.5  # of the marks: the element is not reached; a choice of this scheme
SUPPLY_ON_TOO_SOON = 0.6  # of the marks: closed up with the supply on, but not at live terminals
CLOSING = ("close_box", "refit_seal", "refit_fan", "refit_ring", "refit_cover")
_CLEANED_WELL = {"vacuum", "damp_wipe"}


def kept_clear(evidence: Evidence) -> Element:
    """S1, under a load that cannot be landed: let go at once, nobody near, barred, help called."""
    end = evidence.end
    pressed = evidence.did("land_load")
    checks = {
        "clear.sent-away": end.kept_clear,
        "clear.barred": end.kept_clear and end.area_barred,
        "clear.called": end.called,
    }
    touched = evidence.hands_in
    if touched:
        return shown("S1", 0.0, done("load.still-hanging", touched[0]))
    lines = checked(checks)
    kept = sum(checks.values()) / len(checks)
    if len(pressed) > 1:
        kept = min(kept, PART_LEFT_OUT)
        lines.append(on("clear.pressed-again", pressed[1]))
    return shown("S1", kept if kept == 1 else min(kept, PART_LEFT_OUT), *lines)


def locked_out(evidence: Evidence) -> Element:
    """S2, under a load that cannot be landed: locked, so that nobody presses again."""
    kept = evidence.end.isolated and evidence.end.locked
    return shown("S2", float(kept), remark("supply.locked-out", kept=kept))


def load_landed(evidence: Evidence) -> Element:
    """S1: the hook was empty before a hand went in."""
    before = [step for step in evidence.hands_in if not step.before.load_landed]
    if before:
        return shown("S1", 0.0, done("load.still-hanging", before[0]))
    if not evidence.end.load_landed:
        return shown("S1", 0.0, remark("load.never-landed"))
    hands = evidence.hands_in
    if hands and not hands[0].before.area_barred:
        return shown("S1", PART_LEFT_OUT, done("area.not-barred", hands[0]))
    landed = evidence.did("land_load")
    line = on("load.landed", landed[0]) if landed else remark("load.was-down")
    return shown("S1", 1.0, line)


def isolated(evidence: Evidence) -> Element:  # noqa: PLR0911 (one a finding)
    """S2: locked off and proved dead whenever a hand was in."""
    hands = evidence.hands_in
    live = next((step for step in hands if not step.before.isolated), None)
    unproved = next((step for step in hands if not step.before.proved_dead), None)
    closing = [step for step in evidence.did(*CLOSING) if not step.before.isolated]
    if live:
        line = done("supply.not-locked", live)
        return shown("S2", 0.0, line)
    if unproved:
        line = done("supply.not-proved", unproved)
        return shown("S2", 0.0, line)
    if hands:
        if not all(step.before.locked for step in hands):
            return shown("S2", 0.0, remark("supply.no-lock"))
        if not all(step.before.start_tried for step in hands):
            return shown("S2", PART_LEFT_OUT, remark("supply.start-not-tried"))
    if closing:
        line = done("supply.on-while-closing", closing[0])
        live_box = any(step.action.kind == "close_box" for step in closing)
        return shown("S2", PART_LEFT_OUT if live_box else SUPPLY_ON_TOO_SOON, line)
    if not hands:
        return shown("S2", 0.0, remark("brake.never-opened"))
    proved = evidence.did("prove_dead")
    line = on("supply.proved", proved[0]) if proved else remark("supply.was-proved")
    return shown("S2", 1.0, line)


def gravity_and_springs(evidence: Evidence) -> Element | None:
    """S3: the magnet body held before its last screw was drawn; nothing cocked or thrown off."""
    drawn = evidence.did("draw_lock")
    if not drawn:
        return None
    last = next((step for step in drawn if all(step.after.drawn)), None)
    if last and not last.before.body_held:
        line = on("body.not-held", last)
        return shown("S3", 0.0, line)
    cocked = next((s for s in drawn if s.after.body_cocked and not s.before.body_cocked), None)
    if cocked:
        line = on("body.jammed", cocked)
        return shown("S3", 0.4, line, needed=False)
    return shown("S3", 1.0, remark("body.held-and-even"))


def dust(evidence: Evidence) -> Element | None:
    """S4: mask, eyes and gloves on; dust bound, not blown, and gone before measuring."""
    cleaned = evidence.did("clean")
    blown = [step for step in cleaned if step.observation.alarm]
    if blown:
        line = done("dust.in-the-air", blown[0])
        return shown("S4", 0.0, line)
    bare = [step for step in evidence.did("remove_cover") if not step.after.protected]
    if bare:
        return shown("S4", PART_LEFT_OUT, done("cover.unprotected", bare[0]))
    if not evidence.start.dust_mm > 0:
        return None
    well = [step for step in cleaned if getattr(step.action, "method", "") in _CLEANED_WELL]
    if not well:
        line = remark("dust.left-in")
        return shown("S4", 0.3, line, needed=False)
    line = done("dust.bound", well[0])
    return shown("S4", 1.0, line)


def clean_faces(evidence: Evidence) -> Element | None:
    """S5: neither oil nor solvent on the friction faces by the candidate's own hand."""
    wet = [s for s in evidence.did("clean") if getattr(s.action, "method", "") == "solvent"]
    if wet:
        line = on("faces.solvent", wet[0])
        return shown("S5", 0.0, line)
    new = evidence.did("fit_disc")
    if not new:
        return None
    if evidence.end.brake.surface == "oiled":
        line = on("faces.oil-not-wiped", new[-1])
        return shown("S5", 0.0, line)
    return shown("S5", 1.0, on("faces.clean", new[-1]))
