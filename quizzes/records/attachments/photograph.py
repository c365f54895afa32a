"""A photograph as it is handed in: looked at before it is kept, and kept with its digest."""

import hashlib
import io
import warnings
from dataclasses import dataclass

from PIL import Image, UnidentifiedImageError

LARGEST_BYTES = 15_000_000
MOST_PIXELS = 60_000_000  # a telephone's camera has some 12 to 50 million
LEAST_SIDE_PX = 100
KINDS = {"JPEG": "image/jpeg", "PNG": "image/png", "WEBP": "image/webp"}


class NoPhotographError(ValueError):
    """A file is not a photograph that can be kept: which, what was expected, what it is."""


@dataclass(frozen=True, slots=True)
class Photograph:
    """A photograph that was looked at.

    Parameters
    ----------
    media_type : str
        `image/jpeg`, `image/png` or `image/webp`, by its content, whatever it is called.
    width_px, height_px : int
        Its size.
    size_bytes : int
        Of the file as handed in.
    sha256 : str
        Of the file as handed in, 64 hexadecimal digits.
    """

    media_type: str
    width_px: int
    height_px: int
    size_bytes: int
    sha256: str


def photograph(content: bytes, name: str) -> Photograph:
    """Return what a photograph is, if it is one.

    Parameters
    ----------
    content : bytes
        The file as handed in.
    name : str
        What it is called, for the sentence.

    Raises
    ------
    NoPhotographError
        If it is too large, another kind of file, damaged, moving, tiny, or unpacks without end.

    Notes
    -----
    The whole picture is decoded, not its head alone: a cut-off file has a good head.
    """
    called = f"{name[:60]!r}"
    if len(content) > LARGEST_BYTES:
        raise NoPhotographError(
            f"{called} has {len(content):,} bytes; a photograph may have {LARGEST_BYTES:,}."
        )
    try:
        kind, width_px, height_px = _looked_at(content, called)
    except UnidentifiedImageError:
        raise NoPhotographError(
            f"{called} is not a photograph: expected JPEG, PNG or WebP by its content."
        ) from None
    except Image.DecompressionBombError:
        raise NoPhotographError(
            f"{called} has far more pixels than {MOST_PIXELS:,}, the most a photograph may have."
        ) from None
    except NoPhotographError:
        raise
    except (OSError, SyntaxError, ValueError):
        raise NoPhotographError(f"{called} is a damaged picture, or was cut off.") from None
    return Photograph(
        KINDS[kind], width_px, height_px, len(content), hashlib.sha256(content).hexdigest()
    )


def _looked_at(content: bytes, called: str) -> tuple[str, int, int]:
    with warnings.catch_warnings():
        warnings.simplefilter("ignore", Image.DecompressionBombWarning)  # counted below
        with Image.open(io.BytesIO(content), formats=list(KINDS)) as picture:
            width_px, height_px = picture.size
            if width_px * height_px > MOST_PIXELS:
                raise NoPhotographError(
                    f"{called} has {width_px} by {height_px} pixels; "
                    f"a photograph may have {MOST_PIXELS:,} in all."
                )
            if min(width_px, height_px) < LEAST_SIDE_PX:
                raise NoPhotographError(
                    f"{called} has {width_px} by {height_px} pixels; "
                    f"a photograph has {LEAST_SIDE_PX} at least each way."
                )
            if getattr(picture, "n_frames", 1) != 1:
                raise NoPhotographError(f"{called} is a moving picture; expected a still one.")
            kind = picture.format or ""
            picture.load()
    return kind, width_px, height_px
