"""Elements of competency: each scored 0 to 1 from the evidence, with the lines that say why.

Identities follow the competency breakdown of the scheme: S safety, K knowledge
of the limits, M measuring, D deciding, A adjusting, R reassembly, T testing,
W written record.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from widgets.bench import actions as do
from widgets.bench.reporting import DECISION_WORDS
from widgets.brake.rules import Outcome

from .evidence import Evidence, JudgedDisc, JudgedGap, Step, places_apart
from .truth import set_well

PASS = 0.6  # share of an element that must be reached; a choice of this scheme
ENOUGH_PLACES = 6
ENOUGH_DISC_PLACES = 3
HANDS_IN = {
    "remove_cover",
    "remove_fan",
    "remove_seal",
    "clean",
    "gauge_gap",
    "measure_disc",
    *("loosen_lock", "turn_screw", "tighten_lock"),
}
CLOSING = {"refit_seal", "refit_fan", "refit_cover"}
# Cost of a decision (row) on a brake that needs the outcome (column). A choice of this scheme:
# passing a worn brake costs most, referring always costs something, needless work a little.
COST = {
    Outcome.FIT: {Outcome.FIT: 0, Outcome.ADJUST: 20, Outcome.REPLACE: 50, Outcome.REFER: 50},
    Outcome.ADJUST: {Outcome.FIT: 1, Outcome.ADJUST: 0, Outcome.REPLACE: 40, Outcome.REFER: 40},
    Outcome.REPLACE: {Outcome.FIT: 5, Outcome.ADJUST: 4, Outcome.REPLACE: 0, Outcome.REFER: 4},
    Outcome.REFER: {Outcome.FIT: 3, Outcome.ADJUST: 3, Outcome.REPLACE: 3, Outcome.REFER: 0},
}
ARGUABLE_SHARE = 1 / 3  # of the marks for going on within the guard band


@dataclass(frozen=True, slots=True)
class Element:
    """One part of the competency as shown in one case.

    Attributes
    ----------
    id, title, channel : str
        `channel` is M, D, P or W: measuring, deciding, procedure, written record.
    score : float
        0 to 1.
    lines : tuple of str
        What was done or not, in words that the candidate could dispute.
    needed : bool
        Whether the case cannot be right without it.
    """

    id: str
    title: str
    channel: str
    score: float
    lines: tuple[str, ...]
    needed: bool = True

    @property
    def reached(self) -> bool:
        """Whether enough of it was shown."""
        return self.score >= PASS


def judge_elements(evidence: Evidence) -> tuple[Element, ...]:
    """Return every element that the job called for, in the order of the job."""
    return tuple(_elements(evidence))


def _elements(evidence: Evidence) -> Iterator[Element]:
    yield load_landed(evidence)
    yield isolated(evidence)
    yield dust(evidence)
    yield limits(evidence)
    yield gap_measured(evidence)
    yield disc_measured(evidence)
    yield decision(evidence)
    if evidence.did("turn_screw", "loosen_lock"):
        yield adjusted(evidence)
        yield locked(evidence)
        yield measured_again(evidence)
    yield closed_up(evidence)
    if evidence.end.into_service:
        yield release_proved(evidence)
        yield hold_proved(evidence)
    yield record(evidence)


def load_landed(evidence: Evidence) -> Element:
    """S1: the hook was empty before a hand went in."""
    hands = evidence.did(*HANDS_IN)
    before = [step for step in hands if not step.before.load_landed]
    if before:
        line = f"{_named(before[0])} at step {before[0].number + 1} with the load still hanging."
        return Element("S1", "Load landed, hook empty", "P", 0.0, (line,))
    if not evidence.end.load_landed:
        return Element("S1", "Load landed, hook empty", "P", 0.0, ("The load was never landed.",))
    return Element("S1", "Load landed, hook empty", "P", 1.0, ("Load down before opening.",))


def isolated(evidence: Evidence) -> Element:
    """S2: locked off and proved dead whenever a hand was in."""
    hands = evidence.did(*HANDS_IN)
    live = [step for step in hands if not step.before.isolated]
    unproved = [step for step in hands if step.before.isolated and not step.before.proved_dead]
    closing = [step for step in evidence.did(*CLOSING) if not step.before.isolated]
    title = "Isolated, locked, proved dead"
    if live:
        line = f"{_named(live[0])} at step {live[0].number + 1} without the supply locked off."
        return Element("S2", title, "P", 0.0, (line,))
    if unproved:
        line = f"{_named(unproved[0])} at step {unproved[0].number + 1} before proving dead."
        return Element("S2", title, "P", 0.0, (line,))
    if closing:
        line = f"{_named(closing[0])} with the supply back on: the fan may start."
        return Element("S2", title, "P", PASS, (line,))
    if not hands:
        return Element("S2", title, "P", 0.0, ("The brake was never opened.",))
    return Element("S2", title, "P", 1.0, ("Locked off and proved dead for all work inside.",))


def dust(evidence: Evidence) -> Element:
    """S4: dust bound, not blown, and gone before measuring."""
    cleaned = evidence.did("clean")
    blown = [step for step in cleaned if step.observation.alarm]
    if blown:
        line = f"{_named(blown[0])}: brake dust in the air that people breathe."
        return Element("S4", "Dust control", "P", 0.0, (line,))
    if not cleaned:
        line = "The dust was left in the gap: leaves read low through it."
        return Element("S4", "Dust control", "P", 0.3, (line,), needed=False)
    return Element("S4", "Dust control", "P", 1.0, ("Dust bound before measuring.",))


def limits(evidence: Evidence) -> Element:
    """K3: the limits of this size, not of another."""
    title, size = "Right row of the limits sheet", evidence.case.size.name
    decided = evidence.decision
    if decided is None:
        return Element("K3", title, "D", 0.0, ("No row was used: nothing was decided.",))
    row = decided.after.decision_row
    if row != size:
        line = f"Decided by the row {row or 'of no size'}; the plate says {size}."
        return Element("K3", title, "D", 0.0, (line,))
    if not decided.before.plate_read:
        line = f"Row {size} is right, but the plate was not read: it was a guess."
        return Element("K3", title, "D", 0.5, (line,))
    return Element("K3", title, "D", 1.0, (f"Plate read, row {size} used.",))


def gap_measured(evidence: Evidence) -> Element:
    """M2: the gap gauged all the way round, go and no-go, and rightly."""
    title, judged = "Gap measured all round", evidence.gaps_as_found
    places = places_apart(judged)
    share = 1.0 if places >= ENOUGH_PLACES else places / (ENOUGH_PLACES + 2)
    lines = [f"Gap written down at {places} places round the rim before deciding."]
    if not judged:
        return Element("M2", title, "M", 0.0, tuple(lines))
    lines.extend(_reading_lines(judged, "gap"))
    score = share * _mean(_credit(one) for one in judged)
    return Element("M2", title, "M", score, tuple(lines))


def disc_measured(evidence: Evidence) -> Element:
    """M4: the disc measured at several places, the least one counting."""
    title, judged = "Disc measured", evidence.discs_as_found
    places = places_apart(judged)
    share = 1.0 if places >= ENOUGH_DISC_PLACES else places / (ENOUGH_DISC_PLACES + 1)
    lines = [f"Disc written down at {places} places before deciding."]
    if not judged:
        return Element("M4", title, "M", 0.0, tuple(lines))
    lines.extend(_reading_lines(judged, "disc"))
    score = share * _mean(_credit(one) for one in judged)
    return Element("M4", title, "M", score, tuple(lines))


def decision(evidence: Evidence) -> Element:
    """D1: the decision against what the candidate's own readings support."""
    title, decided, own = "Decision on own readings", evidence.decision, evidence.own_conclusion
    if decided is None:
        return Element("D1", title, "D", 0.0, ("Nothing was decided.",))
    taken = Outcome(decided.after.decision)
    lines = [f"Decided: {DECISION_WORDS[taken]}.", *own.reasons]
    if own.outcome is None:
        return Element("D1", title, "D", 0.0, tuple(lines))
    lines.append(f"Own readings support: {DECISION_WORDS[own.outcome]}.")
    if taken in own.arguable:
        lines.append("So near to the limit that this can be argued; the safe side is the other.")
        return Element("D1", title, "D", ARGUABLE_SHARE, tuple(lines), needed=False)
    score = decision_share(taken, own.outcome)
    # A needless job costs something and fails nobody; needed() looks at false alarms apart.
    needed = taken not in false_alarms(own.outcome)
    return Element("D1", title, "D", score, tuple(lines), needed=needed)


def decision_share(taken: Outcome, right: Outcome) -> float:
    """Return the share of marks for a decision on a brake that needs `right`, 0 to 1."""
    costs = {outcome: COST[outcome][right] for outcome in Outcome}
    return 1 - (costs[taken] - min(costs.values())) / (max(costs.values()) - min(costs.values()))


def false_alarms(right: Outcome) -> frozenset[Outcome]:
    """Return the decisions that ask for more than a brake needs, and harm nobody."""
    return {
        Outcome.FIT: frozenset({Outcome.ADJUST, Outcome.REPLACE, Outcome.REFER}),
        Outcome.ADJUST: frozenset({Outcome.REPLACE, Outcome.REFER}),
        Outcome.REPLACE: frozenset({Outcome.REFER}),
        Outcome.REFER: frozenset[Outcome](),
    }[right]


def adjusted(evidence: Evidence) -> Element:
    """A1: the gap set evenly to the setting value, locked."""
    found = set_well(evidence.setup, evidence.end)
    score = 0.5 * found.on_setting + 0.5 * found.even
    return Element("A1", "Gap set evenly to the setting", "P", score, found.lines)


def locked(evidence: Evidence) -> Element:
    """A2: all three retaining screws at the torque of the size."""
    proper_nm = evidence.case.size.screws.retaining_torque_nm
    wrong = [
        number
        for number, lock_nm in enumerate(evidence.end.lock_nm, start=1)
        if abs(lock_nm - proper_nm) > 0.15 * proper_nm
    ]
    title = "Retaining screws to torque"
    if wrong:
        named = ", ".join(map(str, wrong))
        line = f"Screw {named} not at the {proper_nm:g} N·m of this size."
        return Element("A2", title, "P", 1 - len(wrong) / 2 if len(wrong) < 2 else 0.0, (line,))
    return Element("A2", title, "P", 1.0, (f"All three at {proper_nm:g} N·m.",))


def measured_again(evidence: Evidence) -> Element:
    """A3: gauged all round again after locking."""
    places = places_apart(evidence.gaps_as_left)
    line = f"Gap written down at {places} places after the last screw was locked."
    score = 1.0 if places >= ENOUGH_PLACES else places / (ENOUGH_PLACES + 2)
    return Element("A3", "Measured again after locking", "P", score, (line,))


def closed_up(evidence: Evidence) -> Element:
    """R4: seal, fan and cover back in their places."""
    end = evidence.end
    off = [
        name
        for name, on in (("seal band", end.seal_on), ("fan", end.fan_on), ("cover", end.cover_on))
        if not on
    ]
    line = f"Left off: {', '.join(off)}." if off else "Seal band, fan and cover back on."
    return Element(
        "R4", "Closed up", "P", 1 - len(off) / 3, (line,), needed=evidence.end.into_service
    )


def release_proved(evidence: Evidence) -> Element:
    """T1: the release heard after the last work on a screw, the shaft felt free."""
    since = evidence.last_screw_work
    heard = [s for s in evidence.did("energise") if s.number > since and s.after.released]
    turned = [
        s
        for s in evidence.did("turn_shaft")
        if s.number > since and s.observation.seen.get("turns") == "freely"
    ]
    lines = (
        "Release heard." if heard else "The release was not tried after the last work.",
        "Shaft felt free." if turned else "The shaft was not felt free with the brake released.",
    )
    return Element("T1", "Release proved", "P", 0.6 * bool(heard) + 0.4 * bool(turned), lines)


def hold_proved(evidence: Evidence) -> Element:
    """T2: the test load held after the last work."""
    held = [
        step
        for step in evidence.did("test_hold")
        if step.number > evidence.last_screw_work and step.observation.seen.get("holds")
    ]
    line = "Test load held." if held else "Not shown to hold the test load after the last work."
    return Element("T2", "Hold proved", "P", float(bool(held)), (line,))


def record(evidence: Evidence) -> Element:
    """W1: readings, decision and hand-over on the record and of one mind."""
    end, decided = evidence.end, evidence.decision
    taken = decided.after.decision if decided else ""
    checks = {
        "gap readings before the decision": bool(evidence.gaps_as_found),
        "disc readings before the decision": bool(evidence.discs_as_found),
        "decision before any screw was touched": bool(decided)
        and evidence.decided_at < evidence.first_screw_work,
        "hand-over that fits the decision": end.handed_over
        and end.into_service == (taken in {"fit", "adjust"}),
    }
    lines = tuple(f"{'Yes' if kept else 'No'}: {what}." for what, kept in checks.items())
    return Element("W1", "Record", "W", sum(checks.values()) / len(checks), lines)


def _credit(judged: JudgedGap | JudgedDisc) -> float:
    """Return the credit of one reading: z within 2 is full, within 3 half (ISO 13528, memory)."""
    if not judged.gauged:
        return 0.0
    if abs(judged.z) >= 3:
        return 0.0
    share = 1.0 if abs(judged.z) <= 2 else 0.5
    return share if judged.supported else share / 2


def _reading_lines(judged: Sequence[JudgedGap | JudgedDisc], what: str) -> Iterator[str]:
    for one in judged:
        place = f"{one.reading.angle_deg:.0f}°"
        if not one.gauged:
            yield f"The {what} written down at {place} was never measured there."
        elif not one.supported:
            yield f"The {what} written down at {place} is not what was felt or shown there."
        elif abs(one.z) >= 3:
            way = "high" if one.z > 0 else "low"
            yield f"The {what} reading at {place} is too {way} by more than its uncertainty allows."


def _mean(values: Iterator[float]) -> float:
    listed = list(values)
    return sum(listed) / len(listed)


_NAMES = {
    "remove_cover": "Cover taken off",
    "remove_fan": "Fan drawn",
    "remove_seal": "Seal band rolled back",
    "clean": "Cleaned",
    "gauge_gap": "Gap gauged",
    "measure_disc": "Disc measured",
    "loosen_lock": "Retaining screw slackened",
    "turn_screw": "Hollow screw turned",
    "tighten_lock": "Retaining screw tightened",
    "refit_seal": "Seal band seated",
    "refit_fan": "Fan refitted",
    "refit_cover": "Cover refitted",
}


def _named(step: Step) -> str:
    if isinstance(step.action, do.Clean):
        return f"Cleaned by {step.action.method.replace('_', ' ')}"
    return _NAMES.get(step.action.kind, step.action.kind)
