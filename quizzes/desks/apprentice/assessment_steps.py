"""What the assessment's form shows at each step: who sits, which case, the break, the end."""

from collections.abc import Mapping
from typing import Any

from quizzes.cases.case import Depth
from quizzes.forms.offered import Offer
from quizzes.records import Sitting
from quizzes.sittings.run import SittingRun
from widgets.brake.days import day_words

from .practice import CAUTION

Form = dict[str, Any]
_TASK = (
    "Hoists, each with a brake in an unknown state. A whole job: make safe, find out what it "
    "needs, do it or keep it out of service, prove it, hand over. A short case ends with the "
    "decision. Nobody gets the same brakes."
)
_KEPT = (
    "Everything you do is kept as it happens. If the page closes, open it again on "
    "this device and continue where you stopped."
)
_ASKED = {
    Depth.READING: (
        "Decide from a colleague’s notes: there is no brake to touch. The case ends with your "
        "decision."
    ),
    Depth.BENCH: (
        "The brake is safe and open. Look, measure, decide. The case ends with your decision; "
        "nothing is adjusted."
    ),
    Depth.WORK_ORDER: "A whole job, from making safe to the hand-over.",
}


def who_form(offered: Mapping[str, Offer], said: str, asked: str) -> Form:
    """Return the form that asks for name and form, or for a return code.

    `asked` says which pass mark the questions of a form have.
    """
    options = [(offer.id, offer.title) for offer in offered.values()]
    # Beside the list and not in it: what a form ends with is read before it is begun.
    lengths = [f"{offer.title}: {offer.words}" for offer in offered.values()]
    return {
        "title": "Begin a sitting",
        "words": [_TASK, *lengths, asked, _KEPT],
        "danger": CAUTION,
        "fields": [
            {
                "name": "form",
                "kind": "choice",
                "label": "Form",
                "options": options,
                "value": options[0][0],
            },
            {
                "name": "name",
                "kind": "text",
                "label": "Your name, as it should appear on the record",
            },
            {
                "name": "code",
                "kind": "text",
                "label": "Return code, only to continue a sitting from another device",
                "most": 40,
            },
        ],
        "buttons": [("start", "Begin"), ("take up", "Continue with the return code")],
        "said": said,
        "remember": True,
    }


def mine_form(run: SittingRun, sitting: Sitting) -> Form:
    """Return the form that asks whether an open sitting is that of the person before it."""
    done, of = len(run.grades), len(run.cases)
    at = f"case {done + 1} of {of}" if done < of else "the questions"
    who, when = (
        sitting.name or "Somebody",
        f"{day_words(sitting.started_at)}, {sitting.started_at:%H:%M}",
    )
    return {
        "title": "A sitting is open on this device",
        "words": [f"{who} is at {at}, begun {when} UTC."],
        "buttons": [("mine", "That is me: continue"), ("not mine", "That is not me")],
        "remember": True,
    }


def case_form(run: SittingRun, code: str | None) -> Form:
    """Return what is above the case in hand: which, what it asks, how far one has come."""
    number, of = len(run.grades) + 1, len(run.cases)
    return {
        "title": f"Case {number} of {of}: {run.sitting.name or 'no name'}",
        "progress": progress(run),
        "words": [_ASKED[run.case.depth]],
        "code": ["Return code, write it down:", code] if code else None,
        "code_of": str(run.sitting.id),
        "focus": True,
    }


def between_form(run: SittingRun) -> Form:
    """Return what is between two cases, one press from the next; at the break it says so."""
    words = ["It is kept. You will see how it went after the last one."]
    if run.at_break:
        words.append(
            f"It is time for the break, {run.kept.blueprint.break_minutes} minutes. Nothing is "
            "lost, even if you close the page; carry on when you are back."
        )
    return {
        "title": f"Case {len(run.grades)} of {len(run.cases)} is handed over",
        "code_of": str(run.sitting.id),
        "progress": progress(run),
        "words": words,
        "buttons": [("next", "Next case")],
        "focus": "key",
        "remember": True,
    }


def questions_form(run: SittingRun) -> Form:
    """Return what is above the questions."""
    return {
        "title": f"The questions: {run.sitting.name or 'no name'}",
        "code_of": str(run.sitting.id),
        "progress": progress(run),
        "words": ["All cases are handed over and kept."],
        "focus": True,
        "remember": True,
    }


def not_graded_form(reason: str) -> Form:
    """Return what is said where a case is handed over and could not be graded."""
    return {
        "title": "Handed over, not yet graded",
        "words": [reason, "What you did is kept."],
        "buttons": [("hand in", "Try again")],
    }


def finished_form(said: str = "") -> Form:
    """Return what is below the outcome."""
    return {
        "alarm": said,
        "title": "Finished",
        "words": ["The result is kept and is on the assessor’s list."],
        "buttons": [("new", "Begin a new sitting")],
    }


def progress(run: SittingRun) -> dict[str, Any]:
    """Return how far a sitting has come, for the bar and the sentence below it."""
    pace = run.pace
    return {"done": pace.done, "of": pace.of, "words": pace.words}
