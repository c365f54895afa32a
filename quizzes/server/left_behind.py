"""Folders of servers that were killed: found by the next one, and taken away."""

import os
import shutil
from collections.abc import Iterator
from contextlib import contextmanager, suppress
from pathlib import Path

try:
    import fcntl
except ImportError:  # Windows, whose own tools clear temporary folders
    fcntl = None  # type: ignore[assignment]

PREFIX = "gal-"
MARK = "held"  # a file that a living server holds locked: the system lets go of it when it dies


@contextmanager
def held(folder: Path) -> Iterator[None]:
    """Hold a folder, so that no other server takes it for one that was left.

    Parameters
    ----------
    folder : Path
        A folder of our own.
    """
    unheld = folder / f"{MARK}.new"
    with unheld.open("wb") as mark:
        if fcntl is not None:
            fcntl.flock(mark, fcntl.LOCK_EX | fcntl.LOCK_NB)
        unheld.rename(folder / MARK)  # locked before another server that starts can see it
        yield


def clear_left_behind(where: Path) -> list[Path]:
    """Take away the folders of this user's servers that no longer run.

    Parameters
    ----------
    where : Path
        Where such folders are made.

    Returns
    -------
    list of Path
        What was taken away; what cannot be is left as it is.
    """
    if fcntl is None:
        return []
    cleared = []
    for folder in where.glob(f"{PREFIX}*"):
        with suppress(OSError):
            if _is_ours(folder) and _is_let_go(folder / MARK):
                shutil.rmtree(folder, ignore_errors=True)
                cleared.append(folder)
    return cleared


def _is_ours(folder: Path) -> bool:
    about = folder.lstat()
    return folder.is_dir() and not folder.is_symlink() and about.st_uid == os.getuid()


def _is_let_go(mark: Path) -> bool:
    """Return whether no server holds a folder; one without a mark is none of ours, or too new."""
    with mark.open("rb") as file:
        try:
            fcntl.flock(file, fcntl.LOCK_EX | fcntl.LOCK_NB)
        except OSError:
            return False
    return True
