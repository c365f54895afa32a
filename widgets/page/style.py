"""The style of a part of a page: what all parts share, and then its own."""

from pathlib import Path

_SHARED = Path(__file__).with_name("style.css")


def shared_style() -> str:
    """Return the style that all parts share: tokens with fallbacks, text, keys, fields."""
    return _SHARED.read_text(encoding="utf-8")


def joined_style(*files: Path) -> str:
    """Return the shared style, and after it that of each file, in their order.

    Raises
    ------
    FileNotFoundError
        If there is no such file.
    """
    return "\n".join([shared_style(), *(file.read_text(encoding="utf-8") for file in files)])
