"""Explorers of the lessons: a few sliders, the numbers that follow from them, and a figure."""

from .brake_explorers import (
    gap_explorer,
    lining_explorer,
    release_explorer,
    stop_explorer,
)
from .own_hand import own_hand
from .reading_explorers import limit_explorer, places_explorer

__all__ = [
    "gap_explorer",
    "limit_explorer",
    "lining_explorer",
    "own_hand",
    "places_explorer",
    "release_explorer",
    "stop_explorer",
]
