"""A file from the browser, in pieces small enough for one message each, put together again."""

import base64
import binascii
from collections.abc import Mapping
from dataclasses import dataclass

PIECE = 15_000  # characters of base64 in one message; the page's script cuts by the same number
_LONGEST_NAME = 120


@dataclass(frozen=True, slots=True)
class Uploaded:
    """A file as it arrived: from which field, under what name, its bytes."""

    field: str
    name: str
    content: bytes


class Upload:
    """Takes the pieces of one file after another.

    Parameters
    ----------
    most_bytes : int
        How large a file may be; a larger one is refused at its first piece.

    Notes
    -----
    The page sends `{"piece": i, "of": n, "field": ..., "name": ..., "text": base64}`, i from 0.
    """

    def __init__(self, most_bytes: int) -> None:
        self.most_bytes = most_bytes
        self._pieces: list[str] = []

    def take(self, content: Mapping[str, object]) -> Uploaded | None:
        """Return the file when its last piece has come; None before that.

        Raises
        ------
        ValueError
            If it is too large, a piece is out of its order, or what came is not base64.
        """
        at, count, text = content.get("piece"), content.get("of"), content.get("text")
        if not isinstance(at, int) or not isinstance(count, int) or not isinstance(text, str):
            raise ValueError("The file did not arrive whole. Choose it again.")  # noqa: TRY004 - ValueError is the house rule
        most_pieces = -(-4 * self.most_bytes // (3 * PIECE)) + 1
        if not 1 <= count <= most_pieces or len(text) > PIECE:
            self._pieces = []
            raise ValueError(f"The file is larger than {self.most_bytes:,} bytes.")
        if at == 0:
            self._pieces = []
        if at != len(self._pieces) or at >= count:
            self._pieces = []
            raise ValueError("The file did not arrive whole. Choose it again.")
        self._pieces.append(text)
        if len(self._pieces) < count:
            return None
        pieces, self._pieces = "".join(self._pieces), []
        return Uploaded(
            str(content.get("field"))[:40], _plain(content.get("name")), self._bytes(pieces)
        )

    def _bytes(self, pieces: str) -> bytes:
        try:
            found = base64.b64decode(pieces, validate=True)
        except (binascii.Error, ValueError):
            raise ValueError("The file did not arrive whole. Choose it again.") from None
        if len(found) > self.most_bytes:
            raise ValueError(f"The file is larger than {self.most_bytes:,} bytes.")
        return found


def _plain(name: object) -> str:
    """Return a file's name without its folders and without signs that do not print."""
    bare = str(name).replace("\\", "/").rsplit("/", 1)[-1]
    return "".join(sign for sign in bare if sign.isprintable())[:_LONGEST_NAME] or "file"
