"""Explorers of the lessons: a few sliders, the numbers that follow from them, and a figure."""

from .brake_explorers import lining_explorer
from .own_hand import own_hand
from .reading_explorers import limit_explorer, places_explorer

__all__ = [
    "limit_explorer",
    "lining_explorer",
    "own_hand",
    "places_explorer",
]
