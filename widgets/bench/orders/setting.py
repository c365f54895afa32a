"""Measuring, adjusting and locking: the orders in which a gap is set.

Source: common practice, no source; reversal method of length metrology for turning the shaft.
"""

from collections.abc import Mapping

from widgets.bench import actions as do
from widgets.brake.sizes.design import Design

from .order_of_work import OrderOfWork
from .order_of_work import WorkStep as Step

SCREWS = (1, 2, 3)
_SLACKEN = tuple(do.LoosenLock(screw) for screw in SCREWS)
_GAUGE = (do.GaugeGap(0.0, (0.05,)),)

ADJUSTING = OrderOfWork(
    "adjusting",
    (
        Step("lever", "See that the hand release has play", (do.WorkLever(),),
             if_not="the lever may be holding the gap closed"),
        Step("gauge", "Gauge the gap at eight places", _GAUGE,
             if_not="what the brake was like can never be known again"),
        Step("disc", "Measure the disc at four places", (do.MeasureDisc(0.0),),
             if_not="a gap is set on a disc that is worn out"),
        Step("compare", "Compare the readings with the limits of this size"),
        Step("decide", "Decide whether adjusting is the right thing",
             if_not="a worn-out disc would be adjusted and left in"),
        Step("slacken", "Support the body, and slacken the retaining screws a little", _SLACKEN,
             if_not="the hollow screws are clamped, and do not turn"),
        Step("turn", "Turn the hollow screws by the turns worked out",
             tuple(do.TurnScrew(screw, -10.0) for screw in SCREWS)),
        Step("lock", "Tighten the retaining screws in stages to their torque",
             if_not="they carry the braking torque"),
        Step("gauge-again", "Gauge the gap at eight places again", _GAUGE,
             if_not="locking takes up slack and play, and the gap moves"),
        Step("record", "Mark the screws and write the readings down"),
    ),
    free=(("gauge", "disc"),),
)  # fmt: skip

ADJUSTING_SHIMS = ADJUSTING.instead(
    "adjusting with shims",
    {
        "slacken": (
            Step("slacken", "Support the body, and slacken the retaining screws a little",
                 _SLACKEN, if_not="the packs of shims are clamped"),
        ),
        "turn": (
            Step("shims", "Take out, or put in, shims of the thickness worked out",
                 tuple(do.ChangeShim(screw, -0.05) for screw in SCREWS),
                 if_not="the gap stays as it was"),
        ),
        "record": (Step("record", "Write the readings down, and which shims are in"),),
    },
)  # fmt: skip

ADJUSTING_RING = ADJUSTING.instead(
    "adjusting with a ring",
    {
        "slacken": (
            Step("loosen-ring", "Loosen the set screw of the adjusting ring",
                 (do.LoosenAdjustingRing(),), if_not="the ring does not turn"),
        ),
        "turn": (
            Step("turn-ring", "Turn the ring by the notches worked out",
                 (do.TurnAdjustingRing(-1),)),
        ),
        "lock": (
            Step("lock-ring", "Lock the ring in its notch", (do.LockAdjustingRing(),),
                 if_not="it walks, and the gap with it"),
        ),
        "gauge-again": (
            Step("gauge-again", "Gauge the gap at eight places again", _GAUGE,
                 if_not="the lock takes up play, and the gap moves"),
        ),
        "record": (Step("record", "Mark the ring and write the readings down"),),
    },
)  # fmt: skip

# Nothing is adjusted: what is left of the order, and what comes in the place of adjusting.
NOT_ADJUSTABLE = ADJUSTING.instead(
    "a gap that cannot be adjusted",
    {
        "decide": (
            Step("decide", "See on sheet and brake that nothing sets the gap",
                 if_not="somebody looks for screws, or packs something under the body"),
        ),
        "slacken": (
            Step("replace", "Replace the disc where the gap is too large, or will be",
                 if_not="the gap goes on growing, and the brake no longer lifts"),
        ),
        "turn": (), "lock": (),
        "gauge-again": (),
        "record": (Step("record", "Write readings and decision down"),),
    },
)  # fmt: skip

# By design: the order in which its gap is set.
SETTING: Mapping[Design, OrderOfWork] = {
    Design.HOLLOW_SCREWS: ADJUSTING,
    Design.SHIMS: ADJUSTING_SHIMS,
    Design.ADJUSTING_RING: ADJUSTING_RING,
    Design.FIXED: NOT_ADJUSTABLE,
}

LOCKING = OrderOfWork(
    "locking",
    (
        Step("touch", "Turn all three retaining screws in by hand until they touch",
             if_not="one side is pulled down before the others touch"),
        Step("half", "All three in turn to about half the torque",
             if_not="the body is bent, and the other two tighten on a bent part"),
        Step("full", "All three in turn to the full torque"),
        Step("once-more", "Once more round at the full torque",
             if_not="a screw that has settled stays short of its torque"),
        Step("gauge", "Gauge the gap at all places", _GAUGE),
        Step("mark", "Paint a mark across each screw and the body"),
    ),
)  # fmt: skip

ROUND_AGAIN = OrderOfWork(
    "a second round",
    (
        Step("gauge", "Gauge all places with the screws tight", _GAUGE,
             if_not="the readings to correct by are lost"),
        Step("work-out", "Work out a turn for each screw from these readings"),
        Step("slacken", "Slacken the retaining screws a little", _SLACKEN),
        Step("turn", "Turn the hollow screws by what was worked out",
             tuple(do.TurnScrew(screw, -10.0) for screw in SCREWS)),
        Step("lock", "Tighten again in stages"),
        Step("gauge-again", "Gauge all places once more", _GAUGE),
    ),
)  # fmt: skip

TURNING_THE_SHAFT = OrderOfWork(
    "turning the shaft",
    (
        Step("gauge", "Gauge all places round the rim", _GAUGE),
        Step("release", "Release the brake from its own test supply", (do.Energise("test"),)),
        Step("turn", "Turn the shaft by half a turn", (do.TurnShaft(180.0),)),
        Step("apply", "Switch the test supply off, and lock it off", (do.DeEnergise(),),
             if_not="the plate is still pulled in, and can close on the leaf"),
        Step("dead", "Prove dead at the brake", (do.ProveDead(),)),
        Step("gauge-again", "Gauge all places again", _GAUGE),
        Step("compare", "Compare the two rounds place by place"),
    ),
)  # fmt: skip

COIL = OrderOfWork(
    "measuring the coil",
    (
        Step("dead", "Prove dead at the terminals of the coil", (do.ProveDead(),),
             if_not="a lead may be live"),
        Step("leads", "Mark and disconnect both leads of the coil", (do.DisconnectLeads(),),
             if_not="what lies in parallel is measured too, and 500 V goes through the rectifier"),
        Step("null", "Touch the meter’s leads together and note what they show"),
        Step("measure", "Measure the coil", (do.MeasureCoil("resistance"),)),
        Step("record", "Write it down with the temperature of the coil"),
    ),
    free=(("leads", "null"),),
)  # fmt: skip
