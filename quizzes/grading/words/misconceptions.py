"""What a good trainer would say to each misunderstanding."""

from collections.abc import Mapping

SAYS: Mapping[str, str] = {
    "one-place-only": (
        "One place tells you the gap at one place. The plate can be tilted: go all the way round."
    ),
    "mean-disc-not-least": (
        "Metal meets metal at the thinnest place, and the mean hides it. Use the least."
    ),
    "wrong-row": (
        "The limits belong to a size. Read the nameplate, put a finger on that row, then compare."
    ),
    "not-measured-again": (
        "Locking takes up the play in the thread and moves what you have set. What counts is "
        "the gap after the last screw is tight."
    ),
    "equal-turns-on-a-tilted-gap": (
        "Equal turns move the whole body and leave it as crooked as it was. Turn most where "
        "it is widest."
    ),
    "gap-judged-without-the-disc": (
        "A perfect gap can sit on a worn-out disc: somebody may have set it last week. "
        "Measure the disc before you touch a screw."
    ),
    "measured-energised": (
        "With the coil on, the plate lies on the magnet. The gap is there only with the coil off."
    ),
    "step-taken-as-exact": (
        "The leaf that went in is the least the gap can be. What lies between it and the next leaf "
        "you do not know: near a limit use finer leaves, or stay on the safe side."
    ),
    "leaf-forced": (
        "A leaf that you force makes its own room. Let it slide in straight and gently: a light "
        "drag is the reading."
    ),
    "measured-through-dust": (
        "The leaf pushes dust ahead of it and stops early: the gap is wider than you read."
    ),
    "dust-blown-out": (
        "You breathe what you blow out of the brake, and so does everybody in the bay. Vacuum "
        "it or wipe it up damp."
    ),
    "good-disc-replaced": (
        "A new disc cures a worn disc and nothing else. First compare its thickness with the "
        "least allowed, then ask what is really wrong."
    ),
    "normal-gap-means-good-brake": (
        "Much of what goes wrong with a brake leaves its gap as it was: springs, oil, spline, "
        "coil. Look and listen first; the gap is one finding among many."
    ),
    "isolation-skipped": (
        "Turning the controller off does not lock the supply off: somebody else can press a button."
    ),
    "load-left-hanging": (
        "This brake is what holds the load. Land it before you open the thing that keeps it up."
    ),
    "not-proved-dead": (
        "A lock says which switch is off, not that this coil is dead. Test the tester, test "
        "both sides, test the tester again; then put your hand in."
    ),
    "readings-made-up": (
        "A number that nobody read is worse than an empty line: the next person builds on it."
        " Leave the line empty, or go back and measure."
    ),
    "parts-in-the-wrong-order": (
        "Each part stands in the way of the next. Lay them out as they came off, hold the weight, "
        "and put them back in the opposite order; the lever’s play comes after the gap."
    ),
    "lock-not-to-torque": (
        "The three screws carry the whole braking torque. Below their torque they shift, and "
        "the gap with them. Tighten all three, in turn, to the torque for this size."
    ),
    "tests-skipped": (
        "Until you have tested it, you can only hope that it holds. Hear it release, feel it free, "
        "and see it hold before you sign."
    ),
    "left-open": (
        "Without seal, fan and cover the dust comes in and the heat stays. The job is done "
        "when no part is left on the bench."
    ),
    "rule-for-the-disc": (
        "A rule reads to half a millimetre, and the whole wear allowed is a millimetre or two. "
        "Use the caliper."
    ),
    "worn-disc-kept": (
        "Adjusting restores the gap, not the lining. A disc that is worn, oily or glazed comes out."
    ),
    "nothing-is-ever-wrong": (
        "The readings in your hand say that it is out of its limits. Believe them: if it is out, "
        "it is not fit."
    ),
    "every-brake-is-adjusted": (
        "Nothing in your readings asks for it. Each adjustment takes time, wears the thread, "
        "and wipes out the evidence of what is really wrong."
    ),
    "solvent-on-the-lining": (
        "Solvent soaks in and carries grease with it. A lining that has soaked it up is spoilt: "
        "vacuum, or a damp cloth on the metal."
    ),
}
