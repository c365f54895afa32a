"""Classes and their lists: made, read, paused, closed; what one person is given beside the rest."""

import json
import secrets
import uuid
from collections.abc import Sequence
from datetime import datetime
from typing import Any

from sqlalchemy import Connection, exists, insert, select, update

from quizzes.records.beginning import person_row
from quizzes.records.canonical import canonical
from quizzes.records.chain import Writer
from quizzes.records.checks import plain_text
from quizzes.records.codes import ALPHABET
from quizzes.records.database.models import PersonRow
from quizzes.records.database.room import ClassRow, MemberRow, SeatRow
from quizzes.records.room.rows import CLOSED, OPEN, ClassPlan, Member, SchoolClass

CLASS_CODE, LABEL_CODE = 6, 8  # signs: 29 and 39 bits, beside tries that slow down

MOST_SEEN = 60  # pages that are noted of one person


def drawn_code(signs: int) -> str:
    """Return a new code of so many characters."""
    return "".join(secrets.choice(ALPHABET) for _ in range(signs))


def typed_code(typed: str) -> str:
    """Return a code as it is kept, however it was typed.

    Examples
    --------
    >>> typed_code(" 7k3m-xq2p "), typed_code("x" * 100)
    ('7K3MXQ2P', '')
    """
    signs = "".join(typed.split()).replace("-", "").upper()
    return signs if len(signs) <= LABEL_CODE else ""


def make_class(writer: Writer, plan: ClassPlan, at: datetime) -> SchoolClass:
    """Make a class with its list, and say so in the ledger."""
    made = SchoolClass(
        str(uuid.uuid4()),
        plain_text("the class’s name", plan.name),
        plan.on_day,
        drawn_code(CLASS_CODE),
        plain_text("form", plan.form_id),
        plan.pages,
        OPEN,
        "",
        plan.keeps_time,
    )
    writer.connection.execute(
        insert(ClassRow).values(
            id=made.id,
            name=made.name,
            on_day=made.on_day,
            code=made.code,
            form_id=made.form_id,
            pages=json.dumps(list(made.pages)),
            state=made.state,
            word=made.word,
            made_at=at,
            keeps_time=made.keeps_time,
        )
    )
    writer.add(
        "class", canonical("body", {"class": made.id, "form_id": made.form_id, "state": OPEN}), at
    )
    add_members(writer, made.id, plan.people, at)
    return made


def add_members(
    writer: Writer, class_id: str, people: Sequence[tuple[str, str]], at: datetime
) -> None:
    """Put people on a class's list; who is there already stays as they are."""
    query = select(MemberRow.person_id).where(MemberRow.class_id == class_id)
    there = set(writer.connection.execute(query).scalars())
    for name, number in people:
        person_id = person_row(writer, name, number, at)
        if person_id in there:
            continue
        there.add(person_id)
        writer.connection.execute(
            insert(MemberRow).values(
                class_id=class_id,
                person_id=person_id,
                label=drawn_code(LABEL_CODE),
                form_id="",
                extra_minutes=0,
                reason="",
                page="",
                seen="{}",
            )
        )


def _class(row: Any) -> SchoolClass:  # noqa: ANN401 - a row of the table
    return SchoolClass(
        row.id,
        row.name,
        row.on_day,
        row.code,
        row.form_id,
        tuple(json.loads(row.pages)),
        row.state,
        row.word,
        bool(row.keeps_time),
        row.awake_at,
    )


_CLASSES = select(*ClassRow.__table__.columns)


def classes(connection: Connection) -> tuple[SchoolClass, ...]:
    """Return all classes, the newest first."""
    found = connection.execute(_CLASSES.order_by(ClassRow.made_at.desc(), ClassRow.id))
    return tuple(_class(row) for row in found)


def class_of(connection: Connection, class_id: str) -> SchoolClass | None:
    """Return a class; None if there is none."""
    found = connection.execute(_CLASSES.where(ClassRow.id == class_id)).first()
    return _class(found) if found else None


def class_of_code(connection: Connection, code: str) -> SchoolClass | None:
    """Return the class that a typed code opens; None if it opens none that is not closed."""
    found = connection.execute(
        _CLASSES.where(ClassRow.code == typed_code(code), ClassRow.state != CLOSED)
    ).first()
    return _class(found) if found else None


def members(
    connection: Connection, class_id: str, *, person_id: str = "", label: str = ""
) -> tuple[Member, ...]:
    """Return the people of a class by name and number, or the one person or label asked for."""
    seated = exists().where(
        SeatRow.class_id == MemberRow.class_id, SeatRow.person_id == MemberRow.person_id
    )
    query = (
        select(
            MemberRow.class_id, MemberRow.person_id, PersonRow.display_name, PersonRow.number,
            MemberRow.label, MemberRow.form_id, MemberRow.extra_minutes, MemberRow.reason,
            MemberRow.hand_at, MemberRow.page, MemberRow.page_at, MemberRow.seen,
            seated.label("joined"),
        )
        .select_from(MemberRow)
        .outerjoin(PersonRow, PersonRow.id == MemberRow.person_id)
        .order_by(PersonRow.sought_as, PersonRow.number, MemberRow.person_id)
    )  # fmt: skip
    if class_id:
        query = query.where(MemberRow.class_id == class_id)
    if person_id:
        query = query.where(MemberRow.person_id == person_id)
    if label:
        query = query.where(MemberRow.label == typed_code(label))
    return tuple(_member(row) for row in connection.execute(query))


def _member(row: Any) -> Member:  # noqa: ANN401 - a row of the query above
    return Member(
        class_id=row.class_id,
        person_id=row.person_id,
        name=row.display_name,
        number=row.number or "",
        label=row.label,
        form_id=row.form_id,
        extra_minutes=row.extra_minutes,
        reason=row.reason,
        hand_at=row.hand_at,
        page=row.page,
        page_at=row.page_at,
        joined=bool(row.joined),
        seen={page: (right, of) for page, (right, of) in json.loads(row.seen).items()},
    )


def change_class(connection: Connection, class_id: str, **values: object) -> None:
    """Change how a class stands: `state`, `word`, `form_id`."""
    connection.execute(update(ClassRow).where(ClassRow.id == class_id).values(**values))


def note_seen(
    connection: Connection, class_id: str, person_id: str, page: str, reached: tuple[int, int]
) -> None:
    """Note how many of a page's questions a person has right, and of how many; never fewer."""
    found = members(connection, class_id, person_id=person_id)
    if not found:
        return
    seen = dict(found[0].seen)
    if page not in seen and len(seen) >= MOST_SEEN:
        return
    before = seen.get(page, (0, 0))
    seen[page] = max(before, reached)
    if seen[page] != before or page not in found[0].seen:
        change_member(connection, class_id, person_id, seen=json.dumps(seen))


def change_member(connection: Connection, class_id: str, person_id: str, **values: object) -> None:
    """Change what is noted of a person of a class: page, hand, form, minutes, reason."""
    whose = (MemberRow.class_id == class_id, MemberRow.person_id == person_id)
    connection.execute(update(MemberRow).where(*whose).values(**values))
