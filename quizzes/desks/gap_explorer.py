"""The explorers of the lessons under one name; each is made of sliders and pure functions."""

from .explorers.brake_explorers import (
    gap_explorer,
    lining_explorer,
    release_explorer,
    stop_explorer,
)
from .explorers.own_hand import own_hand
from .explorers.reading_explorers import limit_explorer, places_explorer

__all__ = [
    "gap_explorer",
    "limit_explorer",
    "lining_explorer",
    "own_hand",
    "places_explorer",
    "release_explorer",
    "stop_explorer",
]
