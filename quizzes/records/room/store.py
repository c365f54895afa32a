"""The room's part of the store: each method one short transaction."""

import hashlib
from collections.abc import Sequence
from datetime import datetime

from quizzes.records.attachments.apart import put_apart
from quizzes.records.canonical import canonical
from quizzes.records.checks import REASON_LIMIT, aware, plain_text, whole
from quizzes.records.room import accounts, classes, clock, progress, seats
from quizzes.records.room.rows import (
    CLOSED,
    Account,
    ClassPlan,
    Member,
    Progress,
    SchoolClass,
    Seat,
)
from quizzes.records.store import Store

MOST_EXTRA_MINUTES = 240
WORD_LIMIT = 200  # characters that a trainer says to the class at once


def owner_in_class(class_id: str, person_id: str) -> str:
    """Return as whose a person's sittings in a class are kept, in the place of a browser's key.

    Returns
    -------
    str
        64 hexadecimal digits.
    """
    return hashlib.sha256(f"class {class_id} {person_id}".encode()).hexdigest()


class RoomStore(Store):
    """Accounts, classes and seats of a record store."""

    # ---- who signs in ----

    def anybody_signs_in(self) -> bool:
        """Return whether there is any account."""
        with self._reading() as connection:
            return accounts.any_account(connection)

    def accounts(self) -> tuple[Account, ...]:
        """Return all accounts, by role and name."""
        with self._reading() as connection:
            return accounts.accounts_of(connection)

    def account(self, name: str) -> Account | None:
        """Return the account of a name as typed."""
        with self._reading() as connection:
            return accounts.account_of(connection, name)

    def add_account(self, name: str, role: str, hashed: str, at: datetime) -> Account:
        """Add somebody who signs in; `ValueError` in words if that cannot be."""
        with self._writing_to() as writer:
            return accounts.add_account(writer.connection, name, role, hashed, aware("at", at))

    def set_passphrase(self, account_id: str, hashed: str, at: datetime) -> tuple[str, ...]:
        """Exchange a passphrase, sign the account out, and return the visits that ended."""
        with self._writing_to() as writer:
            accounts.set_passphrase(writer.connection, account_id, hashed, aware("at", at))
            return seats.leave_account(writer.connection, account_id)

    def remove_account(self, account_id: str) -> tuple[str, ...]:
        """Take an account away, and return the visits that ended."""
        with self._writing_to() as writer:
            ended = seats.leave_account(writer.connection, account_id)
            accounts.remove_account(writer.connection, account_id)
            return ended

    # ---- seats; a browser is named by the hash of its visit ----

    def seat(self, visit_sha256: str) -> Seat | None:
        """Return who sits at a browser."""
        with self._reading() as connection:
            return seats.seat_of(connection, visit_sha256)

    def sign_in(self, visit_sha256: str, account: Account, at: datetime) -> None:
        """Let an account sit at a browser."""
        with self._writing_to() as writer:
            seats.sign_in(writer.connection, visit_sha256, account, aware("at", at))

    def join(self, visit_sha256: str, member: Member, at: datetime) -> None:
        """Let a person of a class sit at a browser; `TakenSeatError` if they sit elsewhere."""
        with self._writing_to() as writer:
            seats.join(writer.connection, visit_sha256, member, aware("at", at))

    def leave(self, visit_sha256: str) -> tuple[str, ...]:
        """Sign out whoever sits at a browser, everywhere, and return the visits that ended."""
        with self._writing_to() as writer:
            return seats.leave(writer.connection, visit_sha256)

    def free(self, class_id: str, person_id: str) -> tuple[str, ...]:
        """Free the place of a person of a class, and return the visits that ended."""
        with self._writing_to() as writer:
            return seats.free(writer.connection, class_id, person_id)

    # ---- classes ----

    def make_class(self, plan: ClassPlan, at: datetime) -> SchoolClass:
        """Make a class with its list of names and numbers."""
        with self._writing_to() as writer:
            return classes.make_class(writer, plan, aware("at", at))

    def add_members(self, class_id: str, people: Sequence[tuple[str, str]], at: datetime) -> None:
        """Put more people on a class's list."""
        with self._writing_to() as writer:
            classes.add_members(writer, class_id, people, aware("at", at))

    def classes(self) -> tuple[SchoolClass, ...]:
        """Return all classes, the newest first."""
        with self._reading() as connection:
            return classes.classes(connection)

    def school_class(self, class_id: str) -> SchoolClass | None:
        """Return a class."""
        with self._reading() as connection:
            return classes.class_of(connection, class_id)

    def class_of_code(self, code: str) -> SchoolClass | None:
        """Return the class that a typed code opens, unless it is closed."""
        with self._reading() as connection:
            return classes.class_of_code(connection, code)

    def members(self, class_id: str) -> tuple[Member, ...]:
        """Return the people of a class, by name and number."""
        with self._reading() as connection:
            return classes.members(connection, class_id)

    def member(self, class_id: str, person_id: str) -> Member | None:
        """Return one person of a class."""
        with self._reading() as connection:
            found = classes.members(connection, class_id, person_id=person_id)
        return found[0] if found else None

    def labelled(self, label: str) -> Member | None:
        """Return the person whose label carries a typed code; None if there is none."""
        if not classes.typed_code(label):
            return None
        with self._reading() as connection:
            found = classes.members(connection, "", label=label)
        return found[0] if found else None

    def set_state(self, class_id: str, state: str, at: datetime) -> None:
        """Pause a class, let it go on, or close it for good; the ledger says when.

        Raises
        ------
        ValueError
            If it is closed already, perhaps by another trainer.
        """
        with self._writing_to() as writer:
            now = classes.class_of(writer.connection, class_id)
            if now is not None and now.state == CLOSED:
                raise ValueError("The class is closed, and a closed class stays closed.")
            classes.change_class(writer.connection, class_id, state=state)
            writer.add("class", canonical("body", {"class": class_id, "state": state}), at)

    def say(self, class_id: str, word: str) -> None:
        """Say something to the whole class; empty to take it back."""
        said = plain_text("the word to the class", word, WORD_LIMIT) if word.strip() else ""
        with self._writing_to() as writer:
            classes.change_class(writer.connection, class_id, word=said)

    def raise_hand(self, class_id: str, person_id: str, at: datetime | None) -> None:
        """Note that a person's hand is up since a moment, or down."""
        with self._writing_to() as writer:
            classes.change_member(writer.connection, class_id, person_id, hand_at=at)

    def note_page(self, class_id: str, person_id: str, page: str, at: datetime) -> None:
        """Note which page a person has opened."""
        with self._writing_to() as writer:
            classes.change_member(
                writer.connection, class_id, person_id, page=page[:80], page_at=at
            )
            classes.note_seen(writer.connection, class_id, person_id, page[:80], (0, 0))

    def note_answers(
        self, class_id: str, person_id: str, page: str, *, right: int, of: int
    ) -> None:
        """Note how many of a page's questions a person has answered right, and of how many."""
        with self._writing_to() as writer:
            classes.note_seen(writer.connection, class_id, person_id, page[:80], (right, of))

    def pauses(self, class_id: str) -> tuple[tuple[datetime, datetime | None], ...]:
        """Return when a class's clock stood still, and until when; None while it still does."""
        with self._reading() as connection:
            paused, asleep = clock.stood_still(connection, class_id)
        return clock.joined((*paused, *asleep))

    def slept(self, class_id: str) -> clock.Times:
        """Return from when to when the machine slept, or was off, while a class was open."""
        with self._reading() as connection:
            return clock.stood_still(connection, class_id)[1]

    def note_awake(self, at: datetime) -> None:
        """Note that the server runs; what it missed before is in the ledger of each class."""
        with self._reading() as connection:
            if not clock.any_watched(connection, at):
                return
        with self._writing_to() as writer:
            clock.note_awake(writer, aware("at", at))

    def note_time_up(self, member: Member, sitting_id: str, minutes: int, at: datetime) -> None:
        """Write into the ledger that a sitting was closed because its minutes were up."""
        body = {
            "class": member.class_id,
            "person": member.person_id,
            "sitting_closed": sitting_id,
            "allowed_minutes": minutes,
        }
        with self._writing_to() as writer:
            writer.add("class", canonical("body", body), aware("at", at))

    def accommodate(
        self,
        member: Member,
        *,
        form_id: str,
        extra_minutes: int,
        reason: str,
        author: str,
        at: datetime,
    ) -> int:
        """Give one person another form or more time, with the reason; return the entry's place."""
        whole("more minutes", extra_minutes, 0, MOST_EXTRA_MINUTES)
        given = {
            "form_id": form_id,
            "extra_minutes": extra_minutes,
            "reason": plain_text("the reason", reason, REASON_LIMIT),
        }
        said = given | {"class": member.class_id, "person": member.person_id, "author": author}
        with self._writing_to() as writer:
            body = put_apart(writer.connection, member.person_id, said, ("reason",))
            classes.change_member(writer.connection, member.class_id, member.person_id, **given)
            return writer.add("accommodation", canonical("body", body), aware("at", at)).seq

    def progress(self, class_id: str) -> tuple[Progress, ...]:
        """Return how far the sittings of a class have come, the newest first."""
        with self._reading() as connection:
            of = classes.members(connection, class_id)
            owners = [owner_in_class(class_id, member.person_id) for member in of]
            return progress.progress_of(connection, owners)

    def progress_of_person(self, class_id: str, person_id: str) -> Progress | None:
        """Return how far the newest sitting of one person of a class has come; None before it."""
        with self._reading() as connection:
            found = progress.progress_of(connection, [owner_in_class(class_id, person_id)])
        return found[0] if found else None
