"""Words of the lines of an element of safety, measuring and deciding."""

from collections.abc import Mapping

from widgets.bench.words import DECISION_WORDS
from widgets.brake.judgement.words import FINDINGS

from .names import PLACES, VALUES
from .phrasing import Facts, Words, done, kept, listed, number_of

_NOTHING = "nothing"
_TOOLS = {"leaves": "leaves checked", "caliper": "zero of the caliper checked"}


def _written(what: str) -> Words:
    def words(facts: Facts) -> str:
        at = ""
        if "from_step" in facts:
            first, last = facts["from_step"], facts["to_step"]
            at = f", step {first}" if first == last else f", steps {first} to {last}"
        return f"{what} written down at {_places(facts)} before deciding{at}."

    return words


def _places(facts: Facts) -> str:
    return number_of(facts["places"], "place", "places")


def _off(facts: Facts) -> str:
    way = "high" if facts["high"] else "low"
    return (
        f"The {facts['what']} reading at {facts['angle_deg']:.0f}° is too {way} "
        "by more than its uncertainty allows."
    )


def _rather_off(facts: Facts) -> str:
    way = "high" if facts["high"] else "low"
    return (
        f"The {facts['what']} reading at {facts['angle_deg']:.0f}° is a little too {way}: "
        "more than its uncertainty makes likely. It counts half."
    )


def _leaf_step(facts: Facts) -> str:
    words = f"Widest step from leaf to leaf {facts['widest_mm']:.2f} mm"
    finer = ": a thick leaf and a thin one together make finer steps" if facts.get("coarse") else ""
    return f"{words}{finer}."


def _row_wrong(facts: Facts) -> str:
    by = f"the row {facts['row']}" if facts["row"] else "no row of the sheet"
    return f"Decided by {by}; the nameplate says {facts['size']}."


def _taken(facts: Facts) -> str:
    return f"Decided at step {facts['step']}: {DECISION_WORDS[facts['taken']]}."


def _supported(facts: Facts) -> str:
    return f"Own readings and findings support: {DECISION_WORDS[facts['outcome']]}."


def _named(facts: Facts) -> str:
    return f"Named: {listed(facts['named'], FINDINGS) or _NOTHING}."


def _not_named(facts: Facts) -> str:
    return f"Found and not named: {listed(facts['any_of'], FINDINGS, ' or ')}."


def _looked_at(facts: Facts) -> str:
    return f"Looked at: {listed(facts['places'], PLACES) or _NOTHING}."


LINES: Mapping[str, Words] = {
    # safety
    "load.still-hanging": done("with the load still hanging."),
    "load.never-landed": "The load was never landed.",
    "load.landed": "Load down at step {step}, before opening.",
    "load.was-down": "The load was down.",
    "clear.sent-away": kept("everybody sent away from load, rope and drum"),
    "clear.barred": kept("area barred"),
    "clear.called": kept("the person responsible called"),
    "clear.pressed-again": (
        "“Down” pressed again at step {step}: the motor pulls against a closed brake, and if it "
        "gives way the load runs."
    ),
    "supply.locked-out": kept("main switch off and locked, so that nobody presses again"),
    "area.not-barred": done("with the area neither cleared nor barred."),
    "supply.no-lock": "Switched off, but no lock on the switch.",
    "supply.start-not-tried": (
        "Locked off, but nobody tried to start: it may have been the wrong switch."
    ),
    "cover.unprotected": done("without mask, eye protection and gloves."),
    "supply.not-locked": done("without the supply locked off."),
    "supply.not-proved": done("before proving dead."),
    "supply.on-while-closing": done("with the supply on: the fan may start."),
    "supply.proved": "Locked off and proved dead at step {step}, for all work inside.",
    "supply.was-proved": "Locked off and proved dead, for all work inside.",
    "brake.never-opened": "The brake was never opened.",
    "body.not-held": (
        "Last retaining screw taken out at step {step} with nothing holding the magnet body."
    ),
    "body.jammed": "A screw was taken out at step {step} while others were tight: the body jammed.",
    "body.held-and-even": "Body in a sling, screws slackened evenly.",
    "dust.in-the-air": lambda facts: (
        done("")(facts).rstrip() + ": brake dust in the air that people breathe."
    ),
    "dust.left-in": "The dust was left in the gap: leaves read low through it.",
    "dust.bound": lambda facts: done("")(facts).rstrip() + ": dust bound before measuring.",
    "faces.solvent": "Solvent used at step {step}: it runs onto the lining and spoils it.",
    "faces.oil-not-wiped": "Disc fitted at step {step} against faces still wet with oil.",
    "faces.clean": "Disc fitted at step {step}, dry and clean.",
    # measuring
    "tool.looked-over": lambda facts: kept(f"{_TOOLS[facts['tool']]} before the first reading")(
        facts
    ),
    "leaves.step": _leaf_step,
    "disc.by-rule": "Disc measured with the rule: half a millimetre either way.",
    "disc.by-caliper": "Disc measured with the caliper.",
    "gap.written": _written("Gap"),
    "gap.one-side-left-out": "One side of the rim was left out: that is not all round.",
    "gap.second-position": "Gauged again after turning the shaft at step {step}.",
    "gap.shaft-not-turned": lambda facts: (
        f"Gap uneven; shaft not turned, disc measured at {_places(facts)}."
    ),
    "disc.one-side-left-out": "One side of the disc was left out: that is not all round.",
    "disc.of-several": (
        "Where the disc was read more than once, the thickest reading was written at {thickest} "
        "places and the thinnest at {thinnest}."
    ),
    "disc.written": _written("Disc"),
    "disc.least": "Least {value_mm:.2f} mm, at {angle_deg:.0f}°.",
    "coil.resistance": kept("resistance of the coil measured"),
    "coil.temperature": kept("temperature of the coil measured"),
    "coil.insulation": kept("insulation of the coil measured"),
    "coil.leads-on": (
        "The {what} was measured with the coil’s leads on: what lies beside the coil was measured "
        "with it."
    ),
    "value.not-as-shown": lambda facts: (
        f"The {VALUES[facts['what']]} written down is not what was shown."
    ),
    "reading.struck": (
        "The {what} at {angle_deg:.0f}° was read, struck through and not read again: "
        "it still counts."
    ),
    "reading.never-measured": (
        "The {what} written down at {angle_deg:.0f}° was never measured there."
    ),
    "reading.not-as-felt": (
        "The {what} written down at {angle_deg:.0f}° is not what was felt or shown there."
    ),
    "reading.off": _off,
    "reading.rather-off": _rather_off,
    "reading.more": "And {count} more.",
    # deciding
    "row.none": "No row was used: nothing was decided.",
    "row.wrong": _row_wrong,
    "row.guessed": "Row {size} is right, but the nameplate was not read: it was a guess.",
    "row.right": "Nameplate read, row {size} used.",
    "decision.none": "Nothing was decided.",
    "decision.taken": _taken,
    "decision.supported": _supported,
    "decision.arguable": "This can be argued here, but the rule of the trade says otherwise.",
    "ahead.heeded": "Decided for the whole time until the planned inspection.",
    "ahead.not-heeded": "Decided for today only: it will not last until the planned inspection.",
    "findings.named": _named,
    "findings.not-named": _not_named,
    "findings.not-there": lambda facts: (
        f"Named, but nothing found supports it: {FINDINGS[facts['finding']]}."
    ),
    "findings.looked-at": _looked_at,
    "findings.kept-unseen": lambda facts: (
        f"Kept in use without looking at: {listed(facts['places'], PLACES)}."
    ),
}
