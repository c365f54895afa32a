"""What observers of practicals marked, over the whole store, for the analysis of agreement."""

from collections.abc import Iterator

from quizzes.analysis.quality.observers import Agreement
from quizzes.records import Records
from quizzes.records.decisions.practical import Practical, agreement
from quizzes.records.decisions.state import state_of
from quizzes.records.exports.table import csv_bytes

COLUMNS = {
    "sitting": "UUID of the sitting that the practical is joined to",
    "entry": "place of the sheet in the ledger, from 1",
    "observer": "pseudonym of the observer",
    "element": "element of the competency",
    "seen": "shown or not shown; an element that was not asked has no row",
}


def agreements(store: Records) -> dict[str, Agreement]:
    """Return how two observers agree who did not know each other's sheets, by sitting."""
    pairs = {name: state_of(acts).observers.pair for name, acts in store.acts_of_all().items()}
    return {name: agreement(*pair) for name, pair in sorted(pairs.items()) if pair}


def observations_table(store: Records) -> bytes:
    """Return each mark of each observer's last sheet as a CSV file."""
    return csv_bytes(
        tuple(COLUMNS),
        (
            (sitting, seq, sheet.person_id, element, seen.value)
            for sitting, sheets in _sheets(store)
            for seq, sheet in sheets
            for element, seen in sheet.seen.items()
        ),
    )


def _sheets(store: Records) -> Iterator[tuple[str, list[tuple[int, Practical]]]]:
    for sitting, acts in sorted(store.acts_of_all().items()):
        sheets = [(x.seq, x.act) for x in state_of(acts).practicals if isinstance(x.act, Practical)]
        if sheets:
            yield sitting, sheets
