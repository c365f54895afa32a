"""Who is meant: a pseudonym, in one spelling."""

import uuid


def pseudonym(found: object) -> str:
    """Return a person's pseudonym in its usual spelling.

    Raises
    ------
    ValueError
        If it is not a UUID.
    """
    try:
        return str(uuid.UUID(str(found)))
    except ValueError:
        raise ValueError(f"a person must be named by a UUID, got {found!r:.40}") from None
