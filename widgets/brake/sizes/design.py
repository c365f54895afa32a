"""What sets the gap of a size: hollow screws, shims, an adjusting ring, or nothing at all.

Common practice, no source: four ways of building a spring-applied brake. The body is held by
three bolts whatever sets its gap.
"""

from collections.abc import Collection, Mapping
from enum import StrEnum


class Design(StrEnum):
    """How a brake is built where its gap is set; a word of the limits sheet."""

    HOLLOW_SCREWS = "hollow_screws"
    SHIMS = "shims"
    ADJUSTING_RING = "adjusting_ring"
    FIXED = "fixed"

    @property
    def adjusts(self) -> bool:
        """Whether anything on the brake sets its gap."""
        return self is not Design.FIXED

    @property
    def levels(self) -> bool:
        """Whether the gap is set at three places, so that a tilt can be taken out."""
        return self in {Design.HOLLOW_SCREWS, Design.SHIMS}

    @property
    def steps(self) -> bool:
        """Whether the gap is set in whole steps, of a shim or of a notch."""
        return self in {Design.SHIMS, Design.ADJUSTING_RING}


DESIGN_WORDS: Mapping[Design, str] = {
    Design.HOLLOW_SCREWS: "hollow screws",
    Design.SHIMS: "shims",
    Design.ADJUSTING_RING: "adjusting ring",
    Design.FIXED: "not adjustable",
}
# Fields of a sheet that only one design has; every other field belongs to all of them.
FIELDS_OF: Mapping[Design, tuple[str, ...]] = {
    Design.HOLLOW_SCREWS: ("screw_thread", "screw_pitch_mm"),
    Design.SHIMS: ("shim_step_mm",),
    Design.ADJUSTING_RING: ("ring_notch_mm",),
    Design.FIXED: (),
}
# What one step of the setting moves the gap.
STEP_FIELDS = tuple(field for design in Design if design.steps for field in FIELDS_OF[design])


def foreign_field(design: Design, given: Collection[str]) -> tuple[str, Design] | None:
    """Return the first given field that a design has not, with the design that has it, or None.

    Examples
    --------
    >>> foreign_field(Design.FIXED, ["torque_nm", "screw_pitch_mm"])
    ('screw_pitch_mm', <Design.HOLLOW_SCREWS: 'hollow_screws'>)
    >>> foreign_field(Design.SHIMS, ["shim_step_mm"])
    """
    for other, fields in FIELDS_OF.items():
        for field in fields:
            if other is not design and field in given:
                return field, other
    return None
