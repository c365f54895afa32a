"""Make what is special to a kind of question from its table, if its parts go together."""

from functools import singledispatch

from quizzes.questions.items import (
    Body,
    Choice,
    Decide,
    Mark,
    Numeric,
    Option,
    Order,
    Scale,
    Slip,
    WrongNumber,
)
from quizzes.questions.pictures import DRAWINGS
from widgets.bench.orders.catalogue import ORDERS

from .tables import (
    ChoiceTable,
    DecideTable,
    ItemTable,
    MarkTable,
    NumericTable,
    OpenChoiceTable,
    OrderTable,
    ScaleTable,
    WorkOrderTable,
    WrongTable,
)
from .unfit import UnfitError


@singledispatch
def body_of(table: ItemTable) -> Body:
    """Return the body of a question.

    Raises
    ------
    UnfitError
        If parts of it do not go together.
    """
    raise TypeError(f"no body is made from a {type(table).__name__}")


@body_of.register
def _open_choice(table: OpenChoiceTable) -> Choice:
    """None is right for good: each says what it shows where it is wrong."""
    options = tuple(Option(one.text, right=False, catches=one.catches) for one in table.option)
    return Choice(options, several=table.kind == "multiple")


@body_of.register
def _scale(table: ScaleTable) -> Scale:
    _of_model(table, ("answer",), table.answer)
    return Scale(table.instrument, table.answer, table.tolerance, _wrong(table))


@body_of.register
def _decide(table: DecideTable) -> Decide:
    if not table.model:
        raise UnfitError(("model",), "a model that gives gap and disc readings")
    return Decide(table.catches.model_dump())


@body_of.register
def _choice(table: ChoiceTable) -> Choice:
    options = tuple(Option(one.text, one.right, one.catches) for one in table.option)
    for at, option in enumerate(options):
        if not option.right and not option.catches:
            expected = "what somebody who takes this wrong option believes"
            raise UnfitError(("option", at, "catches"), expected)
        if option.right and option.catches:
            raise UnfitError(("option", at, "catches"), "nothing: this option is right")
    right = sum(option.right for option in options)
    if table.kind == "multiple":
        if not 1 <= right < len(options):
            raise UnfitError(("option",), "at least one right and one wrong option")
        return Choice(options, several=True)
    if right != 1:
        expected = f"exactly one option with right = true, there are {right}"
        raise UnfitError(("option",), expected)
    return Choice(options)


@body_of.register
def _numeric(table: NumericTable) -> Numeric:
    _of_model(table, ("answer",), table.answer)
    if not table.tolerance and not table.tolerance_share:
        raise UnfitError(("tolerance",), "tolerance or tolerance_share above 0")
    return Numeric(
        answer=table.answer,
        unit=table.unit,
        tolerance=table.tolerance,
        tolerance_share=table.tolerance_share,
        decimals=table.decimals,
        wrong=_wrong(table),
    )


def _wrong(table: NumericTable | ScaleTable) -> tuple[WrongNumber, ...]:
    for at, one in enumerate(table.wrong):
        _of_model(table, ("wrong", at, "value"), one.value)
    return tuple(map(_wrong_number, table.wrong))


def _wrong_number(one: WrongTable) -> WrongNumber:
    return WrongNumber(one.value, one.catches)


def _of_model(table: ItemTable, place: tuple[str | int, ...], value: str | float) -> None:
    """Refuse a number beside a model, and a name without one."""
    if table.model and not isinstance(value, str):
        raise UnfitError(place, "the name of a value that the model gives")
    if not table.model and isinstance(value, str):
        raise UnfitError(place, "a number: there is no model to give a name its value")


@body_of.register
def _order(table: OrderTable) -> Order:
    count = len(table.steps)
    for at, slip in enumerate(table.slip):
        if not slip.earlier < slip.later <= count:
            expected = f"a step after step {slip.earlier}, at most {count}"
            raise UnfitError(("slip", at, "later"), expected)
    for group in table.free:
        good = isinstance(group, list) and all(type(n) is int and 1 <= n <= count for n in group)
        if not good or not group or sorted(group) != list(range(min(group), max(group) + 1)):
            expected = "lists of neighbouring step numbers, [[2, 3], [5, 6]]"
            raise UnfitError(("free",), expected)
    slips = tuple(Slip(one.earlier, one.later, one.catches) for one in table.slip)
    free = tuple(tuple(group) for group in table.free)
    return Order(tuple(table.steps), slips, free, table.catches)


@body_of.register
def _order_of_work(table: WorkOrderTable) -> Order:
    """Return steps of one of the orders of work: the question names them, the order ranks them."""
    whole = ORDERS[table.work]
    if not set(table.steps) <= set(whole.names):
        raise UnfitError(("steps",), f"steps of {whole.name}: {', '.join(whole.names)}")
    part = whole.part(tuple(table.steps))
    place = {name: at for at, name in enumerate(part.names, start=1)}
    for at, slip in enumerate(table.slip):
        for end, name in (("earlier", slip.earlier), ("later", slip.later)):
            if name not in place:
                raise UnfitError(("slip", at, end), f"one of {', '.join(place)}")
        swapped = place[slip.earlier] >= place[slip.later]
        if swapped or part.may_swap(slip.earlier, slip.later):
            expected = f"a step that has to come after {slip.earlier}"
            raise UnfitError(("slip", at, "later"), expected)
    slips = tuple(Slip(place[one.earlier], place[one.later], one.catches) for one in table.slip)
    groups = tuple(tuple(place[name] for name in group) for group in part.free)
    return Order(tuple(step.words for step in part.steps), slips, groups, table.catches)


@body_of.register
def _mark(table: MarkTable) -> Mark:
    drawing = DRAWINGS[table.drawing]
    if not set(table.targets) <= set(drawing.groups):
        expected = f"groups of the drawing: {', '.join(drawing.groups)}"
        raise UnfitError(("targets",), expected)
    places = {place.id for place in drawing.places if place.group in table.targets}
    expected = f"places of the drawing: {', '.join(sorted(places))}"
    for name in table.right:
        if name not in places and not (table.model and "{" in name):
            raise UnfitError(("right",), expected)
    caught: dict[str, str] = {}
    for at, one in enumerate(table.place):
        if not set(one.ids) <= places:
            raise UnfitError(("place", at, "ids"), expected)
        caught |= dict.fromkeys(one.ids, one.catches)
    return Mark(
        drawing.name,
        tuple(table.targets),
        tuple(table.right),
        caught,
        table.catches,
        table.readings,
    )
