"""A second attempt waits until the form's cooling-off is over, or an assessor allows it earlier."""

import datetime as dt

import pytest

from quizzes.forms.offered import offers
from quizzes.records import Records, create
from quizzes.records.decisions.acts import Act
from quizzes.sittings.decided.attempts import TooSoonError, attempts, waits
from quizzes.sittings.decided.deciding import NotAllowedError, stated
from quizzes.sittings.decided.dossier import dossier
from quizzes.sittings.run import begin
from tests.short_form import THREE_BRAKES
from widgets.brake.sizes.sheet import INVENTED, load_sheet

NOON = dt.datetime(2026, 11, 28, 12, tzinfo=dt.UTC)
SHEET = load_sheet(INVENTED)


@pytest.fixture
def store(tmp_path, monkeypatch):
    monkeypatch.setenv("GAL_KEYS", str(tmp_path / "keys"))  # made on the day of these sittings
    url = f"sqlite:///{tmp_path / 'records.sqlite'}"
    create(url)
    with Records(url) as found:
        yield found


def sit(store, hours, offer=THREE_BRAKES, place="web"):
    at = NOON + dt.timedelta(hours=hours)
    start = {"name": "Ada", "owner": "0" * 64, "started_at": at, "place": place}
    return begin(store, offer, SHEET, start)


def test_a_second_attempt_waits_and_is_told_until_when(store):
    """Refused an hour early with the moment; at that moment it begins, and counts as the second."""
    sit(store, 0)
    with pytest.raises(TooSoonError, match=r"1 attempt so far.* 29 November 2026, 12:00 UTC"):
        sit(store, 23)
    second = sit(store, 24)

    assert "Attempt 2 of this person" in attempts(store, second, NOON)[0]
    assert "did not wait" not in " ".join(attempts(store, second, NOON))
    with pytest.raises(TooSoonError, match="2 attempts so far"):
        sit(store, 25)


def test_an_assessor_allows_one_earlier_attempt_and_the_candidate_does_not(store):
    """With a written reason, kept in the ledger; it holds for the next attempt only."""
    first = sit(store, 0)
    assessor, at = store.person("Ann Okoro", "", NOON).id, NOON + dt.timedelta(hours=1)
    assert waits(store, first, at)
    with pytest.raises(NotAllowedError, match="of their own"):
        stated(store, dossier(store, first.id), Act.WAIVER, first.person_id, "Me.", at)
    with pytest.raises(ValueError, match="1 to 500"):
        stated(store, dossier(store, first.id), Act.WAIVER, assessor, "", at)
    stated(store, dossier(store, first.id), Act.WAIVER, assessor, "The power failed.", at)
    second = sit(store, 2)

    assert "an assessor allowed it" in " ".join(attempts(store, second, NOON))
    assert store.acts(first.id)[-1].act.words == "The power failed."
    with pytest.raises(TooSoonError):
        sit(store, 3)


def test_exercises_and_self_checks_wait_for_nobody(store):
    """Neither a form that cannot end competent, nor a notebook that only practises."""
    sit(store, 0, offers()["class_exercise"])
    sit(store, 0.1, offers()["class_exercise"])
    sit(store, 0.2, place="lab")

    assert sit(store, 0.3, place="lab")
