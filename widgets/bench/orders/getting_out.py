"""Fitting, closing up, giving the supply back and testing: the orders back to a hoist in use.

Source: 29 CFR 1910.147(e) and 1910.179(l)(2)(ii), from memory, for the supply; common practice,
no source, for the rest.
"""

from widgets.bench import actions as do

from .order_of_work import OrderOfWork
from .order_of_work import WorkStep as Step

FITTING = OrderOfWork(
    "fitting",
    (
        Step("plate", "Fit the wear plate on the motor end, its smooth side to the disc",
             if_not="it stays in the box, and the gap is wrong by its thickness"),
        Step("room", "Turn the hollow screws out to make room",
             if_not="the new disc is thicker, and the body jams"),
        Step("disc", "Slide the new disc on the hub, right way round",
             if_not="the hub takes the force of the springs, and the lining does not"),
        Step("body", "Hang magnet body and plate on, and start the screws by hand, the top one "
             "first", (do.FitBody(), *(do.StartLock(screw) for screw in (1, 2, 3))),
             if_not="threads cross; the body tips out of its guides"),
        Step("set", "Set the gap with the hollow screws"),
        Step("lock", "Tighten the retaining screws in stages"),
        Step("gauge-again", "Gauge all places again",
             if_not="a gap that has moved since is handed over"),
    ),
    free=(("plate", "room"), ("room", "disc")),
)  # fmt: skip

FITTING_SHIMS = FITTING.instead(
    "fitting with shims",
    {
        "room": (
            Step("room", "Put shims back under the spacers to make room",
                 tuple(do.ChangeShim(screw, 1.0) for screw in (1, 2, 3)),
                 if_not="the new disc is thicker, and the body jams"),
        ),
        "set": (Step("set", "Set the gap with shims"),),
    },
)  # fmt: skip

FITTING_RING = FITTING.instead(
    "fitting with a ring",
    {
        "room": (),
        "set": (
            Step("loosen-ring", "Loosen the set screw of the adjusting ring",
                 (do.LoosenAdjustingRing(),)),
            Step("turn-ring", "Turn the ring out to make room for the new disc",
                 (do.TurnAdjustingRing(25),),
                 if_not="the new disc is thicker, and the body jams"),
            Step("lock-ring", "Set the gap with the ring, and lock it", (do.LockAdjustingRing(),),
                 if_not="it walks, and the gap with it"),
        ),
        "lock": (Step("lock", "Tighten the retaining screws in stages"),),
    },
)  # fmt: skip

FITTING_FIXED = FITTING.instead("fitting where nothing is set", {"room": (), "set": ()})

CLOSING = OrderOfWork(
    "closing up",
    (
        Step("lever", "Set the play of the hand release, and see it return",
             (do.SetLever(0.7), do.WorkLever()),
             if_not="set before the gap, its play is gone with the first turn"),
        Step("leads", "Connect the leads as marked", (do.ConnectLeads("dc"),),
             if_not="on the AC side the coil only rattles"),
        Step("release", "Try the release with the coil’s own test supply",
             (do.Energise("test"), do.DeEnergise())),
        Step("box", "Put the cover of the terminal box on", (do.CloseBox(),),
             if_not="live terminals are bare when the supply is back"),
        Step("seal", "Seat the seal in its groove all round", (do.RefitSeal(),),
             if_not="behind the fan it cannot be seated"),
        Step("fan", "Fit the fan on its key", (do.RefitFan(),)),
        Step("ring", "Snap the ring of the fan into its groove", (do.RefitRing(),),
             if_not="the fan works its way off the shaft"),
        Step("cover", "Fit the cover", (do.RefitCover(),)),
    ),
    free=(("lever", "leads"), ("box", "seal")),
)  # fmt: skip

GIVING_BACK = OrderOfWork(
    "giving the supply back",
    (
        Step("count", "Count tools and parts", if_not="the cover goes over a tool or a part"),
        Step("guards", "Put covers, guards and stops back", (do.RefitCover(),)),
        Step("clear", "See that everybody is clear, and tell them"),
        Step("control", "See that the control is off"),
        Step("lock", "Take off your own lock and tag"),
        Step("switch-on", "Switch the main switch on", (do.RestoreSupply(),)),
    ),
    free=(("clear", "control"),),
)  # fmt: skip

PROVING = OrderOfWork(
    "proving",
    (
        Step("guards", "Put covers, guards and stops back", (do.RefitCover(),)),
        Step("clear", "Clear the floor and agree on a stop signal"),
        Step("switch-on", "Take off your own lock and switch on", (do.RestoreSupply(),)),
        Step("release", "Try release and closing with an empty hook",
             (do.Energise("hoist"), do.DeEnergise())),
        Step("run", "Run up and down empty, with emergency stop", (do.TestRun(),),
             if_not="a load hangs on a brake that was not tried empty"),
        Step("hold", "Lift the ordered load a hand’s breadth, and watch it hold",
             (do.TestHold(),)),
        Step("lower", "Lower and stop with the load, and measure how far it goes"),
    ),
    free=(("guards", "clear"),),
)  # fmt: skip

LOAD_TEST = OrderOfWork(
    "load test",
    (
        Step("bar", "Bar off the floor, and agree on the signals"),
        Step("hook-on", "Hook on the load that the order names"),
        Step("lift", "Lift it a hand’s breadth, and stop"),
        Step("watch", "Watch it for the time that the order asks for"),
        Step("lower", "Lower it a little and stop, and measure how far it goes"),
        Step("land", "Land it, and take it off"),
        Step("record", "Write down load, times and distances"),
    ),
)

WILL_NOT_RELEASE = OrderOfWork(
    "a load that cannot be landed",
    (
        Step("let-go", "Let go of the button at once", (do.LandLoad(),),
             if_not="the motor goes on pulling against a closed brake"),
        Step("send-away", "Send everybody away from load, rope and drum",
             (do.KeepClear(bar_area=False, call=False),)),
        Step("bar", "Bar off the area", (do.KeepClear(call=False),)),
        Step("lock", "Switch the main switch off, and hang your own lock and tag on it",
             (do.Isolate(try_start=False, wait=False),),
             if_not="somebody else presses “down” once more"),
        Step("call", "Call the person responsible", (do.KeepClear(),)),
        Step("hand-over", "Hand over, and say what you saw and heard"),
    ),
    free=(("bar", "lock", "call"),),
)  # fmt: skip
