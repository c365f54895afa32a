"""What a class's list says that one person was given, held against the ledger.

Pages opened and questions answered right are for the trainer's board alone: they change all the
time, stand in no entry and count for no grade.
"""

from collections.abc import Iterable, Iterator

from sqlalchemy import Connection, select

from quizzes.records.canonical import parsed_object
from quizzes.records.chain import Entry
from quizzes.records.database.room import MemberRow
from quizzes.records.rows import Broken

NOT_GIVEN = "a class’s list gives a person another form or more minutes than the ledger says"


def rooms_checked(connection: Connection, entries: Iterable[Entry]) -> Iterator[Broken]:
    """Return each person who has a form or minutes that no entry gives them."""
    given: dict[tuple[object, object], tuple[int, object, object]] = {}
    for entry in entries:
        if entry.kind != "accommodation":
            continue
        try:
            body = parsed_object(entry.body)
            whose = (body["class"], body["person"])
            given[whose] = (entry.seq, body["form_id"], body["extra_minutes"])
        except (ValueError, KeyError, TypeError):
            continue  # an entry that was bent is named by the walk along the chain
    columns = (
        MemberRow.class_id, MemberRow.person_id, MemberRow.form_id, MemberRow.extra_minutes,
    )  # fmt: skip
    for class_id, person_id, *has in connection.execute(select(*columns)):
        seq, *said = given.get((class_id, person_id), (0, "", 0))
        if has != said:
            yield Broken(seq, None, NOT_GIVEN, person_id)
