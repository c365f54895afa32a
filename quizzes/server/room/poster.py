"""What the class sees first: the address, as words and as a code for a camera."""

from collections.abc import Sequence
from typing import Any

import segno
from tornado.web import HTTPError

from quizzes.records.room.rows import CLOSED
from quizzes.server.border.origins import is_this_machine
from quizzes.server.navigation import PEOPLE

from .address import Classroom

POSTER = "suite_poster"  # among a server's settings
NO_CODE = "none yet: the trainer sets up a class on the page Class"
QUIET = 4  # modules of white around a code, ISO/IEC 18004 (from memory)


def code_svg(address: str) -> str:
    """Return an address as a QR code, drawn in the page's own ink.

    Parameters
    ----------
    address : str
        What a camera is to read.
    """
    code = segno.make(address, error="m", micro=False)
    return str(code.svg_inline(border=QUIET, light="#fff", dark="#000", omitsize=True))


def code_lines(address: str) -> str:
    """Return an address as a QR code of characters, for a terminal."""
    code = segno.make(address, error="l", micro=False)
    rows = [list(row) for row in code.matrix_iter(border=QUIET)]
    rows += [[0] * len(rows[0])] * (len(rows) % 2)
    # Two rows to a line, dark where a terminal is light: white paper is drawn, ink is left out.
    marks = {(0, 0): "█", (0, 1): "▀", (1, 0): "▄", (1, 1): " "}
    pairs = zip(rows[::2], rows[1::2], strict=True)
    return "\n".join("".join(marks[pair] for pair in zip(*two, strict=True)) for two in pairs)


def told(classroom: Classroom, port: int, mark: str, codes: Sequence[str]) -> str:
    """Return what the trainer reads in the terminal.

    Parameters
    ----------
    classroom : Classroom
        Where the class finds the server.
    port : int
        Its port.
    mark : str
        The certificate's fingerprint, to compare; empty without one.
    codes : sequence of str
        Codes of the classes that are open.
    """
    door = classroom.front_door(port)
    scheme = "https" if classroom.secure else "http"
    lines = [
        f"For the class: {door}",
        code_lines(door),
        f"Show it on the projector: {scheme}://127.0.0.1:{port}/classroom",
        f"Class code: {', '.join(codes) or NO_CODE}.",
    ]
    if mark:
        which = "Certificate for today" if classroom.for_a_day else "Certificate"
        lines.append(f"{which} (SHA-256): {mark}")
    else:
        lines.append(
            "Without a certificate, the pages for trainers and assessors open on this machine only."
        )
    return "\n".join(lines) + "\n"


def poster(handler: Any) -> dict[str, Any]:  # noqa: ANN401 - a tornado handler
    """Return what the page for the projector shows.

    Raises
    ------
    HTTPError
        404 where there is no class, or for another machine of the room.
    """
    classroom, port = handler.settings.get(POSTER) or (None, 0)
    if classroom is None or not is_this_machine(handler.request.remote_ip, (classroom.address,)):
        raise HTTPError(404)
    door = classroom.front_door(port)
    known = handler.settings[PEOPLE].store.classes()
    return {
        "door": door,
        "code": code_svg(door),
        "classes": [(one.code, one.name) for one in known if one.state != CLOSED],
        "no_code": NO_CODE,
        "secure": classroom.secure,
        "for_a_day": classroom.for_a_day,
    }
