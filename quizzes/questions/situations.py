"""Read what a question draws: ranges for its model, situations that decide what is right."""

from collections.abc import Mapping

from .fields import Fields, is_number
from .items import Body, Choice, Decide, Mark, Parameter, Range, Situation
from .models import MODELS


def situations_of(fields: Fields, body: Body, model: str) -> tuple[Situation, ...]:
    """Return the situations of a question; none if it has one right answer for good.

    Raises
    ------
    BankError
        If a situation does not say what is right, or an option is right in none.
    """
    tables = fields.tables("situation", 2) if "situation" in fields.table else []
    if tables and not isinstance(body, Choice | Mark | Decide):
        raise fields.refuse("situation", "none: only options, places and decisions may change")
    found = tuple(_situation(one, body, model) for one in tables)
    if isinstance(body, Choice):
        for at in range(1, len(body.options) + 1):
            rights = {at in one.right for one in found}
            if found and not body.several and rights != {True, False}:
                raise fields.refuse("situation", f"one in which option {at} is right")
    if found and isinstance(body, Choice | Mark) and len({_key(one) for one in found}) < 2:
        raise fields.refuse("situation", "situations that differ in what is right")
    return found


def _key(one: Situation) -> tuple[object, ...]:
    return (*one.right, *one.places)


def _situation(fields: Fields, body: Body, model: str) -> Situation:
    made = Situation(
        text=fields.text("text", default=""),
        right=_right(fields, body),
        places=_places(fields, body),
        when=fields.text("when", default=""),
        why=fields.text("why", default=""),
        draw=parameters(fields, model),
        catches=_catches(fields, body),
    )
    if made.when and not model:
        raise fields.refuse("when", "no verdict: there is no model to come to it")
    fields.done()
    return made


def _right(fields: Fields, body: Body) -> tuple[int, ...]:
    if not isinstance(body, Choice):
        return ()
    count, right = len(body.options), fields.sequence("right")
    good = all(type(one) is int and 1 <= one <= count for one in right)
    some = 1 <= len(set(right)) < count if body.several else len(right) == 1
    if not good or not some:
        wanted = "numbers of right options, not all" if body.several else "one number"
        raise fields.refuse("right", f"a list of {wanted}, from 1 to {count}")
    return tuple(right)


def _places(fields: Fields, body: Body) -> tuple[str, ...]:
    if not isinstance(body, Mark):
        return ()
    places = fields.texts("places", 1)
    for place in places:
        if place not in body.right:
            raise fields.refuse("places", f"some of the question's own: {', '.join(body.right)}")
    return tuple(places)


def _catches(fields: Fields, body: Body) -> Mapping[int, str]:
    table = fields.table_of("catches")
    numbers = range(1, len(body.options) + 1) if isinstance(body, Choice) else ()
    found = {at: table.text(str(at)) for at in numbers if str(at) in table.table}
    table.done()
    return found


def parameters(fields: Fields, model: str) -> Mapping[str, Parameter]:
    """Return what is drawn for a model, by name.

    Raises
    ------
    BankError
        If there is no model, or it uses no such name.
    """
    table = fields.table_of("draw")
    if table.table and not model:
        raise fields.refuse("draw", "a model beside it: only a model uses what is drawn")
    wanted = MODELS[model].parameters if model else ()
    for name in table.table:
        if name not in wanted:
            raise table.refuse(name, f"one of what model {model} uses: {', '.join(wanted) or '-'}")
    return {name: _parameter(table, name) for name in table.table}


def complete(fields: Fields, model: str, draw: Mapping[str, Parameter]) -> None:
    """Refuse a question that draws less than its model uses."""
    table = fields.table_of("draw")
    for name in MODELS[model].parameters if model else ():
        if name not in draw:
            raise table.refuse(name, f"a range or a list: model {model} uses it")


def _parameter(table: Fields, name: str) -> Parameter:
    value = table.table[name]
    if isinstance(value, list) and value and all(isinstance(v, str) or is_number(v) for v in value):
        return tuple(value)
    if not isinstance(value, dict):
        raise table.refuse(name, "{ from = , to = , step = } or a list of values")
    span = table.table_of(name)
    low, high = span.number("from", -1e6, 1e6), span.number("to", -1e6, 1e6)
    step = span.number("step", 1e-6, 1e6)
    span.done()
    if low > high or (high - low) / step > 10_000:
        raise table.refuse(name, "from <= to, in at most 10000 steps")
    return Range(low, high, step)
