"""Habits of eyes and hands that try to get past the full form: one of the checks left out."""

from quizzes.cases.case import Depth
from widgets.bench import actions as do
from widgets.brake.judgement.signs import Finding

from . import remembering as hands
from .stranger import HALF_THE_CASES, Stranger, both, changed, without
from .ways import (
    before,
    blind,
    fits_the_other_disc,
    leaves_tests_to_others,
    looks_at_half,
    looks_not_at,
    tries_not,
    without_insulation,
    without_lock_under_a_load,
    writes_as_rated,
    writes_gap,
)

_BY_HAND = (Depth.BENCH, Depth.WORK_ORDER)
_NO_SETTING = without("loosen_lock", "turn_screw", "tighten_lock")

STRANGE_HANDS: dict[str, Stranger] = {
    # of the eyes
    "never looks at the hub": Stranger(instead=looks_not_at("hub")),
    "never looks at the springs": Stranger(instead=looks_not_at("springs")),
    "never looks at the edge": Stranger(instead=looks_not_at("edge")),
    "never looks at the leads": Stranger(instead=looks_not_at("leads")),
    "never tries the hand release": Stranger(
        instead=both(without("work_lever"), looks_not_at("lever"))
    ),
    "never tries the screws": Stranger(instead=both(without("try_lock"), looks_not_at("screws"))),
    "never sees it run first": Stranger(instead=looks_not_at("running"), unsafe=False),
    "hub and wear plate never looked at": Stranger(
        instead=looks_not_at("hub", "wear_plate", "faces")
    ),
    "looks at half of it": Stranger(instead=looks_at_half, depths=_BY_HAND),
    # of the instruments
    "instruments looked over, and used as they are": Stranger(instead=without("change_tool")),
    "wrench never tried": Stranger(instead=tries_not("wrench")),
    "caliper never tried": Stranger(instead=tries_not("caliper")),
    "leaves never looked over": Stranger(instead=tries_not("leaves")),
    "insulation never measured": Stranger(instead=without_insulation),
    "meter written as rated": Stranger(
        blind(Finding.COIL, Finding.RECTIFIER), writes_as_rated, depths=_BY_HAND
    ),
    "no-go never felt": Stranger(instead=writes_gap(no_go_on_mm=0.03), unsafe=False),
    "rounded down to a leaf": Stranger(instead=writes_gap(rounded=True)),
    "written one place further on": Stranger(instead=writes_gap(on_deg=45.0)),
    "disc until it suits": Stranger(hands=hands.disc_until_it_suits, unsafe=False),
    "gap until it suits": Stranger(hands=hands.gap_until_it_suits, unsafe=False),
    "scale read a step up": Stranger(hands=hands.scale_a_step_up, unsafe=False),
    "thin reading struck out": Stranger(hands=hands.thin_reading_struck_out),
    "places in a heap": Stranger(
        {"places": (0.0, 21.0, 42.0, 63.0, 84.0, 105.0, 200.0, 250.0)}, unsafe=False
    ),
    # of making safe
    "bars nothing under a load": Stranger(instead=changed("keep_clear", bar_area=False)),
    "calls nobody under a load": Stranger(instead=changed("keep_clear", call=False)),
    "lowers a load by the hand release": Stranger(instead=before("keep_clear", do.WorkLever())),
    "no lock under a load": Stranger(instead=without_lock_under_a_load),
    "closes up with the supply on": Stranger(instead=before("refit_seal", do.RestoreSupply())),
    "shuts the box with the supply on": Stranger(instead=before("close_box", do.RestoreSupply())),
    "dead once is dead": Stranger(hands=hands.only_first("prove_dead", dc_live=False)),
    "locked off once only": Stranger(hands=hands.only_first("isolate")),
    "does not wait for the charge": Stranger(instead=changed("isolate", wait=False)),
    "hook not emptied": Stranger(instead=changed("land_load", unhook=False)),
    "dry brush": Stranger({"cleans": "dry_brush"}),
    "mask every other time": Stranger(
        instead=changed("remove_cover", protected=False), share=HALF_THE_CASES
    ),
    # of the work and its proof
    "copies after three": Stranger(hands=hands.copies_after_three),
    "last stage after measuring": Stranger(hands=hands.last_stage_after_measuring),
    "disc of another size": Stranger(instead=fits_the_other_disc),
    "hand release never set again": Stranger(instead=without("set_lever")),
    "decides it and sets nothing": Stranger(
        {"rounds": 1}, _NO_SETTING, unsafe=False,
        where=lambda case: case.depth is Depth.WORK_ORDER and "gap-tilted" in case.family,
    ),
    "load not weighed": Stranger(instead=changed("test_hold", weighed=False)),
    "floor not cleared": Stranger(instead=changed("test_hold", floor_clear=False)),
    "tests what is left to others": Stranger(
        {"heeds_authority": False}, changed("open_box", by="electrician")
    ),
    "leaves every test to others": Stranger(instead=leaves_tests_to_others, unsafe=False),
    "shaft never turned": Stranger(instead=without("turn_shaft"), unsafe=False),
    "release never heard": Stranger(
        instead=without("energise", "de_energise", "find_release"), unsafe=False
    ),
}  # fmt: skip
