"""A practice brake outlives its page: which one, and what was done, in a private folder.

The folder belongs to the server and goes with it; the browser holds a random key and nothing
of the brake. Where there is no such folder, nothing is kept. No record: nothing is graded or
counted from it.
"""

import hashlib
import json
import logging
import os
from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from widgets.bench.actions import Action
from widgets.bench.actions.codec import BadActionError, from_json
from widgets.bench.session import Event
from widgets.bench.setup import Start

_LOG = logging.getLogger("gap_and_lining")
FOLDER = "GAL_PRACTICE"  # in a kernel's environment: where the server keeps practice brakes
MOST_BRAKES = 400  # in one folder; the one that lay longest goes first
MOST_ACTIONS = 3_000  # of one brake
SEED_BYTES = 32


@dataclass(frozen=True, slots=True)
class Begun:
    """Which brake was set out: the seed that draws it, the size asked for, where the job begins."""

    seed: bytes
    size_name: str | None
    start: Start

    def to_json(self) -> dict[str, Any]:
        """Return it as plain JSON, for the server's own folder."""
        return {"seed": self.seed.hex(), "size": self.size_name, "start": self.start.value}


class Kept:
    """What one browser was practising on.

    Parameters
    ----------
    browser_key : str
        Random and secret; only its hash names the file.
    """

    def __init__(self, browser_key: str) -> None:
        named = os.environ.get(FOLDER, "").strip()
        mark = hashlib.sha256(f"practice {browser_key}".encode()).hexdigest()[:40]
        self._file = Path(named) / f"{mark}.jsonl" if named else None
        self._left = MOST_ACTIONS

    def begin(self, begun: Begun) -> None:
        """Keep which brake was set out; what was kept before is gone."""
        self._left = MOST_ACTIONS
        if self._file is None:
            return
        try:
            self._file.parent.mkdir(mode=0o700, parents=True, exist_ok=True)
            _make_room(self._file.parent)
            self._file.write_text(json.dumps(begun.to_json()) + "\n", encoding="utf-8")
        except OSError as error:
            self._give_up(error)

    def keep(self, event: Event) -> None:
        """Keep one action; where that cannot be, practice goes on without."""
        if self._file is None or self._left <= 0:
            return
        self._left -= 1
        try:
            with self._file.open("a", encoding="utf-8") as file:
                file.write(json.dumps(dict(event.action)) + "\n")
        except OSError as error:
            self._give_up(error)

    def found(self) -> tuple[Begun, tuple[Action, ...]] | None:
        """Return the brake and the actions that are kept, or None."""
        if self._file is None:
            return None
        try:
            first, *lines = self._file.read_text(encoding="utf-8").splitlines()
            return _begun(json.loads(first)), tuple(from_json(json.loads(line)) for line in lines)
        except FileNotFoundError:
            return None
        except (OSError, ValueError, KeyError, TypeError, BadActionError) as error:
            _LOG.warning("a practice brake could not be read: %s", type(error).__name__)
            return None

    def forget(self) -> None:
        """Keep nothing of this browser any more."""
        if self._file is not None:
            self._file.unlink(missing_ok=True)

    def _give_up(self, error: OSError) -> None:
        _LOG.warning("a practice brake is not kept: %s", type(error).__name__)
        self._file = None


def _begun(said: Mapping[str, Any]) -> Begun:
    size = said["size"]
    seed = bytes.fromhex(said["seed"])
    if len(seed) != SEED_BYTES or not isinstance(size, str | None):
        raise ValueError("no practice brake")
    return Begun(seed, size, Start(said["start"]))


def _make_room(folder: Path) -> None:
    files = sorted(folder.glob("*.jsonl"), key=lambda file: file.stat().st_mtime)
    for old in files[: max(0, len(files) + 1 - MOST_BRAKES)]:
        old.unlink(missing_ok=True)
