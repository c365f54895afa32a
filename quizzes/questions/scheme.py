"""What questions are evidence of, and the words of their answers: elements, lessons, outcomes."""

ELEMENTS = {  # parts of the competency, each judged on its own
    "K1": "why loss of power applies the brake",
    "K2": "what wear does to gap, force, torque and release",
    "K3": "the limits of the size in hand",
    "K4": "why the gap is measured with the coil off, and the lining first",
    "K5": "the limits of your own authority",
    "S1": "load landed and slack proved",
    "S2": "isolated, locked, tagged, proved dead",
    "S3": "gravity and spring force under control",
    "S4": "dust",
    "S5": "oil and clean hands",
    "M1": "instruments chosen and checked",
    "M2": "gap round the rim",
    "M3": "readings repeated with the shaft turned",
    "M4": "lining at its thinnest",
    "M5": "coil, insulation and supply",
    "D1": "the right one of four outcomes",
    "D2": "faults that a good gap hides",
    "D3": "lining left until the next inspection",
    "A1": "screws loosened and turned as calculated",
    "A2": "gap set and locked to torque",
    "A3": "measured again after locking",
    "R1": "taken apart in order",
    "R2": "hub, plate and seals checked",
    "R3": "right disc, right way round, dry",
    "R4": "put together and measured again",
    "T1": "release tried, electrically and by hand",
    "T2": "function and load test",
    "W1": "the record",
    "W2": "unsafe hoist tagged and reported",
}
LESSONS = range(1, 13)
CONFIDENCES = {"sure": "sure", "think": "think so", "guess": "guess"}
OUTCOMES = {
    "fit": "Fit for service",
    "adjust": "Adjust",
    "replace": "Replace the disc",
    "refer": "Withdraw and refer",
}
