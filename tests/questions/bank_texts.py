"""Small banks as text, for the tests of this folder: one good question of each kind."""

from pathlib import Path

from quizzes.questions.bank import load_file
from quizzes.questions.items import Item
from widgets.brake.sizes.sheet import LimitsSheet, load_sheet

HEAD = """
[[question]]
id = "the-item"
element = "K1"
difficulty = 0.5
text = "What is asked here of a person?"
why = "Because the brake is built so."
source = "common practice, no source"
"""
SINGLE = (
    HEAD
    + """
kind = "single"
[[question.option]]
text = "The springs"
right = true
[[question.option]]
text = "The magnet"
catches = "Believes that the magnet brakes."
[[question.option]]
text = "The load"
catches = "Believes that the load brakes."
"""
)
MULTIPLE = SINGLE.replace('kind = "single"', 'kind = "multiple"')
NUMERIC = (
    HEAD
    + """
kind = "numeric"
answer = 12.5
unit = "mm"
decimals = 1
tolerance = 0.2
[[question.wrong]]
value = 25.0
catches = "Doubles it."
"""
)
ORDER = (
    HEAD
    + """
kind = "order"
steps = ["Land the load", "Lock off", "Hang the tag", "Prove dead", "Open the brake"]
free = [[2, 3]]
catches = "Mixes the order."
[[question.slip]]
earlier = 4
later = 5
catches = "Opens before proving dead."
"""
)
WORK = (
    HEAD
    + """
kind = "order"
work = "locking"
steps = ["touch", "half", "full"]
catches = "Mixes up the order of locking."
slip = [{ earlier = "touch", later = "half", catches = "Pulls one side down first." }]
"""
)
MARK = (
    HEAD
    + """
kind = "mark"
drawing = "section"
targets = ["gaps"]
right = ["air-gap"]
catches = "Takes another gap."
[[question.place]]
ids = ["fan-gap"]
catches = "Takes the gap at the fan."
"""
)
SCALE = (
    HEAD
    + """
kind = "scale"
instrument = "vernier_0.05"
answer = 8.35
tolerance = 0.05
"""
)
DECIDE = (
    HEAD.replace("Because the brake is built so.", "{reasons}")
    + """
kind = "decide"
model = "brake_readings"
draw.gap_share = { from = 1.1, to = 1.4, step = 0.1 }
draw.tilt_share = [0.0]
draw.warp_share = [0.0]
draw.disc_share = [0.2, 0.3]
draw.wanted = ["adjust"]
catches.fit = "Leaves it."
catches.adjust = "Adjusts it."
catches.replace = "Throws it away."
catches.refer = "Gives it away."
"""
)
TURN = (
    HEAD.replace("of a person", "at {gap_mm:.2f} mm, size {size}")
    + """
kind = "numeric"
model = "even_turn"
draw.gap_share = { from = 0.4, to = 1.2, step = 0.1 }
answer = "turn_deg"
unit = "°"
decimals = 0
tolerance = 4
[[question.wrong]]
value = "whole_gap_deg"
catches = "Turns the whole gap away."
"""
)
EVERY_KIND = {
    "single": SINGLE,
    "multiple": MULTIPLE,
    "numeric": NUMERIC,
    "order": ORDER,
    "mark": MARK,
    "scale": SCALE,
    "decide": DECIDE,
}
KEY = bytes(range(32))
SHEET: LimitsSheet = load_sheet()
OWN_SHEET = """
title = "Three columns of a chart"
[[size]]
name = "Own-1"
gap_setting_mm = 0.2
gap_max_mm = 0.6
disc_min_mm = 6.0
[[size]]
name = "Own-2"
gap_setting_mm = 0.3
gap_max_mm = 0.9
disc_min_mm = 9.5
[[size]]
name = "Own-3"
gap_setting_mm = 0.4
gap_max_mm = 1.1
disc_min_mm = 11.0
"""


def items_of(text: str, folder: Path, name: str = "some.toml") -> tuple[Item, ...]:
    """Return the questions of a text, read as a bank's file is."""
    path = folder / name
    path.write_text(text, encoding="utf-8")
    return load_file(path)


def item_of(text: str, folder: Path) -> Item:
    """Return the only question of a text."""
    (item,) = items_of(text, folder)
    return item
