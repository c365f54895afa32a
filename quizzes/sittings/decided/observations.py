"""What observers of practicals marked, over the whole store, for the analysis of agreement."""

from collections.abc import Iterator

from quizzes.analysis.quality.observers import Agreement
from quizzes.records import Records
from quizzes.records.decisions.practical import Practical, agreement
from quizzes.records.decisions.state import State
from quizzes.records.exports.table import csv_bytes
from quizzes.sittings.standing import Standings

COLUMNS = {
    "sitting": "UUID of the sitting that the practical is joined to",
    "entry": "place of the sheet in the ledger, from 1",
    "observer": "pseudonym of the observer",
    "element": "element of the competency",
    "seen": "shown or not shown; an element that was not asked has no row",
}


def agreements(store: Records) -> dict[str, Agreement]:
    """Return how two observers agree who did not know each other's sheets, by sitting."""
    pairs = {name: state.observers.pair for name, state in _states(store)}
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
    for sitting, state in _states(store):
        sheets = [(x.seq, x.act) for x in state.practicals if isinstance(x.act, Practical)]
        if sheets:
            yield sitting, sheets


def _states(store: Records) -> list[tuple[str, State]]:
    standings, acts = Standings(store), store.acts_of_all()
    return [(sitting, standings.state(several)) for sitting, several in sorted(acts.items())]
