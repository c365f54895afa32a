"""Numbers as a person reads them: what is printed is what the key is computed from."""

import operator
import re
from collections.abc import Callable, Iterator

from .posing import Hidden, format_of, placeholders

PRINTED_SHARE = 1e-5  # of a number: six digits, as `{name:g}` prints them
_UNIT = r"(?:\s?(?:mm|N·m|N|V|Ω|°C|°|%|kg|g|A|W|J|s|ms|days?|turns?|mm/s))?"
_NUMBER = r"−?\d+(?:\.\d+)?"
_SUM = re.compile(rf"({_NUMBER}{_UNIT}(?:\s[+−×/]\s{_NUMBER}{_UNIT})+)\s=\s({_NUMBER})")
_SIGNS: dict[str, Callable[[float, float], float]] = {
    "+": operator.add,
    "−": operator.sub,
    "×": operator.mul,
    "/": operator.truediv,
}


def not_as_printed(hidden: Hidden) -> Iterator[str]:
    """Return which numbers a question prints otherwise than it uses them, a sentence each."""
    for name, form in placeholders(hidden.item.text):
        value = hidden.values.get(name)
        if isinstance(value, bool) or not isinstance(value, int | float):
            continue
        printed = format_of(value, form)
        if abs(float(printed.replace("−", "-")) - value) > PRINTED_SHARE * abs(value) + 1e-9:
            yield f"prints {printed} for {name}, and calculates with {value!r}"


def wrong_sums(told: str) -> Iterator[str]:
    """Return the sums of a text that do not come out with the numbers that it prints."""
    for found in _SUM.finditer(told):
        decimals = len(found[2].partition(".")[2])
        value = _worked_out(found[1])
        if abs(value - _number(found[2])) > 0.5 * 10**-decimals * (1 + 1e-9) + 1e-9:
            yield f"the sum {found[0]!r} does not come out: it makes {value:.4g}"


def _worked_out(text: str) -> float:
    """Return a sum with times and over before plus and minus, units left out."""
    parts = re.split(r"\s([+−×/])\s", text)
    values, signs = [_number(parts[0])], []
    for sign, one in zip(parts[1::2], parts[2::2], strict=True):
        if sign in "×/":
            values[-1] = _SIGNS[sign](values[-1], _number(one))
        else:
            signs.append(sign)
            values.append(_number(one))
    total = values[0]
    for sign, value in zip(signs, values[1:], strict=True):
        total = _SIGNS[sign](total, value)
    return total


def _number(text: str) -> float:
    found = re.match(_NUMBER, text)
    assert found is not None
    return float(found[0].replace("−", "-"))
