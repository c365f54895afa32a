"""One spelling for each JSON object, and the hash that chains one log entry to the next."""

import hashlib
import json
from typing import Any

EVENT_LIMIT_BYTES = 64 * 1024  # an action comes from a browser: what is larger is no action
JUDGEMENT_LIMIT_BYTES = 1024 * 1024  # a grade with its reasons is written by our own code


def canonical(name: str, value: object, limit_bytes: int = EVENT_LIMIT_BYTES) -> str:
    """Return the one JSON text of an object: keys sorted, no spaces, ASCII.

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
        ASCII: a NUL or half a surrogate pair stays an escape, which any database can hold.

    Raises
    ------
    ValueError
        If it is no such object, holds NaN or infinity, is nested too deeply or is too long.
    """
    if not isinstance(value, dict):
        raise ValueError(f"{name} must be an object (dict), got {type(value).__name__}")  # noqa: TRY004 - ValueError is the house rule
    try:
        text = json.dumps(value, sort_keys=True, separators=(",", ":"), allow_nan=False)
    except RecursionError:
        raise ValueError(f"{name} must be nested at most a few hundred deep") from None
    except (TypeError, ValueError) as error:
        raise ValueError(f"{name} must be plain JSON with finite numbers: {error}") from error
    if len(text) > limit_bytes:
        raise ValueError(f"{name} must be <= {limit_bytes} bytes of JSON, got {len(text)}")
    _refuse_odd_keys(name, value)
    return text


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
    """
    found: dict[str, Any] = json.loads(text)
    return found


def link_sha256(previous_sha256: str, facts: dict[str, object]) -> str:
    """Return the hash of one entry: SHA-256 over the previous hash and this entry's facts.

    Parameters
    ----------
    previous_sha256 : str
        64 hexadecimal digits, or empty before the first.
    facts : dict
        All that the entry states.

    Returns
    -------
    str
        64 hexadecimal digits.

    Notes
    -----
    The previous hash has a fixed length, so no two pairs run together to the same bytes.

    Source: NIST FIPS 180-4 (2015) for SHA-256.
    """
    body = json.dumps(facts, sort_keys=True, separators=(",", ":"), allow_nan=False)
    return hashlib.sha256((previous_sha256 + body).encode("ascii")).hexdigest()
