"""Case families, the sound brake that faults are laid on, and drawing a case, under one name."""

from .drawing import draw_case
from .kinds import FAMILIES, MEANT, Drawn, Family, lay_on
from .sound_brakes import draw_sound

__all__ = ["FAMILIES", "MEANT", "Drawn", "Family", "draw_case", "draw_sound", "lay_on"]
