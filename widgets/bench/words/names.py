"""Names of places, decisions, symptoms and feels, as the page and the sheets show them."""

from collections.abc import Mapping

LOOKS: Mapping[str, str] = {
    "running": "Have it run without load, watch and listen",
    "outside": "All round the closed brake",
    "fan": "Fan, key and ring",
    "seal": "Seal band and its seat",
    "dust": "Dust in and round the gap",
    "edge": "Edge of disc and lining",
    "screws": "Hollow and retaining screws",
    "lever": "Hand release",
    "leads": "Leads, terminals, rectifier",
    "springs": "Springs and their ends",
    "faces": "Faces of lining, plate and motor end",
    "hub": "Hub, key and spline",
    "wear_plate": "Wear plate",
    "new_disc": "The new disc: number, ring, spline, marks",
}
DECISION_WORDS: Mapping[str, str] = {
    "fit": "fit for service as it is",
    "adjust": "adjust the gap",
    "replace": "replace the friction disc",
    "refer": "take out of service and refer",
}
FEEL_WORDS: Mapping[str, str] = {
    "slides": "slides in freely.",
    "drags": "goes in and drags.",
    "will-not-enter": "will not enter.",
}
SYMPTOM_WORDS: Mapping[str, str] = {
    "loud-clack": "It clacks louder than its neighbours.",
    "uneven-clack": "The clack sounds uneven.",
    "warm-cover": "The cover is warm after a run without load.",
    "smell-of-lining": "It smells of hot lining.",
    "hook-sags": "The hook sags at every stop.",
    "late-dull-tap": "It applies late, with a dull tap.",
    "hums-loudly": "It hums more than its neighbours.",
    "will-not-lift": "It does not lift: the motor stalls against its own brake.",
    "first-start-jerks": "The first start of the day jerks.",
    "clatters": "It clatters at start and stop.",
    "fan-rattles": "The fan rattles on its shaft.",
    "hums-at-rest": "The magnet hums although nobody presses a button.",
    "smells-of-varnish": "The magnet body smells of varnish.",
    "wet-trace": "A wet trace runs down below the shaft.",
    "lever-drawn": "The hand release stays drawn.",
    "lever-without-play": "The hand release has no play.",
    "seal-missing": "The dust seal is missing.",
    "dust-caked": "Dust is caked round the gap.",
    "dust": "Grey dust sits on the edge and in the gap.",
    "fresh-paint": "Fresh paint on the adjusting screws.",
    "fretting-at-a-screw": "Bright fretting round one screw.",
    "screw-turns-by-hand": "One retaining screw turns by hand.",
    "polished-on-one-side": "One side of the disc edge is polished.",
    "dark-shiny-edge": "The edge of the disc is dark and shiny.",
    "glassy-brown-edge": "The edge of the lining is glassy and brown.",
    "blue-patches": "Blue patches on the counter-face.",
    "radial-cracks": "Fine radial cracks on the counter-face.",
    "spring-splinter": "A splinter of spring wire lies in the housing.",
    "springs-of-two-colours": "The spring ends are not all of one colour.",
    "rust-red-dust": "Rust-red dust at the hub.",
    "disc-rocks": "The disc rocks on its hub by a degree or more.",
    "rust-on-the-rim": "Rust on the rim of the disc.",
    "hub-stands-out": "The hub stands out on one side of the disc.",
    "bright-rings": "Bright rings on the bare end of the motor.",
    "narrow-ring": "The lining ring looks narrow for its plate.",
    "discoloured-terminal": "A terminal screw is discoloured.",
    "contact-on-the-ac-side": (
        "The contact for the brake sits before the rectifier; the direct side has none."
    ),
    "lead-torn": "A lead hangs torn from its terminal.",
}
