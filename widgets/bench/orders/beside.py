"""Two brakes on one hoist, and a brake that has got wet: the orders of what lies beside the brake.

Source: common practice, no source; insulation measured dry and with its leads off: IEC 60204-1
clause 18.3 and IEEE 43, from memory.
"""

from widgets.bench import actions as do

from .order_of_work import OrderOfWork
from .order_of_work import WorkStep as Step

EACH_BRAKE = OrderOfWork(
    "each of two brakes",
    (
        Step("bar", "Bar off the floor, and agree on the signals"),
        Step("hook-on", "Hook on the weighed test load"),
        Step("open-other", "Hold the other brake open as its maker describes",
             if_not="a good brake holds the load, and a bad one next to it goes unnoticed"),
        Step("lift", "Lift the load a hand’s breadth on this brake alone, and watch it",
             (do.TestHold(on="this"),)),
        Step("close-other", "Let the other brake close, and land the load",
             if_not="the second test begins with nothing to catch the load"),
        Step("other", "Do the same on the other brake, this one held open",
             (do.TestHold(on="other"),),
             if_not="the other brake is taken to be as good as this one"),
        Step("record", "Write down load and time for each brake"),
    ),
)  # fmt: skip

WET_BRAKE = OrderOfWork(
    "a wet brake",
    (
        Step("trace", "Look for where the water comes in", (do.Look("outside"),),
             if_not="it is dried, and wet again tomorrow"),
        Step("stop", "Have the water stopped there", (do.StopWater(),)),
        Step("dry", "Dry the open brake with warm air, as its sheet allows", (do.DryOut(),),
             if_not="a wet coil has no insulation to speak of, and a wet lining little grip"),
        Step("leads", "Mark and disconnect the leads of the coil", (do.DisconnectLeads(),),
             if_not="500 V goes through the rectifier"),
        Step("insulation", "Measure the insulation of the coil", (do.MeasureCoil("insulation"),)),
        Step("rust", "Look at disc and hub for rust", (do.Look("edge"), do.Look("hub"))),
        Step("decide", "Decide by what dry parts have shown"),
    ),
    free=(("insulation", "rust"),),
)  # fmt: skip
