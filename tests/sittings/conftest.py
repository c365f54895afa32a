"""A second edition of the rules, for tests that need one: only one is in use."""

from dataclasses import replace

import pytest

from quizzes.grading import editions


@pytest.fixture
def second_edition(monkeypatch) -> str:
    """Return the name of an edition by which hardly anything is reached."""
    name = "made for a test"
    strict = replace(editions.EDITIONS[editions.EDITION], edition=name, places=60, disc_places=60)
    monkeypatch.setattr(editions, "EDITIONS", {**editions.EDITIONS, name: strict})
    for module in ("quizzes.sittings.replay", "quizzes.desks.assessor.evidence_sheet"):
        monkeypatch.setattr(f"{module}.EDITIONS", editions.EDITIONS)
    return name
