"""One spelling for each JSON object: RFC 8785, the JSON Canonicalization Scheme."""

import json
from typing import Any

import rfc8785

EVENT_LIMIT_BYTES = 64 * 1024  # an action comes from a browser: what is larger is not an action
JUDGEMENT_LIMIT_BYTES = 1024 * 1024  # a grade with its reasons is written by our own code
KEPT_LIMIT_BYTES = 8 * 1024 * 1024  # all that a sitting needs: a full form takes 140 kB


def canonical(name: str, value: object, limit_bytes: int = EVENT_LIMIT_BYTES) -> str:
    """Return the one JSON text of an object.

    Parameters
    ----------
    name : str
        The argument as its caller knows it.
    value : dict
        Strings for keys; texts, finite numbers, booleans, None, lists and dicts in it. A tuple
        is written as a list.
    limit_bytes : int
        The longest text allowed, bytes.

    Returns
    -------
    str
        Keys sorted, no spaces; a NUL stays an escape, which any database can hold.

    Raises
    ------
    ValueError
        If it is no such object, holds NaN, infinity, half a surrogate pair or a whole number
        beyond 2**53, is nested too deeply or is too long.

    Notes
    -----
    Numbers are those of IEEE 754 doubles: 1.0 is written as 1, -0.0 as 0.
    """
    if not isinstance(value, dict):
        raise ValueError(f"{name} must be an object (dict), got {type(value).__name__}")  # noqa: TRY004 - ValueError is the house rule
    try:
        spelt = spelt_fast(value) or rfc8785.dumps(value)
    except RecursionError:
        raise ValueError(f"{name} must be nested at most a few hundred deep") from None
    except (rfc8785.CanonicalizationError, TypeError, ValueError, AttributeError) as error:
        _refuse_odd_keys(name, value)
        raise ValueError(f"{name} must be plain JSON with finite numbers: {error}") from None
    if len(spelt) > limit_bytes:
        raise ValueError(f"{name} must be <= {limit_bytes} bytes of JSON, got {len(spelt)}")
    return spelt.decode()


class _Odd(Exception):  # noqa: N818 - it never leaves this module
    """A value that only the library of RFC 8785 spells, or refuses."""


def spelt_fast(value: object) -> bytes | None:
    """Return the canonical spelling where the standard library's writer gives the same one.

    Parameters
    ----------
    value : object
        Plain JSON.

    Returns
    -------
    bytes or None
        None for whatever is spelt otherwise, or perhaps not at all.

    Notes
    -----
    Each act of a candidate waits for this; the writer in C takes a tenth of the time.
    """
    try:
        tame = _tame(value)
        text = json.dumps(tame, ensure_ascii=False, sort_keys=True, separators=(",", ":"))
        return text.encode()
    except (_Odd, UnicodeEncodeError):
        return None


def _tame(value: Any) -> Any:  # noqa: ANN401 - any JSON
    """Return JSON in which each number is written alike by both writers."""
    kind = type(value)
    if kind is str or value is None or kind is bool:
        return value
    if kind is int and -_EXACT < value < _EXACT:
        return value
    if kind is float and value == value // 1 and abs(value) < _EXACT:
        return int(value)
    if kind is float and _PLAIN_FROM <= abs(value) < _PLAIN_TO:
        return value
    if kind is dict and all(type(key) is str and key.isascii() for key in value):
        return {key: _tame(one) for key, one in value.items()}
    if kind is list or kind is tuple:
        return [_tame(one) for one in value]
    raise _Odd


_EXACT = 2**53  # whole numbers below it are exact in a double
_PLAIN_FROM, _PLAIN_TO = 1e-4, 1e16  # Python writes these without an exponent, as ECMAScript does


def _refuse_odd_keys(name: str, value: object) -> None:
    """JSON would turn the key 1 into "1", and a replay would then read something else."""
    waiting = [value]
    while waiting:
        item = waiting.pop()
        if isinstance(item, dict):
            for key in item:
                if not isinstance(key, str):
                    raise ValueError(f"{name} must have texts for keys, got {key!r:.60}")  # noqa: TRY004 - ValueError is the house rule
            waiting.extend(item.values())
        elif isinstance(item, (list, tuple)):
            waiting.extend(item)


def parsed_object(text: str) -> dict[str, Any]:
    """Return the object that `canonical` wrote.

    Parameters
    ----------
    text : str
        A JSON object.

    Returns
    -------
    dict
        Fresh: to change it changes nothing stored.

    Raises
    ------
    ValueError
        If it is none.
    """
    try:
        found = json.loads(text)
    except RecursionError:
        raise ValueError("it is nested too deeply") from None
    if not isinstance(found, dict):
        raise ValueError(f"expected an object, got {type(found).__name__}")  # noqa: TRY004 - ValueError is the house rule
    return found
