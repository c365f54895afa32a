"""The code on a slip of paper that brings a person back to their sitting."""

import hashlib
import hmac
import secrets

# 30 signs: no 0 O, 1 I L, or U beside V, so that it survives being read aloud and handwriting.
ALPHABET = "23456789ABCDEFGHJKMNPQRSTVWXYZ"
GROUPS = 3
GROUP_LENGTH = 4


def new_return_code() -> str:
    """Return three groups of four characters, newly drawn: 12 log2(30) = 58.9 bits.

    Returns
    -------
    str
        Like `7K3M-XQ2P-9RTB`.
    """
    groups = ("".join(secrets.choice(ALPHABET) for _ in range(GROUP_LENGTH)) for _ in range(GROUPS))
    return "-".join(groups)


def return_code_sha256(code: str) -> str | None:
    """Return the hash under which a typed code is stored.

    Parameters
    ----------
    code : str
        As typed: small letters, spaces and dashes make no difference.

    Returns
    -------
    str or None
        64 hexadecimal digits; None if it cannot be a code.

    Notes
    -----
    A plain hash is enough for a drawn code of 58.9 bits where it would not be for a chosen
    password: there is no dictionary to try. Who holds the file can read the sitting anyway.
    """
    if not isinstance(code, str) or len(code) > 80:
        return None
    signs = "".join(code.split()).replace("-", "").upper()
    if len(signs) != GROUPS * GROUP_LENGTH or any(sign not in ALPHABET for sign in signs):
        return None
    return hashlib.sha256(b"gap-and-lining return code " + signs.encode("ascii")).hexdigest()


def same_hash(one: str, other: str) -> bool:
    """Return whether two hashes are equal, in a time that does not tell where they differ.

    Parameters
    ----------
    one, other : str
        Hexadecimal digits.

    Returns
    -------
    bool
        True if equal.
    """
    return hmac.compare_digest(one.encode(), other.encode())
