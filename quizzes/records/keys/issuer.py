"""The key that this issuer signs with, as pages and commands take it; made once, at first use."""

import datetime as dt
import os
from dataclasses import dataclass, field
from pathlib import Path

from quizzes.records.keys.keeping import PUBLIC, default_folder, issuer_key, trusted
from quizzes.records.keys.signing import SigningKey
from quizzes.records.keys.trust import TrustList

PASSPHRASE = "GAL_KEYS_PASSPHRASE"  # noqa: S105 (the name of a variable)
NAME = "GAL_ISSUER"
_UNNAMED = "An issuer that has given no name"


@dataclass(frozen=True, slots=True)
class Issuer:
    """Who issues and signs.

    Parameters
    ----------
    name : str
        As its list of trusted keys says.
    key : SigningKey
        The key in use.
    trust : TrustList
        Its public keys, those that it used before among them.
    folder : Path
        Where they lie.
    """

    name: str
    key: SigningKey = field(repr=False)
    trust: TrustList = field(repr=False)
    folder: Path


def the_issuer(at: dt.datetime) -> Issuer:
    """Return the issuer whose keys lie in the folder in force; its key is made at first use.

    Parameters
    ----------
    at : datetime
        Now, with a time zone.

    Raises
    ------
    KeyFileError
        If the key cannot be used; the sentence says why.
    """
    folder = default_folder()
    named = os.environ.get(NAME, "").strip() or _UNNAMED
    typed = os.environ.get(PASSPHRASE, "")
    key = issuer_key(folder, named, at, typed.encode() if typed else None)
    trust = trusted(folder)
    return Issuer(trust.holder(key.public)[-1].name, key, trust, folder)


def issuer_trust() -> TrustList:
    """Return the public keys of this issuer; none if it has not made any yet."""
    folder = default_folder()
    return trusted(folder) if (folder / PUBLIC).is_file() else TrustList()
