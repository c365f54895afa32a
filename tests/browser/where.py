"""Where each action of the bench is on the page: names of stages, keys and choices."""

from collections.abc import Mapping
from typing import Any

OUTCOMES = {
    "fit": "Fit for service as it is",
    "adjust": "Adjust the gap",
    "replace": "Replace the friction disc",
    "refer": "Take out of service and refer",
}
METHODS = {
    "vacuum": "Vacuum", "damp_wipe": "Damp cloth", "air_blast": "Air blast",
    "dry_brush": "Dry brush", "solvent": "Solvent",
}  # fmt: skip
LIPS = {False: "push it over the gap", True: "press its lip in all round"}
SETTINGS = {"resistance": "Resistance, Ω", "insulation": "Insulation, MΩ", "voltage": "Voltage, V DC"}  # fmt: skip
# In which tool's own panel an instrument is looked over.
OWN_TOOL = {"leaves": "Leaves", "caliper": "Caliper", "wrench": "Wrench"}
TOOLS = {"caliper": "Caliper, 0.02 mm", "rule": "Steel rule, 0.5 mm"}

ALONE = {"this": "This one alone, the other held open", "other": "The other alone, this one held open"}  # fmt: skip

# Action of the bare hands: stage of the job, name of its key.
KEYS: Mapping[str, Any] = {
    "land_load": ("Make safe", "Load: Land, unhook, prove slack, bar the area"),
    "isolate": ("Make safe|Prove", "Main switch: Switch off, lock, try to start, wait"),
    "keep_clear": ("Make safe", "People and area: Send away, bar, call the person responsible"),
    "let_cool": ("Make safe", "Heat: Let it cool"),
    "isolate_second": ("Make safe", "Second feed of the coil: Find and lock off"),
    "open_box": (
        "Make safe|Prove",
        lambda a: (
            f"Terminal box: {'Take its cover off' if a.by == 'self' else 'Have an electrician open it'}"
        ),
    ),
    "stop_water": ("Look, clean", "Water: Find where it comes in, have it stopped"),
    "dry_out": ("Look, clean", "Water: Dry with warm air"),
    "clean": ("Look, clean", lambda a: f"Dust: {METHODS[a.method]}"),
    "refit_seal": (
        "Open, close",
        lambda a: f"Seal band: {a.band.capitalize()} band: {LIPS[a.seated]}",
    ),
    "close_box": ("Make safe|Prove", "Terminal box: Put its cover on"),
    "prove_dead": ("Make safe|Prove", "Terminals: Proved tester, both sides, proved again"),
    "remove_cover": ("Open, close|Prove", "Cover: Mask, glasses, gloves on; take off"),
    "refit_cover": ("Open, close|Prove", "Cover: Put on"),
    "remove_ring": ("Open, close", "Ring of the fan: Take out"),
    "refit_ring": ("Open, close", "Ring of the fan: Snap in"),
    "remove_fan": ("Open, close", "Fan: Draw off"),
    "refit_fan": (
        "Open, close",
        lambda a: "Fan: Put on its key" if a.on_key else "Fan: Push on without the key",
    ),
    "remove_seal": ("Open, close", "Seal band: Roll back"),
    "read_plate": ("Look, clean", "Nameplate: Read the nameplate"),
    "check_tool": lambda a: {
        "leaves": ("Measure", "Feeler leaves: Wipe, look for kinks"),
        "caliper": ("Measure", "Caliper: Wipe, close, look at its zero"),
        "wrench": ("Adjust", "Torque wrench: Try it on its tester"),
    }[a.tool],
    "change_tool": lambda a: {
        "leaves": ("Measure", "Feeler leaves: Take another set"),
        "caliper": ("Measure", "Caliper: Have another"),
        "wrench": ("Adjust", "Torque wrench: Have another"),
    }[a.tool],
    "work_lever": ("Adjust", "Lever, pulled and let go: Pull, feel, let go"),
    "disconnect_leads": ("Take apart, fit", "Coil’s leads: Mark, take off"),
    "connect_leads": (
        "Take apart, fit",
        lambda a: f"Coil’s leads: To the {a.side.upper()} side",
    ),
    "remove_lever": ("Take apart, fit", "Hand release: Take off"),
    "refit_lever": ("Take apart, fit", "Hand release: Put on"),
    "hold_body": ("Take apart, fit", "Sling: Take the weight"),
    "draw_lock": ("Take apart, fit", lambda a: f"Retaining screw {a.screw}: Take out"),
    "start_lock": (
        "Take apart, fit",
        lambda a: (
            f"Retaining screw {a.screw}: Start "
            + ("by hand" if a.by == "hand" else "with the wrench")
        ),
    ),
    "remove_body": ("Take apart, fit", "Magnet body, springs, plate: Take off as one"),
    "fit_body": ("Take apart, fit", "Magnet body, springs, plate: Put on as one"),
    "remove_disc": ("Take apart, fit", "Disc: Slide off the hub"),
    "remove_wear_plate": ("Take apart, fit", "Wear plate: Take off"),
    "fit_wear_plate": (
        "Take apart, fit",
        lambda a: f"Wear plate: Fit, smooth side to the {'disc' if a.smooth_to_disc else 'motor'}",
    ),
    "clean_spline": ("Take apart, fit", "Spline of the hub: Clean, try the slide"),
    "turn_shaft": ("Prove", lambda a: f"Shaft: Turn {a.turn_deg:.0f}°"),
    "restore_supply": ("Prove|Hand over", "Supply: Take locks off, switch on"),
    "energise": (
        "Prove",
        lambda a: "Coil: " + ("Energise" if a.supply == "hoist" else "Feed from the test supply"),
    ),
    "de_energise": ("Prove", "Coil: De-energise"),
    "bed_in": ("Prove", "New lining: Bed in, light stops"),
    "test_run": ("Prove", "Without load: Up, down, emergency stop"),
    "test_hold": (
        "Prove",
        lambda a: (
            f"Test load on one of two brakes: {ALONE[a.on]}: lift, stop, watch"
            if a.on in ALONE
            else "Test load: Weighed, floor cleared: lift, "
            + ("watch, lower, stop" if a.dynamic else "stop, watch")
        ),
    ),
}
