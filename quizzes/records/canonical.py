"""One spelling for each JSON object: RFC 8785, the JSON Canonicalization Scheme."""

import json
from typing import Any

import rfc8785

EVENT_LIMIT_BYTES = 64 * 1024  # an action comes from a browser: what is larger is no action
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
        spelt = rfc8785.dumps(value)
    except RecursionError:
        raise ValueError(f"{name} must be nested at most a few hundred deep") from None
    except (rfc8785.CanonicalizationError, TypeError, ValueError, AttributeError) as error:
        _refuse_odd_keys(name, value)
        raise ValueError(f"{name} must be plain JSON with finite numbers: {error}") from None
    if len(spelt) > limit_bytes:
        raise ValueError(f"{name} must be <= {limit_bytes} bytes of JSON, got {len(spelt)}")
    return spelt.decode()


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
    found = json.loads(text)
    if not isinstance(found, dict):
        raise ValueError(f"expected an object, got {type(found).__name__}")  # noqa: TRY004 - ValueError is the house rule
    return found
