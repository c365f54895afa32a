"""Habits of the mind: what somebody writes, believes, decides by rote; and mixtures of habits."""

from widgets.brake.judgement.rules import Outcome
from widgets.brake.judgement.signs import Finding

from .stranger import HALF_THE_CASES, Stranger, both, changed, without
from .ways import blind, into_service, refers

_R, _A, _F, _X = Outcome.REPLACE, Outcome.ADJUST, Outcome.FIT, Outcome.REFER

MIND: dict[str, Stranger] = {
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
    "blind to oil": Stranger(blind(Finding.OIL)),
    "blind to glaze": Stranger(blind(Finding.GLAZE)),
    "blind to heat cracks": Stranger(blind(Finding.HEAT_CRACKS)),
    "blind to springs": Stranger(blind(Finding.SPRINGS)),
    "blind to the spline": Stranger(blind(Finding.SPLINE)),
    "blind to a hub turned round": Stranger(blind(Finding.REVERSED)),
    "blind to the wear plate": Stranger(blind(Finding.NO_WEAR_PLATE)),
    "blind to the coil": Stranger(blind(Finding.COIL)),
    "blind to the AC side": Stranger(blind(Finding.AC_SIDE)),
    "blind to the hand release": Stranger(blind(Finding.HAND_RELEASE)),
    "blind to loose screws": Stranger(blind(Finding.LOCK_LOOSE), unsafe=False),
    "blind to a warp": Stranger(blind(Finding.WARPED)),
    "blind to coil, rectifier and switch": Stranger(
        blind(Finding.COIL, Finding.RECTIFIER, Finding.AC_SIDE)
    ),
    "blind to all that rubs": Stranger(blind(Finding.OIL, Finding.GLAZE, Finding.HEAT_CRACKS)),
    "blind to a tilt": Stranger(blind(Finding.GAP_UNEVEN), unsafe=False),
    "blind to a tight gap": Stranger(blind(Finding.GAP_SMALL), unsafe=False),
    "refers every new disc": Stranger(refers(_R), unsafe=False),
    "refers every adjustment": Stranger(refers(_A), unsafe=False),
    "refers all work": Stranger(refers(_A, _R), unsafe=False),
    "refers everything": Stranger(refers(_F, _A, _R), unsafe=False),
    "adjusts where a disc is due": Stranger({"instead_of": {_R: _A}}),
    "changes the disc for every setting": Stranger({"instead_of": {_A: _R}}, unsafe=False),
    "sets what should be withdrawn": Stranger({"instead_of": {_X: _A}}),
    "new disc for what should be withdrawn": Stranger({"instead_of": {_X: _R}}),
    "passes what needs a setting": Stranger({"instead_of": {_A: _F}}),
    "each screw by itself": Stranger({"each_screw": True}, unsafe=False),
    "one round of setting, whatever comes": Stranger({"rounds": 1}, unsafe=False),
    "turns a live shaft": Stranger({"turns_locked_off": False}),
}

# Mixtures of habits, and habits that show only now and then.
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
