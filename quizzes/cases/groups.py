"""Groups of families that a blueprint can name, and the elements that a case of them shows."""

from collections.abc import Iterable, Mapping

from widgets.brake.judgement.rules import Outcome

from .case import Depth
from .families import FAMILIES
from .family import Family

# Elements of the competency, by their identities in the scheme.
ELEMENTS = (
    "K1", "K2", "K3", "K4", "K5", "S1", "S2", "S3", "S4", "S5", "M1", "M2", "M3", "M4", "M5",
    "D1", "D2", "D3", "A1", "A2", "A3", "R1", "R2", "R3", "R4", "T1", "T2", "W1", "W2",
)  # fmt: skip
_SHOWN = {
    Depth.READING: ("K3", "D1", "D2", "D3"),
    Depth.BENCH: ("K3", "M1", "M2", "M3", "M4", "M5", "D1", "D2", "D3"),
    Depth.WORK_ORDER: (
        "K3", "S1", "S2", "S3", "S4", "S5", "M1", "M2", "M3", "M4", "M5", "D1", "D2", "D3", "W1",
    ),
}  # fmt: skip
_SHOWN_UNTOUCHED = ("S1", "S2", "K3", "D1", "D2", "W1", "W2")
_OF_OUTCOME: Mapping[Outcome, tuple[str, ...]] = {
    Outcome.FIT: ("T1", "T2"),
    Outcome.ADJUST: ("A1", "A2", "A3", "T1", "T2"),
    Outcome.REPLACE: ("A1", "A2", "A3", "R1", "R2", "R3", "R4", "T1", "T2"),
    Outcome.REFER: ("W2", "K5"),
}


def _named(keep: Iterable[Family]) -> tuple[str, ...]:
    return tuple(family.name for family in keep)


_ALL = tuple(FAMILIES.values())
GROUPS: Mapping[str, tuple[str, ...]] = {
    "any": _named(_ALL),
    "sound": _named(one for one in _ALL if not one.faults and not one.ahead and not one.beside),
    "until the next inspection": _named(one for one in _ALL if one.ahead),
    "near a limit": _named(one for one in _ALL if one.near),
    "near the largest gap": _named(one for one in _ALL if one.near == "gap"),
    "near the least disc": _named(one for one in _ALL if one.near == "disc"),
    "seen in the gap": _named(
        one
        for one in _ALL
        if len(one.faults) == 1 and not one.gap_normal and not one.near and not one.beside
    ),
    "normal gap": _named(
        one
        for one in _ALL
        if len(one.faults) == 1
        and one.gap_normal
        and not one.near
        and not one.untouched
        and not one.beside
    ),
    "two faults": _named(one for one in _ALL if len(one.faults) > 1 and not one.beside),
    "beside the brake": _named(one for one in _ALL if one.beside),
    "load that cannot be landed": _named(one for one in _ALL if one.untouched),
}


def families_of(depth: Depth, named: Iterable[str], group: str, needs: str) -> tuple[str, ...]:
    """Return the families of a depth that are named, of a group, and need an outcome, if given."""
    asked = tuple(named) or GROUPS["any"]
    kept = []
    for name in asked:
        family = FAMILIES[name]
        fits = depth in family.depths and (not group or name in GROUPS[group])
        if fits and (not needs or family.main == needs):
            kept.append(name)
    return tuple(kept)


def elements_shown(depth: Depth, families: Iterable[str]) -> set[str]:
    """Return the elements that a case of these families at a depth is sure to show."""
    families = tuple(families)
    if any(FAMILIES[name].untouched for name in families):
        return set(_SHOWN_UNTOUCHED)
    shown = set(_SHOWN[depth])
    if depth is Depth.WORK_ORDER:
        shown |= set.intersection(*(_by_outcome(FAMILIES[name]) for name in families))
    return shown


def _by_outcome(family: Family) -> set[str]:
    if family.ends_out:
        return {"W2"}
    if family.main is not None:
        return set(_OF_OUTCOME[family.main])
    return set.intersection(*(set(_OF_OUTCOME[outcome]) for outcome in family.meant))
