"""What is right of a question as drawn, in numbers, places and words; and what mistakes lead to."""

import math
from collections.abc import Iterable

from widgets.brake.judgement.rules import Conclusion, conclude

from .items import Choice, Decide, Mark, Numeric, Order, Scale, WrongNumber
from .pictures import DRAWINGS
from .posing import Hidden, filled, number_of
from .scales import INSTRUMENTS
from .scheme import OUTCOMES

_SLACK = 1e-9  # of a tolerance written in decimals and kept in binary


def tolerance_of(body: Numeric | Scale, right: float) -> float:
    """Return what may be off either way, in the unit of the answer."""
    share = body.tolerance_share if isinstance(body, Numeric) else 0.0
    return max(body.tolerance, share * abs(right)) + _SLACK


def wrong_numbers(hidden: Hidden) -> list[tuple[float, str]]:
    """Return the numbers that known mistakes lead to, with what each shows."""
    body = hidden.item.body
    assert isinstance(body, Numeric | Scale)
    own: tuple[WrongNumber, ...] = body.wrong
    found = [(number_of(one.value, hidden.values), one.catches) for one in own]
    if isinstance(body, Scale):
        value = number_of(body.answer, hidden.values)
        found += INSTRUMENTS[body.instrument].mistakes(value, hidden.draws.child("scale"))
    return found


def right_places(hidden: Hidden) -> list[str]:
    """Return the ids of the places that are right in this draw."""
    body = hidden.item.body
    assert isinstance(body, Mark)
    return [filled(place, hidden.values) for place in body.right]


def conclusion(hidden: Hidden) -> Conclusion:
    """Return what the rule of the trade concludes today from the readings of this draw."""
    gaps, discs = hidden.values["gaps"], hidden.values["discs"]
    assert hidden.size is not None
    assert isinstance(gaps, tuple)
    assert isinstance(discs, tuple)
    return conclude(hidden.size, gaps, discs)


def right_outcome(hidden: Hidden) -> str:
    """Return the outcome that was right when the question was drawn, a key of `OUTCOMES`."""
    return str(hidden.values["outcome"])


def right_answer(hidden: Hidden) -> str:
    """Return the right answer in words."""
    values = hidden.values
    match hidden.item.body:
        case Choice(options):
            return "; ".join(filled(one.text, values) for one in options if one.right)
        case Numeric() as body:
            right = number_of(body.answer, values)
            space = "" if body.unit == "°" else " "
            return f"{right:.{body.decimals}f}{space}{body.unit}".replace("-", "−")
        case Scale() as body:
            step = INSTRUMENTS[body.instrument].step_mm
            return f"{number_of(body.answer, values):.{max(0, -math.floor(math.log10(step)))}f} mm"
        case Order(steps):
            return " → ".join(filled(step, values) for step in steps)
        case Mark() as body:
            return _place_names(body, right_places(hidden))
        case Decide():
            return OUTCOMES[right_outcome(hidden)]


def _place_names(body: Mark, wanted: list[str]) -> str:
    names = {place.id: place.name for place in DRAWINGS[body.drawing].places}
    return "; ".join(names[place] for place in wanted)


def right_json(hidden: Hidden) -> dict[str, object]:
    """Return what the page would send for the right answer: for virtual candidates and tests."""
    match hidden.item.body:
        case Choice(options, several):
            right = _letters(hidden, [at for at, one in enumerate(options) if one.right])
            return {"choices": right} if several else {"choice": right[0]}
        case Order(steps):
            return {"order": _letters(hidden, range(len(steps)))}
        case Mark():
            return {"place": right_places(hidden)[0]}
        case Decide():
            return {"choice": right_outcome(hidden)}
        case Numeric(answer=answer) | Scale(answer=answer):
            return {"value": number_of(answer, hidden.values)}


def _letters(hidden: Hidden, places: Iterable[int]) -> list[str]:
    """Return the letters under which options or steps, from 0, are shown."""
    by_place = {place: letter for letter, place in hidden.places.items()}
    return [by_place[place] for place in places]
