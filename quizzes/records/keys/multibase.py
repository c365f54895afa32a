"""Bytes as text in base 58, as keys and proofs are written.

Source: W3C Controlled Identifiers 1.0 (2025), section 2.4 (Multibase, base-58-btc).
"""

ALPHABET = "123456789ABCDEFGHJKLMNPQRSTUVWXYZabcdefghijkmnopqrstuvwxyz"
LONGEST = 256  # signs; a signature needs 88, and the cost of decoding grows with the square
_VALUES = {sign: value for value, sign in enumerate(ALPHABET)}


def encoded(payload: bytes) -> str:
    """Return bytes in base 58, with the `z` that names the base.

    Examples
    --------
    >>> encoded(b"Hello World!")
    'z2NEpo7TZRRrLZSi2U'
    """
    number, signs = int.from_bytes(payload), ""
    while number:
        number, rest = divmod(number, len(ALPHABET))
        signs = ALPHABET[rest] + signs
    zeros = len(payload) - len(payload.lstrip(b"\0"))
    return "z" + ALPHABET[0] * zeros + signs


def decoded(text: str) -> bytes:
    """Return the bytes that `encoded` wrote.

    Raises
    ------
    ValueError
        If the text is not `z` and base 58, or is longer than 256 signs.
    """
    if not isinstance(text, str) or not text.startswith("z") or len(text) > LONGEST:
        raise ValueError(f"expected z and at most {LONGEST - 1} signs of base 58, got {text!r:.20}")
    number = 0
    for sign in text[1:]:
        if sign not in _VALUES:
            raise ValueError(f"base 58 has no sign {sign!r}")
        number = number * len(ALPHABET) + _VALUES[sign]
    zeros = len(text[1:]) - len(text[1:].lstrip(ALPHABET[0]))
    return b"\0" * zeros + number.to_bytes((number.bit_length() + 7) // 8)
