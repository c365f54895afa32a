"""Words of the lines of an element of working and proving, and of how the brake was left."""

from collections.abc import Mapping

from widgets.brake.judgement.remark import read

from .names import PARTS
from .phrasing import Facts, Words, kept, listed, number_of

_LOOKS = {"hub": "hub and spline", "wear_plate": "wear plate", "new_disc": "the new disc"}
_NEEDS = {
    "adjust": "its gap is outside its limits or uneven",
    "replace": "its disc is worn out",
    "refer": "plate or body is bent, and no adjustment cures that",
}
_WAYS = {
    "on": "on the setting",
    "wider": "wider than the setting",
    "tighter": "tighter than the setting",
}


def _torques(facts: Facts) -> str:
    each = [read(one)[1] for one in facts["screws"]]
    screws = ", ".join(f"screw {one['screw']} at {one['torque_nm']:g} N·m" for one in each)
    return f"S{screws[1:]}; this size asks for {facts['proper_nm']:g} N·m."


def _looked(facts: Facts) -> str:
    return kept(f"looked at {_LOOKS[facts['at']]}")(facts)


def _setting(facts: Facts) -> str:
    return f"Mean gap left {_WAYS[facts['way']]} of {facts['setting_mm']:g} mm."


def _days(days: int) -> str:
    return number_of(days, "day", "days")


WORK: Mapping[str, Words] = {
    "screws.not-touched": "Decided to adjust, and nothing was set.",
    "screws.not-turned": "The setting of the gap was not changed.",
    "screws.turned": lambda facts: (
        f"The setting of the gap was changed at step {facts['step']}."
        if facts["times"] == 1
        else f"The setting of the gap was changed {facts['times']} times, first at step "
        f"{facts['step']}."
    ),
    "setting.mean": _setting,
    "setting.even": "Left even round the rim.",
    "setting.uneven": "Left uneven: one side wider than the other.",
    "lock.torque": "Screw {screw} at {torque_nm:g} N·m.",
    "lock.wrong-torque": _torques,
    "lock.ring-loose": "The adjusting ring was left unlocked: it walks.",
    "lock.all-at-torque": "All three at {proper_nm:g} N·m.",
    "lock.wrench-untried": "The wrench was not tried first: nobody knows its torque.",
    "lock.started-crossed": (
        "A screw was started with the wrench at step {step} and crossed its thread."
    ),
    "lock.in-one-go": lambda facts: (
        f"Screw {listed(facts['screws'])} from slack to full torque in one go."
    ),
    "gap.written-after": lambda facts: (
        f"Gap written down at {number_of(facts['places'], 'place', 'places')} after the last screw "
        f"was locked (step {facts['step']})."
    ),
    "apart.leads-off-first": kept("leads marked and off before the body"),
    "apart.body-in-sling": kept("body in a sling"),
    "apart.not-jammed": kept("screws taken out without the body jamming"),
    "fitting.looked-at": _looked,
    "fitting.spline-cleaned": kept("spline cleaned, the disc slides freely"),
    "disc.not-replaced": "Decided to replace the disc, but it was not done.",
    "disc.fitted": "Disc fitted at step {step}.",
    "fitted.right-size": kept("a new disc of this size"),
    "fitted.collar-to-motor": kept("collar to the motor"),
    "fitted.wear-plate": kept("wear plate there"),
    "fitted.smooth-to-disc": kept("smooth side of the plate to the disc"),
    "closed.left-off": lambda facts: f"Left off: {listed(facts['parts'], PARTS)}.",
    "closed.all-on": "Seal band, fan, cover and terminal box closed.",
    "closed.screws-hold": "All three retaining screws hold.",
    "spoilt.rectifier": (
        "Insulation measured at step {step} with the coil’s leads on: 500 V went through the "
        "rectifier, and destroyed it."
    ),
    "fitted-badly.seal-lip": "Left with the lip of the seal band out of its groove.",
    "fitted-badly.fan-without-key": "Left with the fan without its key.",
    "fitted-badly.fan-without-ring": "Left with the fan without its ring.",
    "fitted-badly.lever-off": "Left with the hand release off.",
    "fitted-badly.lever-without-play": (
        "Left with too little play in the hand release for the wear to come."
    ),
    "fitted-badly.leads-on-ac-side": "Left with the leads on the AC side.",
    "fitted-badly.leads": "Left with the leads {leads}.",
    "fitted-badly.rough-to-disc": "Left with the rough side of the wear plate to the disc.",
    "fitted-badly.disc-reversed": "Left with the disc the wrong way round.",
    "fitted-badly.spline-dirty": "Left with the new disc on a spline that was not cleaned.",
    "fitted-badly.not-bedded": "Left with the new lining not bedded in.",
    # proving and the record
    "release.heard": "Release heard, step {step}.",
    "release.not-tried": "The release was not tried after the last work.",
    "shaft.felt-free": "Shaft felt free, step {step}.",
    "shaft.not-felt": "The shaft was not felt free with the brake released.",
    "run.done": "Run without load, step {step}.",
    "run.after-the-load": (
        "Run without load only at step {step}: before it, the load was lifted on a brake that "
        "nobody had tried empty."
    ),
    "run.not-done": "Not run without load after the last work.",
    "hold.shown": "Test load held, step {step}.",
    "hold.left-for-others": "Tagged, and left for a load test by somebody who may do one.",
    "hold.could-have-tested": "Left for others to test, although the work order asks you to.",
    "hold.run-is-enough": "The run without load that this order ends with, step {step}.",
    "hold.stopped-too": "Test load held, lowered and stopped, step {step}.",
    "hold.not-stopped": "Not shown to stop the test load in lowering after the last work.",
    "hold.this-alone": kept("load held by this brake alone"),
    "hold.other-alone": kept("load held by the other brake alone"),
    "hold.not-shown": "Not shown to hold the test load after the last work.",
    "record.gap-read-first": kept("gap readings before the decision"),
    "record.disc-read-first": kept("disc readings before the decision"),
    "record.decided-first": kept("decision before any work"),
    "record.hand-over-fits": kept("hand-over that fits the decision"),
    "due.tagged-out": "Locked, tagged, out of service.",
    "due.neither": "Neither in service nor tagged out.",
    "due.no-date": "No date for the next inspection.",
    "due.date": lambda facts: (
        f"Next inspection in {_days(facts['next_days'])}; the readings allow "
        f"{facts['allowed_days']} at the most."
    ),
    "due.disc-left": lambda facts: (
        f"{facts['left_mm']:.2f} mm of disc left: enough for {_days(facts['allowed_days'])}, next "
        f"inspection in {facts['next_days']}."
    ),
    # as it was left
    "left.screws-loose": lambda facts: (
        f"In service with retaining screw {listed(facts['screws'])} not tight."
    ),
    "left.ring-loose": "In service with the adjusting ring not locked.",
    "left.parts-off": lambda facts: (
        f"In service without its {listed(facts['parts'], PARTS, ' and ')}."
    ),
    "left.no-wear-plate": "In service without its wear plate.",
    "left.needing": lambda facts: f"In service although {_NEEDS[facts['needs']]}.",
    "left.not-holding": "In service although it does not hold the test load.",
    "left.wet": "In service wet, or with water still coming in.",
    "left.other-not-holding": "In service although the hoist’s other brake does not hold alone.",
    "left.not-releasing": "In service although it will not release hot at low voltage.",
}
