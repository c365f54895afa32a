"""What a job sheet says about setting the gap: screws, shims, notches of a ring, or nothing."""

from collections.abc import Mapping

from widgets.brake.gap.levelling import levelling_changes_mm, steps_of
from widgets.brake.judgement.rules import Outcome
from widgets.brake.sizes.design import Design

from .block import Block
from .entry import JobEntry
from .findings import Findings

TITLES: Mapping[Design, str] = {
    Design.HOLLOW_SCREWS: "The three screws",
    Design.SHIMS: "The shims",
    Design.ADJUSTING_RING: "The adjusting ring",
    Design.FIXED: "Setting the gap",
}
NOTHING_SETS_IT = (
    "This brake cannot be adjusted: nothing on it sets the gap, and nothing may be put in or filed "
    "off to change it. Where the gap is too large, or will be, the disc is replaced."
)
NOTHING_TO_DO = "Nothing has to be done here: this is what would bring it to the setting."


def setting(entry: JobEntry, findings: Findings) -> Block:
    """Return what to do where the gap is set, in the steps of the design, or why nothing."""
    design = entry.size.design
    title = TITLES[design]
    if not design.adjusts:
        return Block(title, (NOTHING_SETS_IT,))
    if findings.outcome not in {Outcome.ADJUST, Outcome.FIT}:
        reason = {
            Outcome.REPLACE: "First the new disc, then new readings, then the setting.",
            Outcome.REFER: "No setting puts this right.",
        }
        return Block(title, (reason[findings.outcome],))
    make = {Design.SHIMS: _shims, Design.ADJUSTING_RING: _ring}
    return make.get(design, _screws)(entry, findings)


def _shims(entry: JobEntry, findings: Findings) -> Block:
    size = entry.size
    target_mm, ratio = size.gap.setting_mm, size.screws.radius_ratio
    changes = levelling_changes_mm(findings.body, target_mm, ratio)
    rows = tuple(
        (f"{number}", f"{change:+.2f}", _shim_words(steps_of(change, size.step_mm), size.step_mm))
        for number, change in enumerate(changes, start=1)
    )
    lines = [
        (
            f"For {target_mm:g} mm all the way round, with shims of {size.step_mm:g} mm and more. "
            "A shim put in opens the gap by its thickness, one taken out closes it. Slacken the "
            "retaining screws first; tighten them, then measure again."
        )
    ]
    if findings.outcome is Outcome.FIT:
        lines.append(NOTHING_TO_DO)
    return Block(TITLES[size.design], tuple(lines), ("Spacer", "Change there, mm", "Shims"), rows)


def _shim_words(steps: int, step_mm: float) -> str:
    if not steps:
        return "leave them"
    return f"{'put in' if steps > 0 else 'take out'} {abs(steps) * step_mm:.2f} mm"


def _ring(entry: JobEntry, findings: Findings) -> Block:
    size = entry.size
    change_mm = size.gap.setting_mm - findings.body.mean_mm
    notches = steps_of(change_mm, size.step_mm)
    way = "out" if notches > 0 else "in"
    turn = f"Turn the ring {abs(notches)} notches {way}" if notches else "Leave the ring alone"
    lines = [
        (
            f"{turn}: {change_mm:+.2f} mm all the way round, at {size.step_mm:g} mm a notch. "
            "Loosen its set screw first; tighten it, then measure again. A ring cannot level "
            "a tilt."
        )
    ]
    if findings.outcome is Outcome.FIT:
        lines.append(NOTHING_TO_DO)
    return Block(TITLES[size.design], tuple(lines))


def _screws(entry: JobEntry, findings: Findings) -> Block:
    rows = tuple(
        (
            f"{one.turn.screw}",
            f"{one.turn.change_mm:+.2f} ± {one.expanded_mm:.2f}",
            _turn_words(one.turn.turn_deg),
            f"± {one.expanded_deg:.0f}°",
            f"{abs(one.turn.flats):.1f}",
        )
        for one in findings.turns
    )
    lines = [
        (
            f"For {entry.size.gap.setting_mm:g} mm all the way round, at "
            f"{entry.size.screws.pitch_mm:g} mm a turn. In closes the gap, out opens it. Slacken "
            "the retaining screws first; lock, then measure again."
        )
    ]
    guessed = {"screw_pitch_mm", "screw_thread", "screw_circle_mm", "gauging_circle_mm"}
    if guessed & entry.size.estimated:
        lines.append(
            "The thread or the circles of the screws are estimated on this limits sheet: "
            "look at the brake before you turn."
        )
    if findings.outcome is Outcome.FIT:
        lines.append(NOTHING_TO_DO)
    heads = ("Screw", "Change there, mm", "Turn", "How sure", "Flats")
    return Block(TITLES[entry.size.design], tuple(lines), heads, rows)


def _turn_words(turn_deg: float) -> str:
    if abs(turn_deg) < 0.5:
        return "leave it"
    return f"{abs(turn_deg):.0f}° {'out' if turn_deg > 0 else 'in'}"
