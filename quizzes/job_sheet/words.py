"""The findings of a job sheet as texts: blocks that the page draws and the paper prints."""

import datetime as dt
import math

from widgets.brake.judgement import COVERAGE_FACTOR
from widgets.brake.judgement.rules import Outcome, Reading
from widgets.brake.judgement.words import sentences

from .block import Block
from .entry import JobEntry
from .findings import Findings, Summary, summary
from .history import CONFIDENCE, History, next_date
from .setting import setting

VERDICTS = {
    Outcome.FIT: "Fit for service, by these readings",
    Outcome.ADJUST: "Adjust",
    Outcome.REPLACE: "Replace the disc",
    Outcome.REFER: "Withdraw and refer",
}
NEXT_STEPS = {
    Outcome.FIT: (
        "Prove the brake before it goes back to work: release seen and heard, holding, "
        "and the load test that the rules ask for."
    ),
    Outcome.ADJUST: (
        "Set the gap, lock what sets it, measure all the way round again, and prove "
        "the brake. Locking moves the gap."
    ),
    Outcome.REPLACE: (
        "Fit a new disc, set the gap as after an adjustment where it can be set, lock, measure "
        "again, and prove the brake."
    ),
    Outcome.REFER: (
        "Leave the hoist locked and tagged out, and give this record to the person who may decide."
    ),
}
UNSAFE = "These readings rule out sending the hoist back to work as it is: a load could fall."
CALCULATION = (
    "This is a calculation from what was typed in. It is not a permission. The maker’s data for "
    "this brake, the local code and the person licensed to decide come first."
)


def verdict(findings: Findings) -> Block:
    """Return the conclusion with its reasons and what comes next."""
    outcome = findings.outcome
    lines = [*findings.doubts, *sentences(findings.conclusion.reasons)]
    if findings.conclusion.arguable:
        lines.append(
            "A limit is near: a person who may decide could argue for leaving it as it is."
        )
    if Outcome.FIT in findings.conclusion.unsafe:
        lines.append(UNSAFE)
    lines += [
        (
            f"Chance that the widest gap keeps its limit: {_chance(findings.gap_chance)}. Chance "
            f"that the disc does: {_chance(findings.disc_chance)}. This holds if nothing "
            "else is known."
        ),
        NEXT_STEPS[outcome],
    ]
    return Block(VERDICTS[outcome], tuple(lines))


def blocks(entry: JobEntry, findings: Findings, history: History) -> tuple[Block, ...]:
    """Return everything after the conclusion, in the order in which it is read."""
    made = [_readings(findings), _plane(entry, findings)]
    if findings.turned_fit:
        made.append(_reversal(findings))
    made += [
        setting(entry, findings),
        _wear(entry, findings, history),
        _next(entry, findings, history),
    ]
    return tuple(made)


def _readings(findings: Findings) -> Block:
    rows = [_summary_row("Air gap", findings.gaps)]
    if findings.turned:
        rows.append(_summary_row("Air gap, rotor turned by half", findings.turned))
    rows.append(_summary_row("Disc over both linings", findings.discs))
    heads = ("What", "Places", "Mean, mm", "Least, mm", "Largest, mm", "Spread, mm", "Each ±, mm")
    words = (
        f"± is the expanded uncertainty of one reading, k = {COVERAGE_FACTOR:g}: about 95 in 100 "
        "of such readings are no further off."
    )
    return Block("The readings", (words,), heads, tuple(rows))


def _summary_row(name: str, readings: tuple[Reading, ...]) -> tuple[str, ...]:
    short: Summary = summary(readings)
    expanded = COVERAGE_FACTOR * max(reading.u_mm for reading in readings)
    numbers = (short.mean_mm, short.least_mm, short.most_mm, short.spread_mm, expanded)
    return (name, str(short.count), *(f"{number:.3f}" for number in numbers))


def _plane(entry: JobEntry, findings: Findings) -> Block:
    fit, limit_mm = findings.fit, entry.size.gap.evenness_mm
    side = (
        f"widest at {_angle(fit.plane.widest_deg)}"
        if findings.tilt_shows
        else "within the scatter of the readings, so neither side can be called the wide one"
    )
    lines = [
        (
            f"Plane through the readings: mean {fit.plane.mean_mm:.3f} mm, "
            f"{2 * fit.plane.tilt_mm:.3f} mm from widest to narrowest, {side}. "
            f"Allowed {limit_mm:g} mm{_estimated(entry, 'gap_evenness_mm')}."
        )
    ]
    if fit.degrees_of_freedom:
        lines.append(
            f"Left over when the tilt is taken out: {fit.residual_spread_mm:.3f} mm from largest "
            "to smallest. Scatter of the readings alone would leave as much "
            f"{_share(fit.residual_p)}."
        )
    else:
        lines.append("Three places fix a plane exactly: nothing is left over to judge a warp by.")
    return Block("How even it is", tuple(lines))


def _reversal(findings: Findings) -> Block:
    carried = findings.carried
    if carried is None:  # pragma: no cover - there is one wherever there are two rounds
        raise ValueError("findings must hold a second round, got one")
    stays = (
        f"Stays when the rotor is turned: {2 * findings.body.tilt_mm:.3f} mm, widest at "
        f"{_angle(findings.body.widest_deg)}. That is the magnet body, and the screws can level it."
    )
    what = (
        "That is more than the readings scatter: the disc or its seat is tapered, and no screw "
        "cures that."
        if findings.carried_shows
        else "That is within the scatter of the readings."
    )
    lines = [stays, f"Goes round with the rotor: {2 * carried.tilt_mm:.3f} mm. {what}"]
    return Block("What half a turn of the rotor shows", tuple(lines))


def _wear(entry: JobEntry, findings: Findings, history: History) -> Block:
    lines = [_growth_words(history)]
    if history.missing:
        lines.append(history.missing)
    per_stop = history.growth_um_per_1000_stops
    if per_stop is not None and history.stops_per_day:
        lines.append(
            f"At {history.stops_per_day:.0f} stops a day that is {per_stop:.1f} µm for a "
            "thousand stops."
        )
    if math.isfinite(history.days_by_wear) and findings.outcome is not Outcome.REFER:
        lines.append(_limit_words(entry, history))
        if history.stops_per_day and entry.stops_ahead:
            lines.append(f"Counted at {entry.stops_ahead:g} stops a day from now on.")
    if history.record:
        lines.append(history.record.sentence)
    if entry.size.design.adjusts:
        lines.append(
            f"The disc holds {findings.runs_left:.1f} runs from setting to largest gap "
            "before it is at the least allowed."
        )
    return Block("Wear", tuple(lines))


def _growth_words(history: History) -> str:
    growth, u = history.growth_mm_per_day, history.growth_u_mm_per_day
    if growth is None:
        return "The history does not show how fast the gap grows."
    if u is None:
        return (
            f"From the last visits the gap grows by {30 * growth:.3f} mm in 30 days; how "
            "sure that is cannot be told."
        )
    return f"The gap grows by {30 * growth:.3f} ± {30 * COVERAGE_FACTOR * u:.3f} mm in 30 days."


def _limit_words(entry: JobEntry, history: History) -> str:
    day = entry.on + dt.timedelta(days=int(history.days_by_wear))
    start = "Once it is set again, the" if history.counts_from_setting else "The"
    if history.how == "trend":
        return (
            f"{start} gap stays below the largest allowed until {_day(day)}, with a confidence of "
            f"{CONFIDENCE:.0%}."
        )
    return (
        f"{start} gap may reach the largest allowed after {_day(day)}: half of what the "
        "last visits suggest, by custom of the trade."
    )


def _next(entry: JobEntry, findings: Findings, history: History) -> Block:
    title = "Next inspection"
    if findings.outcome is Outcome.REFER:
        return Block(title, ("No date: the hoist stays out of service until it has been decided.",))
    found = next_date(entry, history)
    if found is None:
        return Block(
            title, ("No date can be given: state the code interval, or add earlier visits.",)
        )
    day, by_wear = found
    lines = [f"Inspect again by {_day(day)}. " + _decided(entry, by_wear=by_wear)]
    if history.counts_from_setting:
        lines.append("It counts only once the brake has been put right, measured again and proved.")
    if entry.code_days is None:
        lines.append(
            "No code interval was stated. Law, standard or maker may ask for an earlier day."
        )
    return Block(title, tuple(lines))


def _decided(entry: JobEntry, *, by_wear: bool) -> str:
    if by_wear:
        return "Wear decides."
    return f"The code interval of {entry.code_days} days decides."


def _estimated(entry: JobEntry, field: str) -> str:
    return " (estimated)" if field in entry.size.estimated else ""


def _chance(share: float) -> str:
    if share > 0.999:
        return "more than 99.9 %"
    return "less than 0.1 %" if share < 0.001 else f"{100 * share:.1f} %"


def _share(chance: float) -> str:
    return (
        "in fewer than 1 of 1000 cases" if chance < 0.001 else f"in {100 * chance:.0f} of 100 cases"
    )


def _angle(angle_deg: float) -> str:
    return f"{round(angle_deg) % 360}°"


def _day(day: dt.date) -> str:
    return f"{day.day} {day:%B %Y}"
