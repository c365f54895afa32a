"""Heads that this house has signed, kept apart from the store: a line each beside the keys.

Whoever can write the store alone cannot bend it without these lines disagreeing. They are no
replacement for heads that other people keep: who holds both folders can rewrite both.
"""

import json
import os
from collections.abc import Sequence
from pathlib import Path

from quizzes.records.heads.head import SignedHead, head_json, head_of
from quizzes.records.keys.errors import KeyFileError

HEADS = "heads.jsonl"
_LARGEST_BYTES = 100_000_000  # some 300,000 heads


def keep_head(folder: Path, signed: SignedHead) -> None:
    """Add a head to those kept in a folder; on return it is on the disk.

    Raises
    ------
    KeyFileError
        If the file cannot be written.
    """
    line = json.dumps(head_json(signed), sort_keys=True) + "\n"
    try:
        handle = os.open(folder / HEADS, os.O_WRONLY | os.O_APPEND | os.O_CREAT, 0o600)
        try:
            os.write(handle, line.encode())
            os.fsync(handle)
        finally:
            os.close(handle)
    except OSError as error:
        raise KeyFileError(
            f"The file {folder / HEADS} cannot be written: {error.strerror}."
        ) from None


def heads_kept(folder: Path, ledger: str | None = None) -> tuple[SignedHead, ...]:
    """Return the heads of one ledger, or of all, that are kept in a folder, oldest first.

    Raises
    ------
    KeyFileError
        If the file is too large, or a line of it is not a head; the sentence names the line.
    """
    path = folder / HEADS
    try:
        if path.stat().st_size > _LARGEST_BYTES:
            raise KeyFileError(f"{path} is larger than {_LARGEST_BYTES} bytes.")
        lines = path.read_text(encoding="utf-8").splitlines()
    except FileNotFoundError:
        return ()
    except (OSError, UnicodeDecodeError):
        raise KeyFileError(f"The file {path} cannot be read.") from None
    found = []
    for number, line in enumerate(lines, start=1):
        try:
            signed = head_of(json.loads(line))
        except (ValueError, TypeError, RecursionError):
            if number == len(lines) and not line.endswith("}"):
                break  # the last line, cut off by a power failure: its sitting has no head here
            raise KeyFileError(f"Line {number} of {path} is not a signed head.") from None
        if ledger in (None, signed.head.ledger):
            found.append(signed)
    return tuple(found)


def keep_heads_instead(folder: Path, ledger: str, good: Sequence[SignedHead]) -> None:
    """Set the kept heads of a ledger aside but for some; the file set aside is never written again.

    Raises
    ------
    KeyFileError
        If the files cannot be written.
    """
    path = folder / HEADS
    try:
        number = 1
        while (aside := folder / f"heads.lost.{number}.jsonl").exists():
            number += 1
        lines = path.read_text(encoding="utf-8").splitlines()
        others = [line for line in lines if f'"{ledger}"' not in line]
        path.replace(aside)
        path.touch(mode=0o600)
        path.write_text("".join(f"{line}\n" for line in others), encoding="utf-8")
    except OSError as error:
        raise KeyFileError(f"{path} cannot be set aside: {error.strerror}.") from None
    for signed in good:
        keep_head(folder, signed)
