"""Making safe, opening and taking apart: the orders in which a hand gets to the brake.

Source: 29 CFR 1910.147(d) for isolating, from memory; 29 CFR 1910.1001, Appendix F, for dust;
common practice, no source, for the rest.
"""

from widgets.bench import actions as do

from .order_of_work import OrderOfWork
from .order_of_work import WorkStep as Step

MAKING_SAFE = OrderOfWork(
    "making safe",
    (
        Step("bar", "Bar off the floor below the hoist",
             if_not="people walk where the load comes down"),
        Step("lower", "Lower the load to the floor"),
        Step("unhook", "Take the load off the hook",
             if_not="the block goes down with the load still on it"),
        Step("block", "Lower the empty block until it rests",
             if_not="an empty block turns the drum by its own weight"),
        Step("slack", "Feel that the rope or chain is slack", (do.LandLoad(),),
             if_not="the brake is still holding something, and nobody knows"),
        Step("control", "Turn the control to off"),
        Step("main-switch", "Switch the main switch off",
             if_not="somebody presses a button, and what your hand is in moves"),
        Step("lock", "Hang your own lock and tag on the switch",
             if_not="somebody who does not see you switches on"),
        Step("try-start", "Try to start, and turn the control back to off", (do.Isolate(),),
             if_not="a wrong switch, well locked, protects nobody"),
        Step("wait", "Wait until the stored charge is gone",
             if_not="capacitors still hold their charge"),
        Step("known-source", "Prove the tester on a known live source",
             if_not="a broken tester says “dead” to everything"),
        Step("box", "Take the cover off the terminal box, if the work order lets you",
             (do.OpenBox(),), if_not="this needs somebody who may: have an electrician open it"),
        Step("terminals", "Test at the terminals of motor and brake, AC side and DC side",
             if_not="the rectifier may be fed from another circuit"),
        Step("known-again", "Prove the tester on the same source again", (do.ProveDead(),),
             if_not="a tester that broke in between has told you nothing"),
        Step("protect", "Put on mask, eye protection and gloves",
             if_not="you breathe the dust behind the cover"),
        Step("cover", "Take off the cover", (do.RemoveCover(),)),
    ),
    free=(("wait", "known-source"),),
)  # fmt: skip

OPENING = OrderOfWork(
    "opening",
    (
        Step("cool", "Let the brake cool, and feel for heat near the cover",
             (do.Look("outside"),),
             if_not="a disc can be hot enough to burn, and a hot gap is not the gap"),
        Step("protect", "Put on mask, eye protection and gloves",
             if_not="you breathe the dust behind the cover"),
        Step("cover", "Take off the cover", (do.RemoveCover(),), hides="cover"),
        Step("look", "Look for traces of oil, rubbing and water, and where dust lies",
             (do.Look("fan"), do.Look("leads")),
             if_not="the traces tell the cause; wiped off, they are lost"),
        Step("ring", "Take the ring of the fan out of its groove", (do.RemoveRing(),)),
        Step("fan", "Draw the fan off its key", (do.RemoveFan(),), hides="fan"),
        Step("seal", "Roll back the seal", (do.RemoveSeal(),), hides="seal band"),
        Step("vacuum", "Take up the loose dust with the vacuum cleaner", (do.Clean("vacuum"),),
             if_not="the leaf reads through dust, and too low"),
        Step("damp", "Wipe the rest with a damp cloth", (do.Clean("damp_wipe"),)),
        Step("bag", "Put cloth and dust in a closed, marked bag"),
        Step("lever", "See that the hand release has play and springs back", (do.WorkLever(),),
             if_not="the lever may be holding the gap closed"),
        Step("gauge", "Gauge the gap", (do.GaugeGap(0.0, (0.05,)),)),
    ),
    free=(("cool", "protect"),),
)  # fmt: skip

TAKING_APART = OrderOfWork(
    "taking apart",
    (
        Step("leads", "Mark the leads of the coil and disconnect them", (do.DisconnectLeads(),),
             if_not="a lead tears out of its terminal"),
        Step("lever", "Take off the lever of the hand release", (do.RemoveLever(),),
             if_not="it hooks the body to the motor end"),
        Step("support", "Support the magnet body", (do.HoldBody(),),
             if_not="it drops or tilts with the last turns"),
        Step("slacken", "Slacken the three screws evenly, in turn",
             tuple(do.LoosenLock(screw) for screw in (1, 2, 3)),
             if_not="the body jams, jumps, or falls on a hand"),
        Step("draw", "Take the three screws out", tuple(do.DrawLock(screw) for screw in (1, 2, 3))),
        Step("body", "Take off magnet body, springs and plate together", (do.RemoveBody(),),
             hides="magnet body"),
        Step("disc", "Slide the old disc off the hub, and see which way its collar pointed",
             (do.RemoveDisc(),), hides="disc", if_not="the new one goes on by guess"),
    ),
    free=(("leads", "lever", "support"),),
)  # fmt: skip

# What hides what, from the outside in: the parts of the two orders as they come off.
OUTSIDE_IN = tuple(
    step.hides for work in (OPENING, TAKING_APART) for step in work.steps if step.hides
)
# For each thing that a hand or an eye wants: the last part that has to be off before.
_LAST_OFF = {
    "fan": "cover",
    "seal": "fan",
    "screws": "fan",
    "springs": "fan",
    "lever": "fan",
    "sling": "fan",
    "gap": "seal band",
    "dust": "seal band",
    "edge": "seal band",
    "hub": "seal band",
    "wear_plate": "seal band",
    "disc": "seal band",
    "faces": "magnet body",
    "wear plate": "disc",
    "spline": "disc",
}

_IN_FRONT_OF = {what: OUTSIDE_IN[: OUTSIDE_IN.index(last) + 1] for what, last in _LAST_OFF.items()}


def in_front_of(what: str) -> tuple[str, ...]:
    """Return the parts that hide something at the brake, from the outside in.

    Raises
    ------
    KeyError
        If nothing of that name is hidden.
    """
    return _IN_FRONT_OF[what]
