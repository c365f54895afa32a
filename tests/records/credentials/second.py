"""A second verifier of `eddsa-jcs-2022`, from the standards alone; it shares no code with ours.

RFC 8032, 5.1.7 (Ed25519 with plain integers), RFC 8785 for objects of texts and truth values only,
base 58 by its alphabet. Slow, and for tests alone.
"""

import hashlib
import json

P = 2**255 - 19
ORDER = 2**252 + 27742317777372353535851937790883648493
D = -121665 * pow(121666, -1, P) % P
SIGNS = "123456789ABCDEFGHJKLMNPQRSTUVWXYZabcdefghijkmnopqrstuvwxyz"


def _add(one, other):
    (x1, y1), (x2, y2) = one, other
    twist = D * x1 * x2 * y1 * y2 % P
    x = (x1 * y2 + x2 * y1) * pow(1 + twist, -1, P) % P
    return x, (y1 * y2 + x1 * x2) * pow(1 - twist, -1, P) % P


def _times(factor, point):
    total = (0, 1)
    while factor:
        if factor & 1:
            total = _add(total, point)
        point, factor = _add(point, point), factor >> 1
    return total


def _point(octets):
    number = int.from_bytes(octets, "little")
    odd, y = number >> 255, number & (1 << 255) - 1
    square = (y * y - 1) * pow(D * y * y + 1, -1, P) % P
    x = pow(square, (P + 3) // 8, P)
    if (x * x - square) % P:
        x = x * pow(2, (P - 1) // 4, P) % P
    if y >= P or (x * x - square) % P:
        raise ValueError("no point of the curve")
    return (P - x if x & 1 != odd else x), y


BASE = _point(bytes.fromhex("58" + "66" * 31))


def ed25519_holds(public, signature, message):
    """Return whether a signature is good (RFC 8032, 5.1.7)."""
    nonce, scalar = signature[:32], int.from_bytes(signature[32:], "little")
    if len(signature) != 64 or scalar >= ORDER:
        return False
    hashed = hashlib.sha512(nonce + public + message).digest()
    factor = int.from_bytes(hashed, "little") % ORDER
    return _times(scalar, BASE) == _add(_point(nonce), _times(factor, _point(public)))


def base58(text):
    """Return the bytes of a base 58 text with its leading z."""
    number = 0
    for sign in text[1:]:
        number = 58 * number + SIGNS.index(sign)
    ones = len(text[1:]) - len(text[1:].lstrip("1"))
    return bytes(ones) + number.to_bytes((number.bit_length() + 7) // 8, "big")


def canonical(found):
    """Return JSON of objects, lists, texts and truth values in canonical form (RFC 8785)."""
    return json.dumps(found, sort_keys=True, separators=(",", ":"), ensure_ascii=False).encode()


def holds(credential):
    """Return whether the credential's `eddsa-jcs-2022` proof is its issuer's."""
    said = {name: value for name, value in credential.items() if name != "proof"}
    proof = next(p for p in credential["proof"] if p["cryptosuite"] == "eddsa-jcs-2022")
    options = {name: value for name, value in proof.items() if name != "proofValue"}
    key = base58(credential["issuer"]["id"].removeprefix("did:key:"))
    if (
        key[:2] != b"\xed\x01"
        or proof["verificationMethod"].split("#")[0] != (credential["issuer"]["id"])
    ):
        return False
    message = b"".join(hashlib.sha256(canonical(part)).digest() for part in (options, said))
    return ed25519_holds(key[2:], base58(proof["proofValue"]), message)
