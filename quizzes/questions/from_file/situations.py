"""Make what a question draws: ranges for its model, situations that decide what is right."""

from collections.abc import Mapping

from quizzes.questions.items import Body, Choice, Decide, Mark, Parameter, Range, Situation
from quizzes.questions.models import MODELS
from widgets.brake.sizes.readable import Place

from .tables import Draw, ItemTable, RangeTable, SituationTable
from .unfit import UnfitError


def situations_of(table: ItemTable, body: Body) -> tuple[Situation, ...]:
    """Return the situations of a question; none if it has one right answer for good.

    Raises
    ------
    UnfitError
        If a situation does not say what is right, or an option is right in none.
    """
    if table.situation and not isinstance(body, Choice | Mark | Decide):
        expected = "none: only options, places and decisions may change"
        raise UnfitError(("situation",), expected)
    found = tuple(
        _situation(one, ("situation", at), body, table.model or "")
        for at, one in enumerate(table.situation or ())
    )
    if isinstance(body, Choice):
        for at in range(1, len(body.options) + 1):
            rights = {at in one.right for one in found}
            if found and not body.several and rights != {True, False}:
                raise UnfitError(("situation",), f"one in which option {at} is right")
    if found and isinstance(body, Choice | Mark) and len({_key(one) for one in found}) < 2:
        raise UnfitError(("situation",), "situations that differ in what is right")
    return found


def _key(one: Situation) -> tuple[object, ...]:
    return (*one.right, *one.places)


def _situation(table: SituationTable, place: Place, body: Body, model: str) -> Situation:
    if table.when and not model:
        raise UnfitError((*place, "when"), "no verdict: there is no model to come to it")
    return Situation(
        text=table.text,
        right=_right(table, place, body),
        places=_places(table, place, body),
        when=table.when,
        why=table.why,
        draw=parameters(table.draw, (*place, "draw"), model),
        catches=_catches(table, place, body),
    )


def _right(table: SituationTable, place: Place, body: Body) -> tuple[int, ...]:
    if not isinstance(body, Choice):
        return _none_of(table.right, (*place, "right"))
    count, right = len(body.options), table.right
    good = all(type(one) is int and 1 <= one <= count for one in right)
    some = 1 <= len(set(right)) < count if body.several else len(right) == 1
    if not good or not some:
        wanted = "numbers of right options, not all" if body.several else "one number"
        raise UnfitError((*place, "right"), f"a list of {wanted}, from 1 to {count}")
    return tuple(right)


def _places(table: SituationTable, place: Place, body: Body) -> tuple[str, ...]:
    if not isinstance(body, Mark):
        return _none_of(table.places, (*place, "places"))
    if not table.places or not set(table.places) <= set(body.right):
        expected = f"some of the question’s own: {', '.join(body.right)}"
        raise UnfitError((*place, "places"), expected)
    return tuple(table.places)


def _none_of(given: list[str] | list[int] | None, place: Place) -> tuple[()]:
    """Refuse what another kind of question says."""
    if given:
        raise UnfitError(place, "nothing: another kind of question has it")
    return ()


def _catches(table: SituationTable, place: Place, body: Body) -> Mapping[int, str]:
    numbers = range(1, len(body.options) + 1) if isinstance(body, Choice) else range(0)
    for name in table.catches:
        if name not in map(str, numbers):
            raise UnfitError((*place, "catches", name), "no such field here, only option numbers")
    return {int(name): words for name, words in table.catches.items()}


def parameters(draw: Draw, place: Place, model: str) -> Mapping[str, Parameter]:
    """Return what is drawn for a model, by name.

    Raises
    ------
    UnfitError
        If there is no model, it uses no such name, or a range cannot be.
    """
    if draw and not model:
        raise UnfitError(place, "a model beside it: only a model uses what is drawn")
    wanted = MODELS[model].parameters if model else ()
    for name in draw:
        if name not in wanted:
            expected = f"one of what model {model} uses: {', '.join(wanted) or '-'}"
            raise UnfitError((*place, name), expected)
    return {name: _parameter(one, (*place, name)) for name, one in draw.items()}


def complete(draw: Mapping[str, Parameter], model: str) -> None:
    """Refuse a question that draws less than its model uses."""
    for name in MODELS[model].parameters if model else ():
        if name not in draw:
            raise UnfitError(("draw", name), f"a range or a list: model {model} uses it")


def _parameter(drawn: RangeTable | tuple[str | float, ...], place: Place) -> Parameter:
    if isinstance(drawn, tuple):
        return drawn
    if drawn.low > drawn.high or (drawn.high - drawn.low) / drawn.step > 10_000:
        raise UnfitError(place, "from <= to, in at most 10000 steps")
    return Range(drawn.low, drawn.high, drawn.step)
