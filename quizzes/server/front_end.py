"""The front end in one script, joined when the server starts, instead of some ninety.

The library's front end comes in small parts, each of which is asked for by itself. Parts that
are there before it looks for them are not asked for; so one script brings them all, and pages
name it in their head, where a browser fetches it beside the work of the page's kernel.
"""

import gzip
import hashlib
import re
from collections.abc import Iterable, Iterator
from pathlib import Path
from typing import NamedTuple

from tornado.web import RequestHandler

from .front_end_parts import EXTENSIONS, MAIN

A_YEAR_S = 31_536_000
SQUEEZE = 6  # of 9: a quarter of the size for a tenth of a second, once
# How the library waits: `for(;...;){if(void 0!==(t=this._models[e]))return t;await ...}throw`.
_GIVES_UP = re.compile(
    rb"(if\(void 0!==\((\w+)=this\._models\[\w+\]\)\)return \2;)(await [^}]{1,80}\})"
    rb"(?=throw (?:new )?Error\(.widget model not found.\))"
)
# How long the library gives a drawing's script to begin: `AbortSignal.timeout(2000)...reject(...)`.
_BEGINS_IN_TIME = re.compile(
    rb"(AbortSignal\.timeout\()(?:2e3|2000)(?=\)\.addEventListener\(\W*abort\W+[^;]{0,120}"
    rb"reject\(new Error\(.{0,20}Failed to initialize model)"
)
PATIENCE = b"6e4"  # milliseconds


class FrontEnd(NamedTuple):
    """The joined script, squeezed, and its name, which changes with its text."""

    name: str
    squeezed: bytes

    @property
    def script(self) -> bytes:
        """The script as a browser reads it."""
        return gzip.decompress(self.squeezed)


def joined(parts: Iterable[str], static: Iterable[Path], extensions: Iterable[Path]) -> FrontEnd:
    """Return one script of many.

    Parameters
    ----------
    parts : iterable of str
        `static/...` or `labextensions/...`, with stars.
    static, extensions : iterable of Path
        The folders in which each kind is looked for, the first one first.

    Returns
    -------
    FrontEnd
        Empty if the front end's own first script is not among what was found: a page then
        loads that one and all the others by itself.
    """
    found = dict(_found(parts, tuple(static), tuple(extensions)))
    main = found.pop(MAIN, None)
    if main is None:
        return NONE
    # Each part keeps its own rules ("use strict"); the first script's names are the page's.
    texts = [b"(()=>{" + text + b"\n})();\n" for text in found.values()]
    script = waiting_longer(looking_once_more(b"".join([*texts, main])))
    name = f"front.{hashlib.sha256(script).hexdigest()[:16]}.js"
    return FrontEnd(name, gzip.compress(script, SQUEEZE, mtime=0))


def looking_once_more(script: bytes) -> bytes:
    """Return a script that looks for a model once more before it says that there is none.

    The library looks every 100 ms for 2 s, sleeps, and gives up without looking again; a model that
    came in that last sleep shows as "Error displaying widget". On a busy machine, where a page's
    models come about two seconds after its text, that befell one page in ten. Where the library's
    text is another one, nothing is changed.
    """
    return _GIVES_UP.sub(rb"\1\3\1", script)


def waiting_longer(script: bytes) -> bytes:
    """Return a script that gives a drawing a minute to begin, not 2 s.

    A slow tablet, or a machine on which a class works, takes longer than that to read a page's
    scripts; the drawing then stayed away for good. Where the library's text is another one, nothing
    is changed.
    """
    return _BEGINS_IN_TIME.sub(rb"\g<1>" + PATIENCE, script)


NONE = FrontEnd("", gzip.compress(b""))


def _found(
    parts: Iterable[str], static: tuple[Path, ...], extensions: tuple[Path, ...]
) -> Iterator[tuple[str, bytes]]:
    for part in parts:
        kind, _, path = part.partition("/")
        folders = extensions if kind == EXTENSIONS else static
        for folder in folders:
            there = sorted(folder.glob(path))
            if there:
                yield part, there[0].read_bytes()
                break


class FrontEndFile(RequestHandler):
    """Serves the joined script from memory, to be kept for as long as its name stands."""

    def initialize(self, front_end: FrontEnd) -> None:
        """Take the script, as the server's list of addresses gives it."""
        self.front_end = front_end

    def get(self) -> None:
        """Send the script."""
        self.set_header("Content-Type", "text/javascript; charset=UTF-8")
        self.set_header("Cache-Control", f"public, max-age={A_YEAR_S}, immutable")
        self.set_header("Vary", "Accept-Encoding")
        if "gzip" in self.request.headers.get("Accept-Encoding", ""):
            self.set_header("Content-Encoding", "gzip")
            self.finish(self.front_end.squeezed)
        else:
            self.finish(self.front_end.script)
