"""What a person finds where nothing could be done: a code to its sentence."""

from collections.abc import Mapping

from .by_fact import Words
from .setting import NOT_SET

REFUSED: Mapping[str, Words] = {
    **NOT_SET,
    # making safe
    "load.already-down": "The load is down already; the rope hangs slack.",
    "load.hoist-locked-off": "The hoist will not move: the main switch is locked off.",
    "area.already-clear": "Nobody is near: the area has been cleared already.",
    "brake.already-cold": "It is as cold as the room.",
    "brake.still-heated": "The coil is energised: it will not cool.",
    "look.load-hangs": "A load hangs on a brake that does not release: do not run it just to look.",
    "supply.already-locked": "Your lock is on the main switch already.",
    "supply.already-on": "The supply is on already.",
    "supply.test-supply-on": "Your test supply is still on the coil: take it off first.",
    "second-feed.already-locked": "The second feed is off and locked already.",
    "box.already-open": "The terminal box is open already.",
    "box.already-closed": "The terminal box has its cover on already.",
    # opening and closing
    "cover.already-off": "The cover is off already.",
    "cover.already-on": "The cover is on already.",
    "ring.none": "There is no ring on the shaft.",
    "ring.behind-cover": "You cannot reach the ring: the cover is on.",
    "ring.already-on": "The ring is in its groove already.",
    "ring.groove-behind-cover": "You cannot reach the groove: the cover is on.",
    "ring.fan-off": "Without the fan the ring has nothing to hold.",
    "fan.none": "There is no fan on the shaft.",
    "fan.behind-cover": "You cannot reach the fan: the cover is on.",
    "fan.kept-by-ring": "The fan will not come off: its ring is still in the groove.",
    "fan.already-on": "The fan is on already.",
    "fan.shaft-behind-cover": "The cover is on: the fan cannot go onto the shaft.",
    "seal.in-the-way": "You cannot get at the seal band: the {part} is in the way.",
    "seal.none": "No seal band is fitted.",
    "seal.already-on": "A seal band is on already.",
    "seal.seat-in-the-way": "The seal band cannot be seated: the {part} is in the way.",
    "seal.body-off": "The magnet body is off: the band has only one groove to sit in.",
    "seal.no-old-band": "There is no old seal band: it was missing. Take a new one.",
    "brake.already-dry": "It is dry.",
    "dry.in-the-way": "The warm air does not get in: the {part} is in the way.",
    "dust.behind-seal": "The seal band is on: you cannot get at the dust.",
    "dust.in-the-way": "You cannot get at the dust: the {part} is in the way.",
    # looking
    "look.in-the-way": "You cannot see it: the {part} is in the way.",
    "look.locked-off": "The hoist will not run: the main switch is locked off.",
    "look.in-pieces": "The brake is in pieces: there is nothing to run.",
    # measuring
    "gap.in-the-way": "The leaf does not reach the gap: the {part} is in the way.",
    "gap.body-off": "The magnet body is off: there is no gap to gauge.",
    "leaves.twice": "Each leaf is in the set only once: choose different leaves.",
    "leaves.too-many": "More than three leaves together act as a spring: choose fewer.",
    "leaves.none-such": "There is no such leaf in the set.",
    "disc.in-the-way": "The jaws do not reach the disc: the {part} is in the way.",
    "disc.none": "There is no disc on the hub.",
    "terminals.box-shut": "The terminals are in a box of their own, and its cover is on.",
    "release.body-not-locked": "Tighten the retaining screws first: the body would shift.",
    "release.coil-on": "The coil is energised already. Take the voltage off first.",
    "release.not-isolated": (
        "The coil is still connected to its own supply: isolate before you feed it."
    ),
    "release.lever-drawn": "The hand release holds the plate back: there is nothing to pull in.",
    # writing down
    "notes.bracket-upside-down": (
        "The stack that will not enter must be thicker than the one that goes."
    ),
    "notes.no-such-stack": (
        "That cannot have been felt: the three thickest leaves of the set make {most_mm:.2f} mm."
    ),
    "notes.full": "The notes sheet is full.",
    "notes.no-such-line": "There is no line {line} on that sheet.",
    "notes.already-struck": "That line is struck through already.",
    # locks, hollow screws, lever
    "screws.in-the-way": "You cannot get a key on the screws: the {part} is in the way.",
    "screws.body-off": "The magnet body lies on the bench: its screws hold nothing.",
    "lock.is-out": "Retaining screw {screw} is out.",
    "lock.already-slack": "Retaining screw {screw} is slack already.",
    "lock.stretches": (
        "Retaining screw {screw} starts to stretch before {torque_nm:g} N·m: "
        "you stop and back it off. Look up the torque for this size."
    ),
    "lock.solid": (
        "Retaining screw {screw} goes solid before it reaches its torque: the body sits on the "
        "plate and there is no gap. Set it wider first."
    ),
    "lock.already-out": "Retaining screw {screw} is out already.",
    "lock.still-tight": "Retaining screw {screw} is tight: slacken it first.",
    "lock.body-off": "The magnet body is off: there is nothing to screw down.",
    "lock.already-started": "Retaining screw {screw} is in its thread already.",
    "hollow-screw.clamped": "Hollow screw {screw} does not turn: its retaining screw clamps it.",
    "hollow-screw.home": (
        "Hollow screw {screw} is home: its collar sits on the magnet body. It will not "
        "go further in."
    ),
    "lock.thread-torn": (
        "Retaining screw {screw} turns on and on and gets no tighter: its thread is torn."
    ),
    "hollow-screw.end-of-thread": "Hollow screw {screw} would come out of its thread: you stop.",
    "hollow-screw.solid": "Hollow screw {screw} goes solid: the body sits on the plate. You stop.",
    "lever.on-the-bench": "The hand release lies on the bench.",
    "lever.nothing-to-lift": "The magnet body is off: the lever has nothing to lift.",
    "lever.not-on": "The hand release is not on the brake.",
    "lever.nuts-in-the-way": "You cannot get at the nuts of the lever: the {part} is in the way.",
    "lever.already-off": "The hand release is off already.",
    "lever.already-on": "The hand release is on already.",
    "lever.bolts-in-the-way": "You cannot get at the lever’s bolts: the {part} is in the way.",
    "lever.body-off": "The magnet body is off: the lever has nothing to stand on.",
    "lever.in-the-way": "The lever cannot be put on: the {part} is in the way.",
    # taking apart and putting together
    "leads.already-off": "The leads are off already.",
    "leads.body-off": "The magnet body is off: its leads do not reach.",
    "leads.torn": "A lead is torn from its terminal: that cannot be repaired at the bench.",
    "body.already-held": "The sling has the weight already.",
    "body.sling-in-the-way": "You cannot get a sling round the body: the {part} is in the way.",
    "body.already-off": "The magnet body is off already.",
    "body.tied-by-seal": "The seal band still ties the body to the motor end.",
    "body.held-by-screws": "It is still held by its retaining screws.",
    "body.hooked-by-lever": "The hand release still hooks it to the motor end.",
    "body.already-on": "The magnet body is on already.",
    "body.no-disc": "The hub is bare: without the disc there is nothing to press on.",
    "disc.behind-body": "The disc will not come off: the magnet body is in front of it.",
    "disc.before-body": "The disc goes on before the magnet body.",
    "disc.already-on": "There is a disc on the hub already.",
    "disc.of-another-size": "A disc of {size} will not go on this spline.",
    "wear-plate.none-of-this-size": "This size has no wear plate.",
    "wear-plate.behind-disc": "You cannot reach the wear plate: the disc is in front of it.",
    "wear-plate.none": "No wear plate is fitted.",
    "wear-plate.before-disc": "The wear plate goes on before the disc.",
    "wear-plate.already-on": "The wear plate is on already.",
    "spline.behind-disc": "The disc covers the spline.",
    "spline.already-clean": "The spline is clean already.",
    # proving
    "coil.supply-off": "Nothing happens: the supply is locked off.",
    "coil.already-on": "The coil is energised already.",
    "coil.not-connected": "Nothing happens: the coil is not connected.",
    "coil.already-off": "The coil is off already.",
    "coil.fed-from-elsewhere": (
        "You switch off, but the hum goes on. Something else is feeding this coil."
    ),
    "shaft.behind-cover": "You cannot get a hand on the shaft: the cover is on.",
    "test-hold.one-brake": "This hoist has one brake: there is no other to hold open.",
    "test.supply-off": "The hoist will not move: the supply is locked off.",
    "test.in-pieces": "The brake is in pieces: there is nothing to test.",
    "test.coil-on": "Take the test voltage off the coil first.",
    "test.load-on-hook": "The job’s own load is on the hook. Land it first.",
    # the record
    "record.no-row": "Which row of the limits sheet do you judge by? Choose the size first.",
    "record.no-decision": "The record has no decision yet: what does this brake need?",
    "record.still-locked": "Your lock is still on the switch: the hoist cannot go into service.",
    "record.not-locked": "Out of service means locked and tagged: the switch is on.",
    "record.both-ways": "Either it goes into service, or it waits for its load test: not both.",
    "record.coil-on": "The coil is still on test voltage: take it off first.",
    "job.handed-over": "The job is handed over; the record is signed.",
    "job.notes-only": "The brake is not here: you have a colleague’s notes to work from.",
}
