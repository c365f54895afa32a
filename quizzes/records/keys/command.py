"""The command `keys`: the key this house signs with, its public list, a change of key."""

import datetime as dt
import getpass
import os
import sys
from collections.abc import Mapping
from typing import Any

from quizzes.records.keys.errors import KeyFileError
from quizzes.records.keys.issuer import PASSPHRASE
from quizzes.records.keys.keeping import PUBLIC, change_key, default_folder, issuer_key, trusted
from quizzes.records.keys.trust import utc_text


def keys_command(asked: Mapping[str, Any]) -> int:
    """Show the keys of this house, make the first or change the one in use; return the exit code.

    Parameters
    ----------
    asked : mapping
        `house` (name, for a first key), `change` and `passphrase` (truth values).

    Returns
    -------
    int
        0 when done, 2 when refused.
    """
    folder, now = default_folder(), dt.datetime.now(dt.UTC)
    try:
        if asked["change"]:
            change_key(folder, now, _passphrase(ask=asked["passphrase"]))
        elif asked["house"]:
            issuer_key(folder, asked["house"], now, _passphrase(ask=asked["passphrase"]))
        listed = trusted(folder)
    except (KeyFileError, ValueError) as error:
        sys.stderr.write(f"{error} To make a first key: python -m quizzes keys --house NAME\n")
        return 2
    for one in listed.keys:
        until = f"until {utc_text(one.until)}" if one.until else "in use"
        sys.stdout.write(f"{one.key.did}  {one.name}, from {utc_text(one.since)}, {until}\n")
    sys.stdout.write(f"To be handed to whoever checks records: {folder / PUBLIC}\n")
    return 0


def _passphrase(*, ask: bool) -> bytes | None:
    """Return the passphrase: typed unseen if asked for, else that of the environment, else none."""
    typed = getpass.getpass("Passphrase of the key: ") if ask else os.environ.get(PASSPHRASE, "")
    return typed.encode() if typed else None
