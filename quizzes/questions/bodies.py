"""Read what is special to a kind of question: options, numbers, steps, places, outcomes."""

from collections.abc import Callable, Mapping

from widgets.bench.orders.catalogue import ORDERS

from .drawings import DRAWINGS
from .fields import Fields
from .items import Body, Choice, Decide, Mark, Numeric, Option, Order, Scale, Slip
from .items import WrongNumber as Wrong
from .scales import INSTRUMENTS
from .scheme import OUTCOMES


def body_of(kind: str, fields: Fields, *, parametric: bool, situated: bool = False) -> Body:
    """Return the body of a question of a kind; `situated` if its situations say what is right.

    Raises
    ------
    BankError
        If a field is missing or cannot be.
    """
    if situated and kind in {"single", "multiple"}:
        return Choice(_open_options(fields), several=kind == "multiple")
    return _READERS[kind](fields, parametric)


def _open_options(fields: Fields) -> tuple[Option, ...]:
    """Return options none of which is right for good: each says what it shows when it is wrong."""
    options = []
    for one in fields.tables("option", 2):
        options.append(Option(one.text("text"), right=False, catches=one.text("catches")))
        one.done()
    return tuple(options)


def _single(fields: Fields, _: bool) -> Choice:  # noqa: FBT001 (the readers are alike)
    options = _options(fields)
    right = sum(option.right for option in options)
    if right != 1:
        raise fields.refuse("option", f"exactly one option with right = true, there are {right}")
    return Choice(options)


def _multiple(fields: Fields, _: bool) -> Choice:  # noqa: FBT001
    options = _options(fields)
    right = sum(option.right for option in options)
    if not 1 <= right < len(options):
        raise fields.refuse("option", "at least one right and one wrong option")
    return Choice(options, several=True)


def _options(fields: Fields) -> tuple[Option, ...]:
    return tuple(_option(one) for one in fields.tables("option", 2))


def _option(fields: Fields) -> Option:
    right = fields.flag("right")
    option = Option(fields.text("text"), right, fields.text("catches", default=""))
    fields.done()
    if not right and not option.catches:
        raise fields.refuse("catches", "what somebody who takes this wrong option believes")
    if right and option.catches:
        raise fields.refuse("catches", "nothing: this option is right")
    return option


def _numeric(fields: Fields, parametric: bool) -> Numeric:  # noqa: FBT001
    answer = _value(fields, "answer", parametric=parametric)
    tolerance = fields.number("tolerance", 0, 1e6, default=0)
    share = fields.number("tolerance_share", 0, 0.5, default=0)
    if not tolerance and not share:
        raise fields.refuse("tolerance", "tolerance or tolerance_share above 0")
    return Numeric(
        answer=answer,
        unit=fields.text("unit"),
        tolerance=tolerance,
        tolerance_share=share,
        decimals=fields.whole("decimals", 0, 6),
        wrong=_wrong(fields, least=1, parametric=parametric),
    )


def _wrong(fields: Fields, least: int, *, parametric: bool) -> tuple[Wrong, ...]:
    found = []
    for one in fields.tables("wrong", least):
        found.append(Wrong(_value(one, "value", parametric=parametric), one.text("catches")))
        one.done()
    return tuple(found)


def _value(fields: Fields, name: str, *, parametric: bool) -> str | float:
    value = fields.name_or_number(name)
    if parametric and not isinstance(value, str):
        raise fields.refuse(name, "the name of a value that the model gives")
    if not parametric and isinstance(value, str):
        raise fields.refuse(name, "a number: there is no model to give a name its value")
    return value


def _order(fields: Fields, _: bool) -> Order:  # noqa: FBT001
    if "work" in fields.table:
        return _order_of_work(fields)
    steps = fields.texts("steps", 3)
    slips = []
    for one in fields.tables("slip", 1):
        earlier, later = (one.whole(name, 1, len(steps)) for name in ("earlier", "later"))
        if earlier >= later:
            raise one.refuse("later", f"a step after step {earlier}")
        slips.append(Slip(earlier, later, one.text("catches")))
        one.done()
    free = fields.sequence("free")
    for group in free:
        good = isinstance(group, list) and all(
            type(n) is int and 1 <= n <= len(steps) for n in group
        )
        if not good or sorted(group) != list(range(min(group), max(group) + 1)):
            raise fields.refuse("free", "lists of neighbouring step numbers, [[2, 3], [5, 6]]")
    groups = tuple(tuple(group) for group in free)
    return Order(tuple(steps), tuple(slips), groups, fields.text("catches"))


def _order_of_work(fields: Fields) -> Order:
    """Return steps of one of the orders of work: the question names them, the order ranks them."""
    whole = ORDERS[fields.one_of("work", ORDERS)]
    wanted = fields.texts("steps", 3)
    if not set(wanted) <= set(whole.names):
        raise fields.refuse("steps", f"steps of {whole.name}: {', '.join(whole.names)}")
    part = whole.part(tuple(wanted))
    place = {name: at for at, name in enumerate(part.names, start=1)}
    slips = []
    for one in fields.tables("slip", 1):
        earlier, later = (one.one_of(name, place) for name in ("earlier", "later"))
        if place[earlier] >= place[later] or part.may_swap(earlier, later):
            raise one.refuse("later", f"a step that has to come after {earlier}")
        slips.append(Slip(place[earlier], place[later], one.text("catches")))
        one.done()
    groups = tuple(tuple(place[name] for name in group) for group in part.free)
    words = tuple(step.words for step in part.steps)
    return Order(words, tuple(slips), groups, fields.text("catches"))


def _mark(fields: Fields, parametric: bool) -> Mark:  # noqa: FBT001
    drawing = DRAWINGS[fields.one_of("drawing", DRAWINGS)]
    targets = fields.texts("targets", 1)
    if not set(targets) <= set(drawing.groups):
        raise fields.refuse("targets", f"groups of the drawing: {', '.join(drawing.groups)}")
    places = {place.id for place in drawing.places if place.group in targets}
    right = fields.texts("right", 1)
    for place in right:
        if place not in places and not (parametric and "{" in place):
            raise fields.refuse("right", f"places of the drawing: {', '.join(sorted(places))}")
    caught = {}
    for one in fields.tables("place", 0):
        for name in one.texts("ids", 1):
            if name not in places:
                raise one.refuse("ids", f"places of the drawing: {', '.join(sorted(places))}")
            caught[name] = one.text("catches")
        one.done()
    readings = fields.flag("readings")
    return Mark(
        drawing.name, tuple(targets), tuple(right), caught, fields.text("catches"), readings
    )


def _scale(fields: Fields, parametric: bool) -> Scale:  # noqa: FBT001
    return Scale(
        instrument=fields.one_of("instrument", INSTRUMENTS),
        answer=_value(fields, "answer", parametric=parametric),
        tolerance=fields.number("tolerance", 0.001, 10),
        wrong=_wrong(fields, least=0, parametric=parametric),
    )


def _decide(fields: Fields, parametric: bool) -> Decide:  # noqa: FBT001
    if not parametric:
        raise fields.refuse("model", "a model that gives gap and disc readings")
    table = fields.table_of("catches")
    catches: Mapping[str, str] = {name: table.text(name) for name in OUTCOMES}
    table.done()
    return Decide(catches)


_READERS: dict[str, Callable[[Fields, bool], Body]] = {
    "single": _single,
    "multiple": _multiple,
    "numeric": _numeric,
    "order": _order,
    "mark": _mark,
    "scale": _scale,
    "decide": _decide,
}
