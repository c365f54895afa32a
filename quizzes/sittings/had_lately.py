"""What a person has had in the last sittings, so that the next one brings other brakes."""

from quizzes.forms.offered import Offer
from quizzes.records import Records, RecordsError, ResultRow
from quizzes.records.kept_sitting import read_kept

PAGE = 200  # rows of a list that are read at once


def had_lately(store: Records, offer: Offer, person_id: str) -> frozenset[str]:
    """Return the fingerprints of the cases that a person had lately, in any form."""
    had: set[str] = set()
    for row in sittings_of(store, person_id)[: offer.avoid_last]:
        try:
            kept = read_kept(row.sitting_id, store.kept(row.sitting_id))
        except RecordsError:  # what cannot be read cannot be avoided, and hinders nobody
            continue
        had |= {case.fingerprint for case in kept.cases}
    return frozenset(had)


def sittings_of(store: Records, person_id: str) -> list[ResultRow]:
    """Return all sittings of a person, newest first."""
    found: list[ResultRow] = []
    while page := store.results(person_id=person_id, limit=PAGE, offset=len(found)):
        found += page
    return found
