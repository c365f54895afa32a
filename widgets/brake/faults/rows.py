"""The thirty rows of the fault catalogue, as data. Source: common practice, no source."""

from widgets.brake.judgement.rules import Outcome

from . import changes as change
from .kind import AS_IT_IS, Amount, Fault

FIT, ADJUST, REPLACE, REFER = Outcome.FIT, Outcome.ADJUST, Outcome.REPLACE, Outcome.REFER
NO_FIT = frozenset({FIT})

# One row a paragraph: title, what is seen, what shows at once, what is right, what goes wrong.
# fmt: off
_GAP_FAULTS = (
    Fault(
        1, "gap-too-large", "Even gap, too large",
        "The gap is beyond its largest all round, evenly. The clack is louder, release is slower; "
        "the lining has plenty left.",
        ("loud-clack",),
        (ADJUST,), "Set the gap, lock, measure again.",
        (FIT,), "Hot, or at low voltage, the plate is not pulled in: the disc drags and burns.",
        change.wear_to_share_of_max, Amount(1.05, 1.1875, 1.35, "of the largest gap"),
    ),
    Fault(
        2, "gap-at-limit", "Even gap, at the limit",
        "Readings lie at the largest gap, within their own uncertainty.",
        (),
        (ADJUST,), "Take the limit on the safe side and set the gap.",
        (FIT,), "A single reading passes a brake that is as likely to be beyond the limit as not.",
        change.wear_to_share_of_max, Amount(0.985, 0.99375, 1.0, "of the largest gap"),
    ),
    Fault(
        3, "gap-too-small", "Gap too small",
        "The gap is less than its smallest. The released disc drags, the cover is warm and there "
        "is a smell after a run without load.",
        ("warm-cover", "smell-of-lining"),
        (ADJUST,), "Open the gap to its setting, lock, measure again.",
        (FIT,), "A tight brake is not a safe one: it drags, glazes and overheats.",
        change.set_tight, Amount(0.5, 0.6, 0.75, "of the smallest gap"),
    ),
    Fault(
        4, "gap-tilted", "Tilted gap",
        "Wide on one side, narrow on the other; with the tilt taken out nothing is left.",
        ("polished-on-one-side",),
        (ADJUST,), "Turn the three screws by unequal amounts.",
        (ADJUST, FIT), "Equal turns leave the spread as it was, and a mean alone hides it: the "
        "narrow side drags and the disc wears to a wedge.",
        change.tilt, Amount(1.0, 1.875, 2.2, "of the evenness limit"),
    ),
    Fault(
        5, "screw-not-locked", "One screw not locked",
        "One sector is wide. Its screw turns by hand and its seat is bright with fretting.",
        ("screw-turns-by-hand", "fretting-at-a-screw"),
        (ADJUST, REFER), "Set the gap and tighten all three; refer if a thread is damaged.",
        (ADJUST,), "Matching the other two to the loose one lasts until it moves again.",
        change.unlock_one_screw, Amount(0.15, 0.25, 0.35, "of the largest gap"),
    ),
    Fault(
        6, "not-remeasured", "Set, but not measured after locking",
        "The gap is smaller than the setting noted, often uneven: locking took up thread play.",
        (),
        (ADJUST,), "Set again, and read after locking.",
        (FIT,), "The reading before locking is passed on as the gap.",
        change.locked_unmeasured, Amount(0.02, 0.06, 0.2, "mm"),
    ),
    Fault(
        7, "warped", "Warped pressure plate or magnet body",
        "Two high and two low sectors; no plane fits them.",
        (),
        (REFER,), "An authorised person changes the part.",
        (ADJUST,), "Adjusted again and again, and at last over-tightened.",
        change.warp, Amount(0.7, 0.75, 1.2, "of the evenness limit"),
    ),
    Fault(
        8, "clamp-distortion", "Body pulled out of shape by its screws",
        "Three high and three low places, the extremes at the screws.",
        (),
        (ADJUST,), "Slacken, and tighten again in stages.",
        (REFER, FIT), "A good part is sent away, or an uneven brake is passed.",
        change.clamp_wave, Amount(0.3, 0.375, 0.8, "of the evenness limit"),
    ),
)

_DISC_FAULTS = (
    Fault(
        9, "disc-spent-gap-set", "Lining at its limit, gap just set",
        "The gap is perfect and even; the disc is at its least thickness.",
        ("fresh-paint",),
        (REPLACE,), "Fit a new disc.",
        (FIT, ADJUST), "Metal runs on metal within weeks.",
        change.spent_disc_gap_set, Amount(-0.05, 0.0, 0.05, "of the wear allowed"),
        frozenset({FIT, ADJUST}), gap_looks_normal=True,
    ),
    Fault(
        10, "taper", "Disc worn to a wedge",
        "The disc differs side to side, and the tilt of the gap moves with the shaft.",
        (),
        (REPLACE, REFER), "New disc, and find the cause; refer if hub or shaft is at fault.",
        (ADJUST,), "The body is tilted to suit the disc, and both are wrong half a turn later.",
        change.taper, Amount(0.08, 0.175, 0.2, "of the wear allowed"),
        frozenset({FIT, ADJUST}),
    ),
    Fault(
        11, "oiled", "Oil on the lining",
        "Faces dark and shiny, a wet trace below the shaft. The gap is normal.",
        ("wet-trace", "dark-shiny-edge"),
        (REPLACE, REFER), "Stop the leak first, then fit a new disc.",
        (FIT,), "Wiped with solvent and passed: the load runs away.",
        change.oil, AS_IT_IS, NO_FIT, gap_looks_normal=True,
    ),
    Fault(
        12, "glazed", "Glazed lining",
        "Faces glassy and brown; it slips in a stop. The gap is normal.",
        ("glassy-brown-edge",),
        (REPLACE,), "New disc; dress the old one only where the data allow it.",
        (FIT,), "Sanded and passed: stops grow longer until the brake stops nothing.",
        change.glaze, AS_IT_IS, NO_FIT, gap_looks_normal=True,
    ),
    Fault(
        13, "heat-cracks", "Heat cracks in the counter-face",
        "Radial cracks and heat colours on the face the lining runs on.",
        ("blue-patches", "radial-cracks"),
        (REFER,), "An authorised person changes the counter-face.",
        (REPLACE,), "A new disc alone fades on the same face, and the plate may warp or burst.",
        change.heat_cracks, Amount(0.1, 0.2, 0.4, "of the evenness limit"), NO_FIT,
        gap_looks_normal=True,
    ),
)

_FORCE_FAULTS = (
    Fault(
        14, "spring-broken", "A spring broken",
        "An uneven clack, a fragment below, release voltage a little low. The gap is normal.",
        ("spring-splinter", "uneven-clack"),
        (REFER,), "An authorised person changes the springs, as a set.",
        (FIT,), "The gap is good and the torque is short.",
        change.break_springs, Amount(1.0, 1.0, 2.0, "springs"), NO_FIT, gap_looks_normal=True,
    ),
    Fault(
        15, "springs-weak", "Weak or wrong springs",
        "Springs short of their length; the torque test falls short. The gap is normal.",
        ("springs-of-two-colours",),
        (REFER,), "An authorised person changes the springs, as a set.",
        (ADJUST,), "A smaller gap is set to gain torque, and the disc drags.",
        change.weaken_springs, Amount(0.7, 0.85, 0.9, "of their force"), NO_FIT,
        gap_looks_normal=True,
    ),
    Fault(
        16, "spline-worn", "Worn spline",
        "The disc rocks on its hub by a degree or two; rust-red dust, clatter at start and stop.",
        ("rust-red-dust", "clatters"),
        (REFER, REPLACE), "Refer the hub; the disc goes with it.",
        (FIT,), "Passed or greased, the teeth hammer and strip, and the load falls.",
        change.wear_spline, Amount(1.0, 1.5, 3.0, "degrees"), NO_FIT, gap_looks_normal=True,
    ),
    Fault(
        17, "disc-swollen", "Rusted, swollen, sticking disc",
        "Hard to break away after standing, then it slips; the gap is low and the disc drags.",
        ("rust-on-the-rim", "first-start-jerks"),
        (REPLACE, REFER), "New disc, or clean where the data allow; refer deep rust.",
        (FIT,), "Forced free with the lever and passed.",
        change.swell, Amount(0.33, 0.5, 0.67, "of the gap to be set"),
    ),
    Fault(
        18, "hub-reversed", "Hub or disc the wrong way round",
        "The disc is not fully on the spline; the gap reads normal and there is next to no torque.",
        ("hub-stands-out",),
        (REFER,), "An authorised person assembles it again and proves it.",
        (ADJUST,), "The springs press on the hub, and no screw can change that.",
        change.reverse_hub, Amount(0.9, 1.0, 1.0, "of the spring force"), NO_FIT,
        gap_looks_normal=True,
    ),
    Fault(
        19, "wear-plate-missing", "Wear plate missing",
        "The gap is too wide by the plate; the motor hums and the brake will not release.",
        ("bright-rings",),
        (REFER,), "The plate is fitted, then everything is measured again.",
        (ADJUST,), "Adjusted to make up for it, the disc runs on the bare end of the motor.",
        change.leave_out_wear_plate, AS_IT_IS, NO_FIT,
    ),
    Fault(
        20, "wrong-disc", "Wrong disc",
        "The disc is thinner than a new one of this size, or of another diameter, and the record "
        "of gaps does not add up.",
        ("narrow-ring",),
        (REPLACE,), "The right part.",
        (ADJUST,), "Adjusted to suit, with less torque and its wear already spent.",
        change.fit_wrong_disc, Amount(0.93, 0.945, 0.97, "of the proper disc"),
        gap_looks_normal=True,
    ),
)

_ELECTRIC_FAULTS = (
    Fault(
        21, "coil-high-or-open", "Coil resistance high, or open",
        "Over a tenth too high for its temperature, or over the scale; weak release.",
        ("discoloured-terminal",),
        (REFER,), "An authorised person repairs the coil or lead.",
        (ADJUST,), "A smaller gap hides it until the coil gets hot.",
        change.raise_resistance, Amount(1.1, 1.15, 1.6, "of the resistance"), NO_FIT,
        gap_looks_normal=True,
    ),
    Fault(
        22, "coil-shorted-turns", "Shorted turns",
        "A fifth of the resistance is gone, the coil is hot, and it still releases.",
        ("smells-of-varnish",),
        (REFER,), "An authorised person changes the coil.",
        (FIT,), "It releases today and burns out.",
        change.short_turns, Amount(0.7, 0.8, 0.88, "of the turns"), gap_looks_normal=True,
    ),
    Fault(
        23, "rectifier-half", "One diode of the rectifier open",
        "Half the direct voltage; it releases cold and with a small gap only.",
        ("hums-loudly",),
        (REFER,), "An authorised person changes the rectifier.",
        (ADJUST,), "The gap is blamed, and set smaller and smaller.",
        change.open_a_diode, AS_IT_IS, gap_looks_normal=True,
    ),
    Fault(
        24, "switched-on-ac-side", "Switched on the AC side",
        "A long stop: the hook sags before the brake bites.",
        ("hook-sags",),
        (REFER,), "An authorised person wires it to the DC side.",
        (ADJUST, REPLACE), "The brake is called weak and gets a new disc; the sag stays.",
        change.switch_on_the_ac_side, AS_IT_IS, NO_FIT, gap_looks_normal=True,
    ),
    Fault(
        25, "seal-missing", "Seal missing, packed with dust",
        "A cake of dust; the leaf reads low, and more after cleaning. It holds sluggishly.",
        ("seal-missing", "dust-caked"),
        (ADJUST, FIT), "Clean, measure again, decide. A new seal goes on last: no leaf passes it.",
        (FIT,), "Measured through the dust, and passed.",
        change.lose_the_seal, Amount(0.1, 0.15, 0.2, "mm"),
    ),
    Fault(
        26, "lever-tight", "Hand release set tight",
        "The lever has no play; the gap is what its wear makes it, and the brake slips.",
        ("lever-without-play",),
        (ADJUST, REFER), "Reset the play; refer a bent lever.",
        (ADJUST,), "The gap is adjusted and the lever is not: it takes the force again with wear.",
        change.set_lever_tight, Amount(0.05, 0.1, 0.2, "mm"), NO_FIT, gap_looks_normal=True,
    ),
    Fault(
        27, "lever-stays", "Hand release does not return",
        "The lever stays where it was put; a leaf is loose, then finds no gap at all.",
        ("lever-drawn",),
        (REFER,), "An authorised person repairs it.",
        (FIT,), "Nothing presses the disc.",
        change.jam_lever, AS_IT_IS, NO_FIT, gap_looks_normal=True,
    ),
    Fault(
        28, "fan-missing", "Fan loose or missing",
        "A rattle and a hot coil; it fails to release after an hour’s work.",
        ("fan-rattles",),
        (FIT,), "Refit it and prove the brake with a warm coil; then it is fit.",
        (ADJUST,), "A smaller gap hides an overheated coil.",
        change.lose_the_fan, gap_looks_normal=True,
    ),
    Fault(
        29, "sticks", "Anti-stick layer worn away",
        "It applies late or not at all: the plate clings to the poles.",
        ("late-dull-tap",),
        (REFER,), "An authorised person changes the plate or body.",
        (ADJUST,), "A larger gap or weaker springs make it worse.",
        change.wear_anti_stick, Amount(0.1, 2 / 13, 0.25, "of the layer"), NO_FIT,
        gap_looks_normal=True,
    ),
    Fault(
        30, "measured-live", "Measured with the coil on",
        "No gap at the magnet, or the running clearance instead.",
        ("hums-at-rest",),
        (), "Switch off, lock, prove dead, and measure again.",
        (ADJUST,), "The gap is set too large by the whole gap.",
        change.leave_coil_live,
    ),
)
# fmt: on

FAULTS: tuple[Fault, ...] = (*_GAP_FAULTS, *_DISC_FAULTS, *_FORCE_FAULTS, *_ELECTRIC_FAULTS)
