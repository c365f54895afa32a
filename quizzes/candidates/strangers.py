"""People whom the grading has not been built around: each does one thing in a way of their own.

Found by going through every rule of grading and asking who would get past it. Each is somebody
careful but for a habit of mind (a change of `Habits`) or of the hands (other acts in place of
some). Whether a habit can end unsafe was counted by `ends`, from the true brake.
"""

from collections.abc import Callable, Mapping
from dataclasses import dataclass, field, replace
from functools import cached_property
from typing import Any

from quizzes.cases.case import Case
from widgets.bench import actions as do
from widgets.bench.observed import Observation
from widgets.brake.judgement.rules import Outcome
from widgets.brake.judgement.signs import Finding

from .habits import CAREFUL, SLIPS, Habits

# What somebody does in place of an act: others, or none.
Instead = Callable[[do.Action, Case], list[do.Action]]
Act = Callable[[do.Action], Observation]
HALF_THE_CASES = 0.5
# What somebody takes for seen who has left an act out.
_TAKEN_FOR_SEEN: Mapping[str, Mapping[str, Any]] = {
    "test_hold": {"holds": True},
    "test_run": {"symptoms": ()},
    "energise": {"released": True},
    "de_energise": {"applied": "prompt"},
    "turn_shaft": {"turns": "freely"},
}


@dataclass(frozen=True)
class Stranger:
    """One habit: what it changes, whether it can end unsafe, in which share of cases it shows."""

    changes: Mapping[str, Any] = field(default_factory=dict)
    instead: Instead | None = None
    unsafe: bool = True
    share: float = 1.0

    @cached_property
    def habits(self) -> Habits:
        """The careful one's habits with the changes."""
        return replace(CAREFUL, **self.changes)


def acting(act: Act, case: Case, instead: Instead | None) -> Act:
    """Return `act` as somebody does it who does other things in place of some."""
    if instead is None:
        return act

    def other(action: do.Action) -> Observation:
        seen = [act(one) for one in instead(action, case)]
        if seen:
            return seen[-1]
        done = action.kind != "find_release"  # nobody takes a percentage for seen
        return Observation(done, "left.out", _TAKEN_FOR_SEEN.get(action.kind, {}))

    return other


def without(*kinds: str) -> Instead:
    """Return the way of somebody who leaves acts of these kinds out."""
    return lambda action, _: [] if action.kind in kinds else [action]


def changed(kind: str, **fields: Any) -> Instead:  # noqa: ANN401 (fields of an act)
    """Return the way of somebody who does acts of a kind with these fields."""

    def instead(action: do.Action, _: Case) -> list[do.Action]:
        return [replace(action, **fields)] if action.kind == kind else [action]

    return instead


def both(first: Instead, second: Instead) -> Instead:
    """Return the way of somebody who has two ways."""
    return lambda action, case: [last for one in first(action, case) for last in second(one, case)]


def _looks_only_at(*places: str) -> Instead:
    return lambda action, _: (
        [] if isinstance(action, do.Look) and action.at not in places else [action]
    )


def _into_service(**fields: Any) -> Instead:  # noqa: ANN401 (fields of an act)
    def instead(action: do.Action, _: Case) -> list[do.Action]:
        if isinstance(action, do.HandOver) and action.into_service:
            return [replace(action, **fields)]
        return [action]

    return instead


def _before(kind: str, *first: do.Action) -> Instead:
    return lambda action, _: [*first, action] if action.kind == kind else [action]


def _tightens(share: float) -> Instead:
    def instead(action: do.Action, case: Case) -> list[do.Action]:
        if isinstance(action, do.TightenLock):
            proper_nm = case.size.screws.retaining_torque_nm
            return [replace(action, torque_nm=round(share * proper_nm, 2))]
        return [action]

    return instead


def _starts_by_wrench(action: do.Action, _: Case) -> list[do.Action]:
    return [replace(action, by="wrench"), action] if isinstance(action, do.StartLock) else [action]


def _in_one_go(action: do.Action, case: Case) -> list[do.Action]:
    proper_nm = case.size.screws.retaining_torque_nm
    first_stage = isinstance(action, do.TightenLock) and action.torque_nm < 0.9 * proper_nm
    return [] if first_stage else [action]


def _guesses(action: do.Action, case: Case) -> list[do.Action]:
    if isinstance(action, do.Decide):
        outcome: Any = list(Outcome)[case.seed[3] % 4].value
        return [replace(action, outcome=outcome)]
    return [action]


def _twice(action: do.Action, _: Case) -> list[do.Action]:
    return [action, action] if action.kind in {"measure_disc", "measure_coil"} else [action]


_EVERYTHING = tuple(finding.value for finding in Finding)[1:9]
_R, _A, _F, _X = Outcome.REPLACE, Outcome.ADJUST, Outcome.FIT, Outcome.REFER


def _blind(*findings: Finding) -> Mapping[str, Any]:
    return {"blind_to": frozenset(findings)}


def _refers(*outcomes: Outcome) -> Mapping[str, Any]:
    return {"instead_of": dict.fromkeys(outcomes, _X)}


_MIND: dict[str, Stranger] = {
    "bad gap left unwritten": Stranger({"hides": "gap unwritten"}),
    "bad gap written as good": Stranger({"hides": "gap as good"}),
    "bad disc left unwritten": Stranger({"hides": "disc unwritten"}),
    "bad disc written as good": Stranger({"hides": "disc as good"}),
    "first drag taken as exact": Stranger({"first_drag": True}, unsafe=False),
    "gap on half the rim": Stranger({"places": tuple(25.0 * n for n in range(8))}),
    "gap at three places": Stranger({"places": (60.0, 180.0, 300.0)}, unsafe=False),
    "gap at the screws only": Stranger({"places": (0.0, 120.0, 240.0)}, unsafe=False),
    "gap where the hand gets to": Stranger({"places": (0.0, 30.0, 60.0, 90.0)}),
    "disc at one place": Stranger({"disc_places": (0.0,)}),
    "disc at two places": Stranger({"disc_places": (0.0, 180.0)}),
    "disc on one side": Stranger({"disc_places": (0.0, 25.0, 50.0, 75.0)}),
    "disc measured once, written four times": Stranger({"disc_copied": True}),
    "reading taken at face value": Stranger({"factor": 0.0}),
    "one uncertainty is enough": Stranger({"factor": 1.0}, unsafe=False),
    "beyond the limit a little is allowed": Stranger({"factor": -3.0}),
    "no thought of the next inspection": Stranger({"looks_ahead": False}),
    "blind to oil": Stranger(_blind(Finding.OIL)),
    "blind to glaze": Stranger(_blind(Finding.GLAZE)),
    "blind to heat cracks": Stranger(_blind(Finding.HEAT_CRACKS)),
    "blind to springs": Stranger(_blind(Finding.SPRINGS)),
    "blind to the spline": Stranger(_blind(Finding.SPLINE)),
    "blind to a hub turned round": Stranger(_blind(Finding.REVERSED)),
    "blind to the wear plate": Stranger(_blind(Finding.NO_WEAR_PLATE)),
    "blind to the coil": Stranger(_blind(Finding.COIL)),
    "blind to the AC side": Stranger(_blind(Finding.AC_SIDE)),
    "blind to the hand release": Stranger(_blind(Finding.HAND_RELEASE)),
    "blind to loose screws": Stranger(_blind(Finding.LOCK_LOOSE), unsafe=False),
    "blind to a warp": Stranger(_blind(Finding.WARPED)),
    "blind to coil, rectifier and switch": Stranger(
        _blind(Finding.COIL, Finding.RECTIFIER, Finding.AC_SIDE)
    ),
    "blind to all that rubs": Stranger(_blind(Finding.OIL, Finding.GLAZE, Finding.HEAT_CRACKS)),
    "blind to a tilt": Stranger(_blind(Finding.GAP_UNEVEN), unsafe=False),
    "blind to a tight gap": Stranger(_blind(Finding.GAP_SMALL), unsafe=False),
    "refers every new disc": Stranger(_refers(_R), unsafe=False),
    "refers every adjustment": Stranger(_refers(_A), unsafe=False),
    "refers all work": Stranger(_refers(_A, _R), unsafe=False),
    "refers everything": Stranger(_refers(_F, _A, _R), unsafe=False),
    "adjusts where a disc is due": Stranger({"instead_of": {_R: _A}}),
    "changes the disc for every setting": Stranger({"instead_of": {_A: _R}}, unsafe=False),
    "sets what should be withdrawn": Stranger({"instead_of": {_X: _A}}),
    "new disc for what should be withdrawn": Stranger({"instead_of": {_X: _R}}),
    "passes what needs a setting": Stranger({"instead_of": {_A: _F}}),
    "each screw by itself": Stranger({"each_screw": True}, unsafe=False),
    "one round of setting, whatever comes": Stranger({"rounds": 1}, unsafe=False),
    "turns a live shaft": Stranger({"turns_locked_off": False}),
}
_HANDS: dict[str, Stranger] = {
    "guesses the decision": Stranger(instead=_guesses),
    "nothing written down": Stranger(instead=without("write_gap", "write_disc"), unsafe=False),
    "coil never measured": Stranger(instead=without("measure_coil")),
    "names everything": Stranger(instead=changed("decide", found=_EVERYTHING), unsafe=False),
    "names nothing": Stranger(instead=changed("decide", found=("nothing",)), unsafe=False),
    "looks at the edge only": Stranger(instead=_looks_only_at("outside", "running", "edge")),
    "looks at nothing": Stranger(instead=_looks_only_at()),
    "seal with its lip out": Stranger(instead=changed("refit_seal", seated=False), unsafe=False),
    "seal left off": Stranger(instead=without("refit_seal"), unsafe=False),
    "fan off its key": Stranger(instead=changed("refit_fan", on_key=False), unsafe=False),
    "fan without its ring": Stranger(instead=without("refit_ring"), unsafe=False),
    "cover left off": Stranger(instead=without("refit_cover"), unsafe=False),
    "hand release left off": Stranger(instead=without("refit_lever"), unsafe=False),
    "hand release without play": Stranger(instead=changed("set_lever", play_mm=0.0)),
    "wear plate turned round": Stranger(
        instead=_before("fit_disc", do.RemoveWearPlate(), do.FitWearPlate(smooth_to_disc=False))
    ),
    "wear plate left out": Stranger(instead=_before("fit_disc", do.RemoveWearPlate())),
    "spline left dirty": Stranger(instead=without("clean_spline"), unsafe=False),
    "disc turned round": Stranger(instead=changed("fit_disc", reversed=True)),
    "not bedded in": Stranger(instead=without("bed_in")),
    "old disc put back": Stranger(instead=changed("fit_disc", part="old")),
    "screws started by wrench": Stranger(instead=_starts_by_wrench, unsafe=False),
    "screws tightened in one go": Stranger(instead=_in_one_go, unsafe=False),
    "screws a third too loose": Stranger(instead=_tightens(0.65)),
    "screws half as tight again": Stranger(instead=_tightens(1.5), unsafe=False),
    "leads on the AC side": Stranger(instead=changed("connect_leads", side="ac")),
    "no load test": Stranger(instead=without("test_hold")),
    "no run": Stranger(instead=without("test_run"), unsafe=False),
    "no next date": Stranger(instead=_into_service(next_days=None)),
    "next date far away": Stranger(instead=_into_service(next_days=1000)),
    "new parts never looked at": Stranger(
        instead=_looks_only_at(
            "outside",
            "running",
            "edge",
            "springs",
            "dust",
            "screws",
            "lever",
            "seal",
            "fan",
            "leads",
        ),
    ),
    "switch without a lock": Stranger(instead=changed("isolate", lock=False)),
    "never tries to start": Stranger(instead=changed("isolate", try_start=False)),
    "contactless tester": Stranger(instead=changed("prove_dead", tester="contactless")),
    "dead on the AC side only": Stranger(instead=changed("prove_dead", sides="ac")),
    "tester not tried on a known source": Stranger(
        instead=changed("prove_dead", known_source=False)
    ),
    "area not barred": Stranger(instead=changed("land_load", bar_area=False)),
    "slack not proved": Stranger(instead=changed("land_load", prove_slack=False)),
    "no mask": Stranger(instead=changed("remove_cover", protected=False)),
    "body not held": Stranger(instead=without("hold_body")),
    "insulation test through the rectifier": Stranger(
        instead=changed("measure_coil", leads_lifted=False), unsafe=False
    ),
}
_MIXED: dict[str, Stranger] = {
    "now and then a bad gap unwritten": Stranger({"hides": "gap unwritten"}, share=HALF_THE_CASES),
    "now and then a bad disc as good": Stranger({"hides": "disc as good"}, share=HALF_THE_CASES),
    "now and then blind": Stranger({"heeds_signs": False}, share=HALF_THE_CASES),
    "now and then a bad gap as good": Stranger({"hides": "gap as good"}, share=HALF_THE_CASES),
    "unwritten gap, disc on one side": Stranger(
        {"hides": "gap unwritten", "disc_places": (0.0, 25.0, 50.0, 75.0)}
    ),
    "refers discs, leaves bad gaps out": Stranger({**_refers(_R), "hides": "gap unwritten"}),
    "blind to springs, spline and oil": Stranger(
        _blind(Finding.SPRINGS, Finding.SPLINE, Finding.OIL)
    ),
    "face value, no thought of later": Stranger({"factor": 0.0, "looks_ahead": False}),
    "badly refitted all round": Stranger(
        {"torque_share": 0.6},
        both(changed("refit_seal", seated=False), changed("refit_fan", on_key=False)),
    ),
    "no load test, no date": Stranger(
        instead=both(without("test_hold"), _into_service(next_days=None))
    ),
    "lever without play, not bedded in": Stranger(
        instead=both(changed("set_lever", play_mm=0.0), without("bed_in"))
    ),
    "each screw, one round, far date": Stranger(
        {"each_screw": True}, _into_service(next_days=1000)
    ),
}
STRANGERS: Mapping[str, Stranger] = {**_MIND, **_HANDS, **_MIXED}

_UNSAFE_SLIPS = frozenset(SLIPS) - {
    "equal-turns-on-a-tilted-gap", "step-taken-as-exact", "leaf-forced", "measured-through-dust",
    "good-disc-replaced", "rule-for-the-disc",
}  # fmt: skip
# Every habit that is not the careful one's: the misunderstandings that grading names, and these.
ALL_HABITS: Mapping[str, Stranger] = {
    **{name: Stranger(changes, unsafe=name in _UNSAFE_SLIPS) for name, changes in SLIPS.items()},
    **STRANGERS,
}

_TWELVE = tuple(30.0 * n for n in range(12))
# Other ways of working that are as good: other leaves, factors, orders, more readings.
HONEST: Mapping[str, Stranger] = {
    "careful": Stranger(unsafe=False),
    "factor 1.645": Stranger({"factor": 1.645}, unsafe=False),
    "factor 2": Stranger({"factor": 2.0}, unsafe=False),
    "twelve places": Stranger({"places": _TWELVE}, unsafe=False),
    "six places": Stranger({"places": tuple(60.0 * n for n in range(6))}, unsafe=False),
    "places between": Stranger({"places": tuple(22.5 + 45.0 * n for n in range(8))}, unsafe=False),
    "anticlockwise": Stranger({"places": tuple(45.0 * n for n in range(7, -1, -1))}, unsafe=False),
    "disc at three places": Stranger({"disc_places": (30.0, 150.0, 270.0)}, unsafe=False),
    "disc at eight places": Stranger(
        {"disc_places": tuple(45.0 * n for n in range(8))}, unsafe=False
    ),
    "disc before gap": Stranger({"disc_first": True}, unsafe=False),
    "steps of two hundredths": Stranger({"step_of": 2}, unsafe=False),
    "measured twice": Stranger(instead=_twice, unsafe=False),
    "release not found": Stranger(instead=without("find_release"), unsafe=False),
    "more play": Stranger(instead=changed("set_lever", play_mm=1.5), unsafe=False),
}
