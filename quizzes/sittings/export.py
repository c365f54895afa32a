"""A sitting as one JSON object, to be graded again elsewhere; and the way back to its cases.

An export holds the sitting's key: whoever has it can draw the brakes. It is for the assessor.
"""

import json
from collections.abc import Callable, Mapping
from functools import lru_cache
from typing import Any

from quizzes.cases.case import Case
from quizzes.desks.apprentice.question_round import marks_again
from quizzes.forms.offered import Drawn, form_edition, offer_of, offers
from quizzes.questions.bank import the_bank
from quizzes.records import Records, Sitting
from quizzes.sittings.replay import KIND, VERSION, sheet_mark
from widgets.brake.sizes.sheet import LimitsSheet

from .run import QUESTIONS_SLOT, SittingRun, question_key


def exported(store: Records, sitting_id: str, sheet: LimitsSheet) -> dict[str, Any]:
    """Return a stored sitting as `quizzes.sittings.replay` reads it.

    Raises
    ------
    RecordsError
        If there is no such sitting, or the store cannot be used.
    ValueError
        If it was begun on another sheet or edition of its form.
    """
    sitting = store.sitting(sitting_id)
    run = SittingRun(store, sitting, sheet)
    return {
        "kind": KIND,
        "version": VERSION,
        "rules_edition": sitting.rules_edition,
        "sheet_mark": sheet_mark(sheet),
        "form": {
            "id": sitting.form_id,
            "edition": sitting.form_edition,
            "key": sitting.key.hex(),
            "avoid": run.avoided,
        },
        "questions": _questions(store, run),
        "started": f"{sitting.started_at:%Y-%m-%dT%H:%M:%SZ}",
        "cases": [
            {
                "events": [
                    {"action": event.action, "observation": event.observation}
                    for event in store.events(sitting.id, slot)
                ],
                "grade": run.grades[slot] if slot < len(run.grades) else None,
            }
            for slot in range(len(run.cases))
            if slot < len(run.grades) or store.events(sitting.id, slot)
        ],
    }


def _questions(store: Records, run: SittingRun) -> dict[str, Any] | None:
    if not run.items:
        return None
    return {
        "asked": [item.id for item in run.items],
        "answers": [event.action for event in store.events(run.sitting.id, QUESTIONS_SLOT)],
        "grade": run.questions_grade,
    }


def _no_offer(form_id: str, edition: str, sheet: LimitsSheet) -> str:
    """Return why the form of an export cannot be drawn here."""
    offer = offers().get(form_id)
    if offer is None:
        return f"there is no form {form_id!r:.60} here"
    return (
        f"form: the sitting was made with edition {edition!r:.80} of {form_id!r}, and here is "
        f"edition {form_edition(offer, sheet)!r}, which draws other brakes"
    )


def remarker(sheet: LimitsSheet) -> Callable[[Mapping[str, Any]], tuple[str, ...] | None]:
    """Return what marks the answers of an export again, and says what differs.

    The function raises ValueError where a question is no longer in the bank, or the
    answers or the key are none.
    """

    def remark(whole: Mapping[str, Any]) -> tuple[str, ...] | None:
        questions = whole.get("questions")
        if not isinstance(questions, Mapping) or not questions.get("grade"):
            return None
        items = tuple(the_bank().item(str(name)) for name in questions["asked"])
        answers = {entry["at"]: entry["answer"] for entry in questions["answers"]}
        key = question_key(bytes.fromhex(whole["form"]["key"]))
        again = marks_again(items, answers, sheet, key)
        kept = questions["grade"]
        return tuple(
            f"{words} {kept.get(name)!r:.20} kept, {again[name]!r} marked again"
            for name, words in _QUESTION_SUMS.items()
            if kept.get(name) != again[name]
        ) + tuple(
            f"the mark of {one['item']}"
            for one, old in zip(again["questions"], kept.get("questions", ()), strict=False)
            if one["item"] != old.get("item") or one["share"] != old.get("share")
        )

    return remark


_QUESTION_SUMS = {"asked": "asked", "points": "points", "safety_missed": "safety questions missed"}


def export_file(store: Records, sitting: Sitting, sheet: LimitsSheet) -> tuple[str, str, bytes]:
    """Return a finished sitting as a file: its name, its media type, its bytes.

    Raises
    ------
    RecordsError
        If the store cannot be used.
    ValueError
        If it is not finished (its key would give its cases away), or of another sheet or form.
    """
    if not store.outcomes(sitting.id):
        raise ValueError("This sitting is not finished; it can be saved as a file afterwards.")
    text = json.dumps(exported(store, sitting.id, sheet), indent=1)
    name = f"sitting {sitting.started_at:%Y-%m-%d} {sitting.id[:8]}.json"
    return name, "application/json", text.encode()


def drawer_of_form(sheet: LimitsSheet) -> Callable[[Mapping[str, Any], int], Case]:
    """Return what draws a case of an export from the key of its form.

    The function raises ValueError where the export names a form that is not offered
    here, or its key is none.
    """

    @lru_cache(maxsize=4)
    def form(form_id: str, edition: str, key: str, avoid: tuple[str, ...]) -> Drawn:
        offer = offer_of(form_id, edition, sheet)
        if offer is None:
            raise ValueError(_no_offer(form_id, edition, sheet))
        return offer.draw(sheet, bytes.fromhex(key), frozenset(avoid))

    def draw(whole: Mapping[str, Any], place: int) -> Case:
        named = whole.get("form")
        if not isinstance(named, Mapping) or not isinstance(named.get("key"), str):
            raise ValueError("form: expected id and key, the key in hex digits")  # noqa: TRY004 (the house refuses with ValueError)
        avoid = named.get("avoid") or []
        if not isinstance(avoid, list) or not all(isinstance(one, str) for one in avoid):
            raise ValueError("form: avoid must be a list of texts")
        named_form = (str(named.get("id")), str(named.get("edition")))
        cases = form(*named_form, named["key"], tuple(avoid)).cases
        if place >= len(cases):
            raise ValueError(f"the form has {len(cases)} cases")
        return cases[place]

    return draw
