"""Words of what speaks against a job or a sitting: critical errors, faults, reasons."""

from collections.abc import Mapping

from quizzes.grading.editions import CHANNELS
from widgets.bench.words import alarm_words
from widgets.brake.judgement.words import FINDINGS

from .names import PLACES, TITLES, VALUES
from .phrasing import Facts, Words, done, listed, number_of, placed

_BAD = {"leaves": "leaves that were seen to be bent", "caliper": "a caliper seen to be off at zero"}


def _made_up(facts: Facts) -> str:
    places = placed(facts["angles_deg"])
    return f"Wrote down a {facts['what']} reading at {places} that was never taken."


def _as_better(facts: Facts) -> str:
    places = placed(facts["angles_deg"])
    return (
        f"Wrote the {facts['what']} down as better than it was read at {places}, where it is near "
        "its limit or beyond."
    )


def _value_made_up(facts: Facts) -> str:
    return f"The {VALUES[facts['what']]} was written down and never measured."


def _few_places(facts: Facts) -> str:
    if not facts["places"]:
        return "Put into service with no gap reading in the notes after locking."
    places = facts["places"]
    return f"Put into service after measuring again at only {places} of the places since locking."


def _against_own(facts: Facts) -> str:
    supported, luck = facts["supported"] or "nothing yet", " (it came out right by luck)"
    words = (
        f"Own readings and findings support “{supported}”, but the decision was “{facts['taken']}”"
    )
    return f"{words}{luck if facts['lucky'] else ''}."


def _left_out(facts: Facts) -> str:
    names = "; ".join(TITLES[one].lower() for one in facts["elements"])
    return f"Left out or out of order: {names}."


def _share(facts: Facts) -> str:
    return f"{100 * facts['share']:.0f} % reached on average, {100 * facts['asked']:.0f} % required"


def _shows_none_wrong(facts: Facts) -> str:
    return (
        f"{number_of(facts['cases'], 'case without a miss is', 'cases without a miss are')} still "
        "consistent with getting up to "
        f"{100 * facts['bound']:.0f} % of such cases wrong (95 % bound). It takes 59 to bring that "
        "to 5 %. Read this as a first check, not as proof."
    )


def _cases(facts: Facts) -> str:
    return number_of(facts["cases"], "case", "cases")


def _places(facts: Facts) -> str:
    return listed(facts["places"], PLACES, " or ")


# Where "{sign}", "{reason}" and "{lines}" stand, what they say has been put in words already.
AGAINST: Mapping[str, Words] = {
    "overlooked.sign": lambda facts: f"Not looked at: {_places(facts)}. {facts['sign']}",
    "left.fault": "In service with a fault: {sign}",
    # critical errors
    "decided.without-readings": "Decided “{taken}” without the readings to say so: {reason}",
    "decided.too-late": "Decided “{taken}”. {reason}",
    "decided.by-wrong-row": "Decided “{taken}” by the limits of another size.",
    "decided.against-own": "Decided “{taken}” although own readings and findings rule it out.",
    "decided.on-notes-alone": (
        "Decided “{taken}” on the notes alone. Leaves or caliper had shown something else there, "
        "or what they showed was not written down."
    ),
    "decided.by-mean": (
        "Decided “{taken}” by the mean of a tapered disc, not by its thinnest place."
    ),
    "decided.on-wrong-readings": "Decided “{taken}” on readings that were taken wrongly.",
    "decided.by-bad-tool": lambda facts: (
        f"Decided “{facts['taken']}” on readings taken with {_BAD[facts['tool']]}, "
        f"step {facts['step']}."
    ),
    "decided.unseen": "Passed as fit. {sign}",
    "gap.read-too-late": (
        "The gap was read only after step {step} had changed the brake: "
        "nothing shows how it was found."
    ),
    "hands-in.load-hanging": done("with the load on the hook."),
    "hands-in.supply-on": done("with the supply on."),
    "hands-in.no-lock": done("with no lock on the switch."),
    "hands-in.not-proved": done("without proving it dead."),
    "authority.box": "Opened the terminal box at step {step}; the work order leaves it to others.",
    "authority.load-test": (
        "Lifted the test load at step {step}; the work order leaves that test to others."
    ),
    "harm.done": lambda facts: alarm_words(facts["alarm"]),
    "gap.coil-on": "Measured the gap with the coil energised.",
    "made-up.reading": _made_up,
    "made-up.value": _value_made_up,
    "written.as-better": _as_better,
    "adjusted.disc-unmeasured": "Adjusted at step {step} with no disc reading in the notes.",
    "into-service.few-places": _few_places,
    "into-service.screw-loose": "Put into service with a retaining screw not tight.",
    "into-service.ring-loose": "Into service with the adjusting ring not locked.",
    "into-service.untested": "Put into service after work on it, without a load test.",
    # faults
    "fault.misread": (
        "The decision follows from the readings, but a competent person’s readings of "
        "this brake would have said something else. Look at how these were taken."
    ),
    "fault.against-own": _against_own,
    "fault.will-not-last": (
        "Decided by how the brake is today: it will pass a limit before the next inspection. "
        "Own readings support “{supported}”."
    ),
    "fault.too-tight": (
        "Passed with the gap below the least allowed: it drags, runs hot, and its lining glazes."
    ),
    "fault.beyond-limit": (
        "Passed on a reading that lies beyond its limit: own readings support “{supported}”."
    ),
    "fault.in-guard-band": (
        "Passed on a reading that is inside its limit by less than its uncertainty requires. "
        "Own readings support “{supported}”."
    ),
    "fault.disc-kept": (
        "Adjusted, and the disc kept that by the own readings was to be renewed: "
        "they support “{supported}”."
    ),
    "fault.unheeded": lambda facts: (
        f"Found, and nothing made of it: {listed(facts['findings'], FINDINGS)}."
    ),
    "fault.left-out": _left_out,
    "fault.too-little": "{lines} The job asks for {places} places, and for what was read there.",
    # reasons of a sitting
    "case.critical": "Case {case}: {what}",
    "case.not-right": lambda facts: (
        f"Case {facts['case']}: not yet right. {facts.get('why', '')}".rstrip()
    ),
    "case.no-verdict": (
        "Case {case} gives no verdict: fair readings, an unlucky brake. Sit one more."
    ),
    "sitting.false-alarms": lambda facts: (
        f"{number_of(facts['count'], 'brake was', 'brakes were')} given more than needed."
    ),
    "sitting.too-few-cases": (
        "{right} of {made} decisions right: too few cases so far to tell. Sit some more."
    ),
    "sitting.too-few-right": "{right} of {made} decisions right: too few.",
    "sitting.channel": lambda facts: f"{CHANNELS[facts['channel']].capitalize()}: {_share(facts)}.",
    "sitting.element": lambda facts: (
        f"{TITLES[facts['element']]}: "
        f"{_share(facts)}, over {_cases(facts)}{' by hand' if 'by_hand' in facts else ''}."
    ),
    "sitting.unfinished": "{done} of {asked} cases handed over.",
    "sitting.all-right": (
        "Every case right, no critical error, and enough of the job shown on average."
    ),
    "sitting.enough-right": (
        "{right} of {made} decisions right, which is enough; no critical error, "
        "and enough of the job shown on average."
    ),
    "sitting.beyond-limit": lambda facts: (
        f"Passed on a reading beyond its limit in {number_of(facts['times'], 'case', 'cases')}."
    ),
    "sitting.again": "{times} times: {what}",
    "again.in-guard-band": "Passed on a reading too near its limit to be sure of it.",
    "again.too-tight": "Passed with a gap below the least allowed.",
    "again.will-not-last": "Passed a brake that will not last until its next inspection.",
    "again.disc-kept": "Adjusted, where the disc was to be renewed.",
    "again.too-little": "Too little read of a brake, or not written down as it was read.",
    "sitting.never-looked": lambda facts: (
        f"{number_of(facts['times'], 'brake', 'brakes')} kept in use without looking at "
        f"{PLACES[facts['place']]}."
    ),
    "sitting.tools-unseen": (
        "{times} brakes measured with an instrument that had not been looked over."
    ),
    "sitting.unheeded": lambda facts: (
        f"{facts['times']} times nothing was made of what had been found: "
        f"{FINDINGS[facts['finding']]}."
    ),
    "sitting.not-named": (
        "On {times} brakes something was found and not named under the decision: whoever takes "
        "them over does not know of it."
    ),
    "sitting.thickest": (
        "Where the disc was read more than once, the thickest reading was written at {thickest} "
        "places and the thinnest at {thinnest}. Whoever picks none writes either about as often."
    ),
    "sitting.never-shown": lambda facts: (
        f"{TITLES[facts['element']]}: this form asks for it, and it was never shown."
    ),
    "questions.share": lambda facts: (
        f"Questions: {100 * facts['share']:.0f} % right, {100 * facts['asked']:.0f} % required."
    ),
    "questions.safety": lambda facts: (
        f"{facts['missed']} of {facts['asked']} questions on safety not right. Somebody who knows "
        f"the answers misses as many in only {100 * facts['chance']:.1f} of 100 sittings."
    ),
    # what a sitting shows
    "shows.nothing": "No case was finished: this shows nothing.",
    "shows.wrong": lambda facts: (
        f"{facts['wrong']} of {_cases(facts)} not right. Practise, then sit a new form."
    ),
    "shows.none-wrong": _shows_none_wrong,
}
