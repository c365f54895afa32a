"""Habits of the mind that try to get past the full form: half of a rule, or a rule in half."""

from quizzes.cases.case import Depth
from widgets.brake.judgement.rules import Outcome
from widgets.brake.judgement.signs import Finding

from .judging_otherwise import but_the_worst, judging, thin, wide, wide_on_the_mean
from .stranger import HALF_THE_CASES, Stranger, changed, without
from .ways import blind, dates_by_the_rule_alone, decides_by_a_coin, into_service, of_the_right_name

_A, _R, _F, _X = Outcome.ADJUST, Outcome.REPLACE, Outcome.FIT, Outcome.REFER
_BY_HAND = (Depth.BENCH, Depth.WORK_ORDER)
_LITTLE = {"places": (0.0, 90.0, 180.0, 270.0), "disc_places": (0.0, 180.0)}

STRANGE_MIND: dict[str, Stranger] = {
    "guard band for the disc only": Stranger(hands=judging(gap=wide(0.0))),
    "guard band for the gap only": Stranger(hands=judging(disc=thin(0.0))),
    "date heeded for the disc only": Stranger(hands=judging(gap=wide(heeds_date=False))),
    "date heeded for the gap only": Stranger(hands=judging(disc=thin(heeds_date=False))),
    "gap by its mean": Stranger(hands=judging(gap=wide_on_the_mean)),
    "worst reading left out": Stranger(
        hands=judging(but_the_worst(wide(), largest=True), but_the_worst(thin(), largest=False))
    ),
    "a twentieth over is nothing": Stranger(hands=judging(gap=wide(0.0, over_mm=0.05))),
    "a disc a little under is good": Stranger(hands=judging(disc=thin(-4.0))),
    "line below, right name": Stranger({"row_below": True}, of_the_right_name),
    "a coin for what is near": Stranger(instead=decides_by_a_coin),
    "acts on whatever is near": Stranger({"factor": 4.0}, unsafe=False),
    "blind to the clutch": Stranger(blind(Finding.CLUTCH)),
    "blind to a lining that sticks": Stranger(blind(Finding.STICKS)),
    "blind to springs of two colours": Stranger(
        {"blind_to_signs": frozenset({"springs-of-two-colours"})}
    ),
    "blind to a broken spring": Stranger(
        {"blind_to_signs": frozenset({"spring-splinter", "uneven-clack"})}
    ),
    "takes a leak for a stain": Stranger({"blind_to_signs": frozenset({"wet-trace"})}),
    "gives way to who wants it back": Stranger(
        {"heeds_signs": False}, where=lambda case: "foreman" in case.work_order
    ),
    "believes that there is nothing to complain of": Stranger(
        {"heeds_signs": False}, where=lambda case: "Nothing to complain" in case.work_order
    ),
    "believes that a late stop is a wide gap": Stranger(
        {"instead_of": {_F: _A, _R: _A, _X: _A}},
        where=lambda case: "stops a little later" in case.work_order,
    ),
    "refers every other job": Stranger(
        {"instead_of": {_A: _X, _R: _X}}, share=HALF_THE_CASES, unsafe=False
    ),
    "hurried every other time": Stranger(
        _LITTLE, without("measure_coil"), share=HALF_THE_CASES, depths=_BY_HAND
    ),
    "names nothing by hand": Stranger(
        instead=changed("decide", found=("nothing",)), unsafe=False, depths=_BY_HAND
    ),
    # It passes where the rule's date is about what wear allows, and nowhere else.
    "dates by the rule alone": Stranger(instead=dates_by_the_rule_alone, unsafe=False),
    "date far away every other time": Stranger(
        instead=into_service(next_days=1000), share=HALF_THE_CASES
    ),
}
