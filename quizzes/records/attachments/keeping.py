"""Photographs kept in a folder of their own, each under its digest, so that one can be erased."""

import hashlib
import os
from pathlib import Path

import platformdirs

from quizzes.records.attachments.photograph import KINDS, LARGEST_BYTES, Photograph, photograph
from quizzes.records.errors import RecordsError

ATTACHMENTS = "GAL_ATTACHMENTS"


def attachments_folder() -> Path:
    """Return where photographs lie: `GAL_ATTACHMENTS`, or the platform's folder for data."""
    named = os.environ.get(ATTACHMENTS, "").strip()
    if named:
        return Path(named).expanduser().absolute()
    return platformdirs.user_data_path("gap-and-lining", appauthor=False) / "attachments"


def photograph_kept(content: bytes, name: str) -> Photograph:
    """Keep a photograph, for this user's eyes only, and return what it is.

    Raises
    ------
    NoPhotographError
        If it is none.
    RecordsError
        If it cannot be kept.
    """
    found = photograph(content, name)
    folder = attachments_folder()
    path = folder / found.sha256
    try:
        folder.mkdir(mode=0o700, parents=True, exist_ok=True)
        draft = path.with_name(f".{path.name}.{os.getpid()}")
        handle = os.open(draft, os.O_WRONLY | os.O_CREAT | os.O_TRUNC, 0o600)
        with os.fdopen(handle, "wb") as file:
            file.write(content)
            file.flush()
            os.fsync(file.fileno())
        draft.replace(path)
    except OSError as error:
        raise RecordsError(f"The photograph cannot be kept: {error.strerror}.") from None
    return found


def photograph_lost(sha256: str) -> str:
    """Return what has become of a photograph; empty if it lies there as it was handed in."""
    path = attachments_folder() / sha256
    try:
        if not sha256.isalnum() or not path.is_file():
            return "is no longer kept here: it was erased, or lies in another folder"
        same = path.stat().st_size <= LARGEST_BYTES and (
            hashlib.sha256(path.read_bytes()).hexdigest() == sha256
        )
    except OSError as error:
        return f"cannot be read: {error.strerror}"
    return "" if same else "is not the one that was handed in: its file was changed"


def photograph_of(sha256: str) -> bytes | None:
    """Return a kept photograph; None if it was erased, or is not the one that was handed in."""
    path = attachments_folder() / sha256
    if not sha256.isalnum() or not path.is_file():
        return None
    content = path.read_bytes()
    try:
        same = photograph(content, sha256[:8]).sha256 == sha256
    except ValueError:
        return None
    return content if same else None


__all__ = ["KINDS", "attachments_folder", "photograph_kept", "photograph_lost", "photograph_of"]
