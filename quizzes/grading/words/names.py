"""Names of elements, acts, places and parts, as the sheets show them."""

from collections.abc import Mapping

TITLES: Mapping[str, str] = {
    "S1": "Load landed, hook empty",
    "S2": "Isolated, locked, proved dead",
    "S3": "Springs and weight kept under control",
    "S4": "Dust control",
    "S5": "Friction faces kept clean",
    "K3": "Right row of the limits sheet",
    "M1": "Instruments fit for the job",
    "M2": "Gap measured all round",
    "M3": "Tilt and taper told apart",
    "M4": "Disc measured",
    "M5": "Coil measured",
    "D1": "Decision on own evidence",
    "D2": "Findings",
    "D3": "Lining lasts until the next inspection",
    "A1": "Gap set evenly to the setting",
    "A2": "Retaining screws to torque",
    "A3": "Measured again after locking",
    "R1": "Taken apart in order",
    "R2": "Hub, plate and part checked before fitting",
    "R3": "Right disc, right way round",
    "R4": "Put together and closed up",
    "T1": "Release proved",
    "T2": "Hold proved",
    "W1": "Record",
    "W2": "Next date, or tag",
}
ACTS: Mapping[str, str] = {
    "remove_cover": "Cover taken off",
    "remove_ring": "Ring taken out",
    "remove_fan": "Fan drawn off",
    "remove_seal": "Seal band rolled back",
    "gauge_gap": "Gap gauged",
    "measure_disc": "Disc measured",
    "try_lock": "Retaining screw tried",
    "loosen_lock": "Retaining screw slackened",
    "turn_screw": "Hollow screw turned",
    "change_shim": "Shims changed",
    "loosen_adjusting_ring": "Adjusting ring loosened",
    "turn_adjusting_ring": "Adjusting ring turned",
    "lock_adjusting_ring": "Adjusting ring locked",
    "tighten_lock": "Retaining screw tightened",
    "set_lever": "Hand release set",
    "disconnect_leads": "Leads taken off",
    "draw_lock": "Retaining screw taken out",
    "remove_body": "Magnet body taken off",
    "remove_disc": "Disc taken off",
    "fit_disc": "Disc fitted",
    "fit_body": "Magnet body put on",
    "measure_coil": "Meter connected to the coil",
    "energise": "Test supply clamped to the coil",
    "find_release": "Test supply clamped to the coil",
    "turn_shaft": "Shaft turned by hand",
    "close_box": "Terminal box closed",
    "refit_seal": "Seal band seated",
    "refit_fan": "Fan refitted",
    "refit_cover": "Cover refitted",
    "clean_vacuum": "Cleaned by vacuum",
    "clean_damp_wipe": "Cleaned by damp wipe",
    "clean_air_blast": "Cleaned by air blast",
    "clean_dry_brush": "Cleaned by dry brush",
    "clean_solvent": "Cleaned by solvent",
}
PLACES: Mapping[str, str] = {
    "running": "the hoist running",
    "outside": "the closed brake all round",
    "fan": "fan, key and ring",
    "seal": "the seal band",
    "dust": "the dust",
    "edge": "the edge of disc and lining",
    "screws": "the screws",
    "lever": "the hand release",
    "leads": "leads and terminals",
    "springs": "the springs",
    "faces": "the faces",
    "hub": "hub and spline",
    "wear_plate": "the wear plate",
    "coil": "the coil’s resistance",
    "insulation": "the coil’s insulation",
    "voltage": "the voltage at the coil",
    "new_disc": "the new disc",
}
VALUES: Mapping[str, str] = {
    "coil_ohm": "resistance of the coil",
    "coil_c": "temperature of the coil",
    "insulation_mohm": "insulation of the coil",
    "voltage_v": "voltage at the coil",
    "release_percent": "voltage at which it releases",
    "lever_play_mm": "play of the hand release",
}
PARTS: Mapping[str, str] = {
    "seal-band": "seal band",
    "fan": "fan",
    "cover": "cover",
    "terminal-box": "cover of the terminal box",
}
STANDINGS: Mapping[str, str] = {
    "right": "Right",
    "false alarm": "Safe, but more than it needed",
    "no verdict": "No verdict: fair readings, an unlucky brake",
    "not yet": "Not yet",
}
FAULT_KINDS: Mapping[str, str] = {
    "reading": "An error of reading.",
    "decision": "An error of decision.",
    "procedure": "An error of procedure.",
}


def act_words(act: str) -> str:
    """Return what was done, in words."""
    return ACTS.get(act, act.replace("_", " ").capitalize())
