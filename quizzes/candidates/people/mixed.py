"""Mixtures of habits, and habits that show only now and then."""

from widgets.brake.judgement.rules import Outcome
from widgets.brake.judgement.signs import Finding

from .stranger import HALF_THE_CASES, Stranger, both, changed, without
from .ways import blind, into_service, refers

_R = Outcome.REPLACE

MIXED: dict[str, Stranger] = {
    "now and then a bad gap unwritten": Stranger({"hides": "gap unwritten"}, share=HALF_THE_CASES),
    "now and then a bad disc as good": Stranger({"hides": "disc as good"}, share=HALF_THE_CASES),
    "now and then blind": Stranger({"heeds_signs": False}, share=HALF_THE_CASES),
    "now and then a bad gap as good": Stranger({"hides": "gap as good"}, share=HALF_THE_CASES),
    "unwritten gap, disc on one side": Stranger(
        {"hides": "gap unwritten", "disc_places": (0.0, 25.0, 50.0, 75.0)}
    ),
    "refers discs, leaves bad gaps out": Stranger({**refers(_R), "hides": "gap unwritten"}),
    "blind to springs, spline and oil": Stranger(
        blind(Finding.SPRINGS, Finding.SPLINE, Finding.OIL)
    ),
    "face value, no thought of later": Stranger({"factor": 0.0, "looks_ahead": False}),
    "badly refitted all round": Stranger(
        {"torque_share": 0.6},
        both(changed("refit_seal", seated=False), changed("refit_fan", on_key=False)),
    ),
    "no load test, no date": Stranger(
        instead=both(without("test_hold"), into_service(next_days=None))
    ),
    "lever without play, not bedded in": Stranger(
        instead=both(changed("set_lever", play_mm=0.0), without("bed_in"))
    ),
    "each screw, one round, far date": Stranger({"each_screw": True}, into_service(next_days=1000)),
}
