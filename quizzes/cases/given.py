"""What a colleague's notes say, as codes, and what the trade makes of them."""

from widgets.bench.notes import Line
from widgets.bench.setup import Order
from widgets.brake.judgement.signs import (
    Sign,
    coil_sign,
    insulation_sign,
    signs_of_symptoms,
    supply_sign,
)
from widgets.brake.sizes.sheet import LimitsSheet
from widgets.brake.sizes.size import BrakeSize

SIZE, SYMPTOM = "noted.size", "noted.symptom"  # these two name a size, a symptom
NO_END = Line("noted.coil-open")
NOTHING = Line("noted.nothing")


def size_given(order: Order, sheet: LimitsSheet) -> BrakeSize | None:
    """Return the size whose plate the colleague has read, or None if none is noted."""
    for line in order.lines:
        if line.code == SIZE:
            return sheet.size(line.name)
    return None


def signs_given(row: BrakeSize, order: Order) -> tuple[Sign, ...]:
    """Return what the lines and meter readings of a colleague say, judged by a row of the sheet."""
    codes = [line.name for line in order.lines if line.code == SYMPTOM]
    signs: list[Sign | None] = [*signs_of_symptoms(codes)]
    values = {note.what: note.value for note in order.value_notes}
    if NO_END in order.lines:
        signs.append(coil_sign(row, None, 20.0))
    elif "coil_ohm" in values:
        signs.append(coil_sign(row, values["coil_ohm"], values.get("coil_c", 20.0)))
    if "insulation_mohm" in values:
        signs.append(insulation_sign(values["insulation_mohm"]))
    if "voltage_v" in values:
        signs.append(supply_sign(row, values["voltage_v"]))
    return tuple(dict.fromkeys(sign for sign in signs if sign is not None))
