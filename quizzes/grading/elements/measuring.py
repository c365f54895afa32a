"""Elements of measuring: instruments, gap, second rotor position, disc, coil."""

from collections.abc import Iterator, Mapping, Sequence

from quizzes.grading.editions import Rules
from quizzes.grading.evidence.chosen import chosen_of_several
from quizzes.grading.evidence.gathering import Evidence, JudgedDisc, JudgedGap, places_apart
from quizzes.grading.evidence.plane import quick_plane
from quizzes.grading.evidence.signs_seen import with_leads_on
from widgets.bench import actions as do
from widgets.brake.judgement.remark import Remark, remark

from .scoring import Element, checked, mean, on, shown

FINE_STEP_MM = 0.021  # mm, from go to no-go: finer than this a pair of leaves tells evenness
PLENTY_OF_PLACES = 8  # with so many the plane makes up for coarse leaves (u(a1) = u / 2)
GOOD_Z, BAD_Z = 2.0, 3.0  # ISO 13528 limits of a score, from memory
RULE_CREDIT = 0.4  # a rule tells ± 0.4 mm of a wear of 1.5 to 2.8 mm: too little; a choice
# Of the marks for instruments, at most, if one was not looked over: bent leaves, or a caliper off
# at zero, read a bad brake as good; a choice.
NEVER_LOOKED_OVER = 0.5
HALF_ROUND_SHARE = 0.5  # of the marks for the gap, at most, if one side is left out; a choice
# Of the marks for the coil: with either of the two left out the element is not reached; choices.
OHM_SHARE, INSULATION_SHARE = 0.45, 0.45
OF_SEVERAL, LOOKED_OVER = "disc.of-several", "tool.looked-over"
MOST_LINES = 6  # of one kind; the rest is counted


def instruments(evidence: Evidence) -> Element | None:
    """M1: leaves fine enough for the evenness limit, and a caliper for the disc."""
    gaps = [one for one in evidence.gaps_as_found if not one.given]
    discs = [one for one in evidence.discs_as_found if not one.given]
    if not gaps and not discs:
        return None
    lines: list[Remark] = []
    scores: list[float] = []
    if gaps:
        coarse = [one for one in gaps if one.step_mm > FINE_STEP_MM]
        made_up_for = places_apart(gaps) >= PLENTY_OF_PLACES
        scores.append(1.0 if not coarse else 0.7 if made_up_for else 0.3)
        widest_mm = max(one.step_mm for one in gaps)
        lines.append(remark("leaves.step", widest_mm=widest_mm, coarse=bool(coarse)))
    if discs:
        ruled = any(one.tool == "rule" for one in discs)
        scores.append(0.0 if ruled else 1.0)
        lines.append(remark("disc.by-rule") if ruled else remark("disc.by-caliper"))
    used = (("leaves", gaps), ("caliper", discs))
    first = {tool: min(one.step for one in readings) for tool, readings in used if readings}
    wanted, seen = [*first], _looked_over(evidence, first)
    scores.append(mean(float(tool in seen) for tool in wanted))
    whole = seen.issuperset(wanted)
    score = mean(scores) if whole else min(mean(scores), NEVER_LOOKED_OVER)
    lines += [remark(LOOKED_OVER, tool=tool, kept=tool in seen) for tool in wanted]
    return shown("M1", score, *lines, needed=False)


def _looked_over(evidence: Evidence, first: Mapping[str, int]) -> frozenset[str]:
    """Return the instruments that were looked over before the step of their first reading."""
    return frozenset(
        step.action.tool
        for step in evidence.did("check_tool")
        if isinstance(step.action, do.CheckTool) and step.number < first.get(step.action.tool, 0)
    )


def gap_measured(evidence: Evidence, rules: Rules, *, needed: bool) -> Element:
    """M2: the gap gauged all the way round, go and no-go, and correctly."""
    judged = evidence.gaps_as_found
    places = places_apart([one for one in judged if one.supported])
    share = 1.0 if places >= rules.places else places / (rules.places + 2)
    lines = [remark("gap.written", places=places, **_between(judged))]
    if not judged:
        return shown("M2", 0.0, *lines, needed=needed)
    lines.extend(_few(_reading_lines(judged, "gap")))
    if widest_hole_deg(judged) > rules.widest_hole_deg:
        share = min(share, HALF_ROUND_SHARE)
        lines.append(remark("gap.one-side-left-out"))
    score = share * mean(_credit(one) for one in judged)
    return shown("M2", score, *lines, needed=needed)


def widest_hole_deg(judged: Sequence[JudgedGap | JudgedDisc]) -> float:
    """Return the widest angle round the rim without a reading, degrees; 360 without any."""
    angles = sorted(one.reading.angle_deg % 360 for one in judged)
    after = [*angles[1:], angles[0] + 360] if angles else []
    return max((b - a for a, b in zip(angles, after, strict=True)), default=360.0)


def second_position(evidence: Evidence) -> Element | None:
    """M3: an uneven gap is told from a tapered disc: rotor turned, or the disc itself measured."""
    plane = quick_plane(evidence.gap_readings)
    limit_mm = evidence.case.size.gap.evenness_mm
    if plane is None or plane.spread_mm - 2 * plane.spread_u_mm <= limit_mm:
        return None
    until = evidence.as_found_until
    turned = [s for s in evidence.did("turn_shaft") if s.number < until]
    if any(one.step > turned[0].number for one in evidence.gaps_as_found) if turned else False:
        line = on("gap.second-position", turned[0])
        return shown("M3", 1.0, line, needed=False)
    places = places_apart(evidence.discs_as_found)
    line = remark("gap.shaft-not-turned", places=places)
    score = 1.0 if places >= 4 else 0.3
    return shown("M3", score, line, needed=False)


def disc_measured(evidence: Evidence, rules: Rules, *, needed: bool) -> Element:
    """M4: the disc measured at several places, the least one counting."""
    judged = evidence.discs_as_found
    places = places_apart([one for one in judged if one.supported])
    share = 1.0 if places >= rules.disc_places else places / (rules.disc_places + 1)
    lines = [remark("disc.written", places=places, **_between(judged))]
    if not judged:
        return shown("M4", 0.0, *lines, needed=needed)
    thinnest = min(judged, key=lambda one: one.reading.value_mm).reading
    lines.append(remark("disc.least", value_mm=thinnest.value_mm, angle_deg=thinnest.angle_deg))
    chosen = chosen_of_several(judged, evidence.discs_shown)
    if any(chosen):
        lines.append(remark(OF_SEVERAL, **chosen._asdict()))
    lines.extend(_few(_reading_lines(judged, "disc")))
    if widest_hole_deg(judged) > rules.widest_disc_hole_deg:
        share = min(share, HALF_ROUND_SHARE)
        lines.append(remark("disc.one-side-left-out"))
    score = share * mean(_credit(one) for one in judged)
    return shown("M4", score, *lines, needed=needed)


def coil_measured(evidence: Evidence) -> Element:
    """M5: resistance with its temperature, and insulation, written down before deciding."""
    written = {one.what for one in evidence.values if one.step < evidence.decided_at}
    measured = evidence.did("measure_coil")
    tried = {step.observation.facts.get("what") for step in measured}
    alone = {s.observation.facts.get("what") for s in measured if not with_leads_on(s)}
    beside = [one for one in ("resistance", "insulation") if one in tried - alone]
    otherwise = [one.what for one in evidence.values if not one.supported]
    parts = (
        ("coil.resistance", "coil_ohm", "resistance", OHM_SHARE),
        ("coil.temperature", "coil_c", "resistance", 1 - OHM_SHARE - INSULATION_SHARE),
        ("coil.insulation", "insulation_mohm", "insulation", INSULATION_SHARE),
    )
    there = {
        code: (value in written or what in tried)
        and value not in otherwise
        and (what not in beside or value == "coil_c")  # a thermometer asks for no lead to be lifted
        for code, value, what, _ in parts
    }
    lines = checked(there)
    lines += [remark("coil.leads-on", what=what) for what in beside]
    lines += [remark("value.not-as-shown", what=what) for what in dict.fromkeys(otherwise)]
    score = sum(share for code, _, _, share in parts if there[code])
    return shown("M5", score, *lines, needed=False)


def _credit(judged: JudgedGap | JudgedDisc) -> float:
    """Return the credit of one reading: z within 2 is full, within 3 half (ISO 13528, memory)."""
    if not judged.gauged or abs(judged.z) >= BAD_Z:
        return 0.0
    if isinstance(judged, JudgedDisc) and judged.tool == "rule":
        return RULE_CREDIT
    share = 1.0 if abs(judged.z) <= GOOD_Z else 0.5
    return share if judged.supported else share / 2


def _reading_lines(judged: Sequence[JudgedGap | JudgedDisc], what: str) -> Iterator[Remark]:
    for one in judged:
        where = {"what": what, "angle_deg": one.reading.angle_deg}
        if one.struck:
            yield remark("reading.struck", **where)
        elif not one.gauged:
            yield remark("reading.never-measured", **where)
        elif not one.supported:
            yield remark("reading.not-as-felt", **where)
        elif abs(one.z) >= BAD_Z:
            yield remark("reading.off", **where, high=one.z > 0)
        elif abs(one.z) > GOOD_Z:
            yield remark("reading.rather-off", **where, high=one.z > 0)


def _between(judged: Sequence[JudgedGap | JudgedDisc]) -> dict[str, int]:
    """Return between which steps of the log readings were written down, from 1."""
    steps = [one.step + 1 for one in judged if not one.given]
    return {"from_step": min(steps), "to_step": max(steps)} if steps else {}


def _few(lines: Iterator[Remark]) -> list[Remark]:
    listed = list(lines)
    more = len(listed) - MOST_LINES
    return [*listed[:MOST_LINES], remark("reading.more", count=more)] if more > 0 else listed
