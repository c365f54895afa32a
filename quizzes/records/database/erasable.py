"""Tables beside the ledger whose rows can be erased: words about one person, and photographs.

The ledger keeps a salted digest of each; with row and salt erased, nobody can guess what it was.
"""

from sqlalchemy import LargeBinary, String, Text
from sqlalchemy.orm import Mapped, mapped_column

from quizzes.records.database.models import ERASABLE, Base


class ApartRow(Base):
    """What an entry says of a person in free words, found by the digest that the entry holds."""

    __tablename__ = "apart"
    __table_args__ = ({"info": {ERASABLE: True}},)

    commitment: Mapped[str] = mapped_column(String(64), primary_key=True)
    person_id: Mapped[str] = mapped_column(String(36), index=True)
    salt: Mapped[bytes] = mapped_column(LargeBinary(32))
    words: Mapped[str] = mapped_column(Text)


class PhotographRow(Base):
    """A photograph as it was handed in, of a practical of one person."""

    __tablename__ = "photograph"
    __table_args__ = ({"info": {ERASABLE: True}},)

    person_id: Mapped[str] = mapped_column(String(36), primary_key=True)
    sha256: Mapped[str] = mapped_column(String(64), primary_key=True)
    content: Mapped[bytes] = mapped_column(LargeBinary)
