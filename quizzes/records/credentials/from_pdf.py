"""The signed record inside a printed one: taken out of the PDF that it was attached to."""

import io

from pypdf import PdfReader
from pypdf.errors import PyPdfError

from quizzes.records.credentials.reading import LARGEST_BYTES, UnreadableError

LARGEST_PDF_BYTES = 5_000_000
ATTACHED = "competency-record.json"
BEGINS = b"%PDF-"


def attached_record(content: bytes, name: str) -> bytes:
    """Return the signed record that a PDF carries.

    Parameters
    ----------
    content : bytes
        The PDF file.
    name : str
        What it is called, for the sentence.

    Raises
    ------
    UnreadableError
        If it is too large, damaged, or carries none.
    """
    if len(content) > LARGEST_PDF_BYTES:
        raise UnreadableError(f"{name} has more than {LARGEST_PDF_BYTES:,} bytes.")
    try:
        found = PdfReader(io.BytesIO(content)).attachments.get(ATTACHED, [])
    except (PyPdfError, ValueError, KeyError, TypeError, AttributeError, RecursionError, OSError):
        raise UnreadableError(f"{name} is a damaged PDF, or was cut off.") from None
    if len(found) != 1:
        raise UnreadableError(f"{name} carries no signed record: expected {ATTACHED} inside it.")
    if len(found[0]) > LARGEST_BYTES:
        raise UnreadableError(f"The record inside {name} is larger than {LARGEST_BYTES:,} bytes.")
    return bytes(found[0])
