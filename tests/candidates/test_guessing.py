"""Whoever works every brake well and guesses the questions: the bench does not carry them."""

import math
from pathlib import Path
from random import Random

import pytest

import quizzes
import widgets
from quizzes.candidates import rehearsal
from quizzes.questions.answers import right_json
from quizzes.questions.marking import mark
from widgets.brake.judgement.outcome import Outcome

PLAN = rehearsal.Plan(
    Path(quizzes.__file__).parent / "forms/blueprints/full.toml",
    Path(widgets.__file__).parent / "brake/sizes/sheets/quince_lane.toml",
    b"whoever guesses the questions",
)
DECISIONS = tuple(Outcome)


def guessed(hidden, dice: Random) -> dict[str, object]:
    """Return an answer of the right kind that knows nothing but what there is to choose from."""
    letters = sorted(hidden.places)
    match right_json(hidden):
        case {"choice": _}:
            return {"choice": dice.choice(letters or DECISIONS)}
        case {"choices": _}:
            return {"choices": [one for one in letters if dice.random() < 0.5]}
        case {"order": _}:
            return {"order": dice.sample(letters, len(letters))}
        case {"place": _}:
            return {"place": dice.randrange(8)}
        case _:
            return {"value": 1.0}


@pytest.mark.parametrize("known", [0.0, 0.5], ids=["none known", "half known"])
def test_whoever_guesses_the_questions_is_not_competent(monkeypatch, known):
    """Careful at every brake: the questions alone say no, with a reason of their own.

    Outside check: guessing a question of four options, one of them right, gives a quarter of the
    marks (common practice, no source); what gives marks for a part gives some more.
    """
    shares = []

    def answered(shared, key):
        dice = Random(key)
        marks = [
            mark(
                one.hidden,
                right_json(one.hidden) if dice.random() < known else guessed(one.hidden, dice),
            )
            for one in shared.asked
        ]
        shares.append(sum(one.share for one in marks) / len(marks))
        safety = [not m.right for m, one in zip(marks, shared.asked, strict=True) if one.on_safety]
        cut = math.fsum(one.difficulty for one in shared.asked) / len(shared.asked)
        points = sum(one.share for one in marks)
        return rehearsal.Questions(len(marks), points, sum(safety), len(safety), cut)

    monkeypatch.setattr(rehearsal, "_answered", answered)
    sittings = [rehearsal.sit_as(rehearsal.CAREFUL, PLAN, number, number) for number in range(4)]

    assert [one.competent for one in sittings] == [False] * 4
    assert all(any("uestions" in words for words in one.reasons) for one in sittings)
    assert known > 0 or 0.15 < sum(shares) / len(shares) < 0.45
