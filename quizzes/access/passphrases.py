"""Passphrases, kept as Argon2id hashes (RFC 9106) by a library that is looked after."""

from argon2 import PasswordHasher
from argon2.exceptions import InvalidHashError, VerificationError

SHORTEST, LONGEST = 12, 200  # characters: four words, and what nobody types
_HASHER = PasswordHasher()  # the library's own defaults follow RFC 9106, section 4


class PassphraseError(ValueError):
    """The passphrase cannot be; the message says what was expected, and never repeats it."""


def hashed(passphrase: str, again: str) -> str:
    """Return what is kept of a new passphrase.

    Parameters
    ----------
    passphrase, again : str
        As typed twice.

    Raises
    ------
    PassphraseError
        If they differ, or it is too short, too long or one sign over and over.
    """
    if passphrase != again:
        raise PassphraseError("The two passphrases differ. Type the same one twice.")
    if len(passphrase) < SHORTEST or len(set(passphrase)) < 5:
        raise PassphraseError(
            f"The passphrase is too short or too plain. Take {SHORTEST} characters or more, for "
            "example four words that do not belong together."
        )
    if len(passphrase) > LONGEST:
        raise PassphraseError(f"The passphrase is longer than {LONGEST} characters.")
    return _HASHER.hash(passphrase)


def fits(kept: str | None, passphrase: str) -> bool:
    """Return whether a typed passphrase is the one that was kept.

    Parameters
    ----------
    kept : str or None
        Its hash; None for a name that nobody has, which takes as long.
    passphrase : str
        As typed.
    """
    typed = passphrase[: 2 * LONGEST]
    if kept is None:
        _HASHER.hash(typed)  # the same work as a comparison
        return False
    try:
        return _HASHER.verify(kept, typed)
    except (VerificationError, InvalidHashError):
        return False
