"""Keeping a form that a trainer wrote: under its name, and never over one of the same edition."""

import logging
import os
from collections.abc import Mapping
from pathlib import Path
from typing import Any

from quizzes.forms.blueprint import Blueprint, BlueprintError, load_blueprint

from .draft import DraftError, as_toml
from .offered import MOST_OWN, own_files, own_folder

_LOG = logging.getLogger("gap_and_lining")


def keep(table: Mapping[str, Any]) -> Path:
    """Write a form that was checked into the trainer's folder; return its file.

    A lower edition that stands there is replaced: each sitting keeps the one it began with.

    Parameters
    ----------
    table : mapping
        As `read_draft` returns it, checked.

    Raises
    ------
    DraftError
        If there is a file of this name whose edition is not lower, or that
        cannot be read; if there are too many; if the folder cannot be written.
    """
    path = own_folder() / f"{table['id']}.toml"
    _is_free(path, table)
    try:
        path.parent.mkdir(parents=True, exist_ok=True)
        if path.exists():
            _is_raised(path, table)
        elif len(own_files()) >= MOST_OWN:
            raise DraftError([f"There are {MOST_OWN} forms already; take one away first."])
        _written(path, as_toml(table))
    except OSError as error:
        _LOG.error("form not kept: %s", error)
        raise DraftError(
            [f"The form could not be kept in {path.parent}: {error.strerror}."]
        ) from None
    return path


def _is_free(path: Path, table: Mapping[str, Any]) -> None:
    """Refuse a name that another file of the folder gives its form."""
    for other in own_files():
        if other == path:
            continue
        try:
            same = load_blueprint(other).id == table["id"]
        except BlueprintError:
            continue
        if same:
            raise DraftError([f"{other.name} holds a form {table['id']!r} already."])


def _is_raised(path: Path, table: Mapping[str, Any]) -> None:
    """Refuse to replace what is there by an edition that is no higher."""
    try:
        old = load_blueprint(path)
    except BlueprintError as error:
        raise DraftError(
            [f"A file of this name is there and is not a valid form; take it away first. {error}"]
        ) from None
    if not _is_lower(old, table):
        said = (
            f"Edition: {path.name} is kept with edition {old.edition}; to keep another, raise it "
        )
        raise DraftError([f"{said}above that, got {table['edition']}."])


def _is_lower(old: Blueprint, table: Mapping[str, Any]) -> bool:
    return not old.edition.isdigit() or int(old.edition) < int(table["edition"])


def _written(path: Path, text: str) -> None:
    """Write a file whole or not at all."""
    beside = path.with_name(f".{path.stem}.{os.getpid()}.new")
    beside.write_text(text, encoding="utf-8")
    try:
        beside.replace(path)
    finally:
        beside.unlink(missing_ok=True)
