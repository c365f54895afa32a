"""Habits of the hands: what somebody leaves out, does otherwise, or fits badly."""

from widgets.bench import actions as do
from widgets.brake.judgement.signs import Finding

from .stranger import Stranger, changed, without
from .ways import (
    before,
    guesses,
    in_one_go,
    into_service,
    looks_only_at,
    starts_by_wrench,
    tightens,
)

_EVERYTHING = tuple(finding.value for finding in Finding)[1:9]

HANDS: dict[str, Stranger] = {
    "guesses the decision": Stranger(instead=guesses),
    "nothing written down": Stranger(instead=without("write_gap", "write_disc"), unsafe=False),
    "coil never measured": Stranger(instead=without("measure_coil")),
    "names everything": Stranger(instead=changed("decide", found=_EVERYTHING), unsafe=False),
    "names nothing": Stranger(instead=changed("decide", found=("nothing",)), unsafe=False),
    "looks at the edge only": Stranger(instead=looks_only_at("outside", "running", "edge")),
    "looks at nothing": Stranger(instead=looks_only_at()),
    "seal with its lip out": Stranger(instead=changed("refit_seal", seated=False), unsafe=False),
    "seal left off": Stranger(instead=without("refit_seal"), unsafe=False),
    "fan off its key": Stranger(instead=changed("refit_fan", on_key=False), unsafe=False),
    "fan without its ring": Stranger(instead=without("refit_ring"), unsafe=False),
    "cover left off": Stranger(instead=without("refit_cover"), unsafe=False),
    "hand release left off": Stranger(instead=without("refit_lever"), unsafe=False),
    "hand release without play": Stranger(instead=changed("set_lever", play_mm=0.0)),
    "wear plate turned round": Stranger(
        instead=before("fit_disc", do.RemoveWearPlate(), do.FitWearPlate(smooth_to_disc=False))
    ),
    "wear plate left out": Stranger(instead=before("fit_disc", do.RemoveWearPlate())),
    "spline left dirty": Stranger(instead=without("clean_spline"), unsafe=False),
    "disc turned round": Stranger(instead=changed("fit_disc", reversed=True)),
    "not bedded in": Stranger(instead=without("bed_in")),
    "old disc put back": Stranger(instead=changed("fit_disc", part="old")),
    "screws started by wrench": Stranger(instead=starts_by_wrench, unsafe=False),
    "screws tightened in one go": Stranger(instead=in_one_go, unsafe=False),
    "screws a third too loose": Stranger(instead=tightens(0.65)),
    "screws half as tight again": Stranger(instead=tightens(1.5), unsafe=False),
    "leads on the AC side": Stranger(instead=changed("connect_leads", side="ac")),
    "no load test": Stranger(instead=without("test_hold")),
    "no run": Stranger(instead=without("test_run"), unsafe=False),
    "no next date": Stranger(instead=into_service(next_days=None)),
    "next date far away": Stranger(instead=into_service(next_days=1000)),
    "new parts never looked at": Stranger(
        instead=looks_only_at(
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
    "presses on under a hanging load": Stranger({"keeps_away": False}),
    "area not barred": Stranger(instead=changed("land_load", bar_area=False)),
    "slack not proved": Stranger(instead=changed("land_load", prove_slack=False)),
    "no mask": Stranger(instead=changed("remove_cover", protected=False)),
    "body not held": Stranger(instead=without("hold_body")),
    "insulation test through the rectifier": Stranger(
        instead=changed("measure_coil", leads_lifted=False), unsafe=False
    ),
}
