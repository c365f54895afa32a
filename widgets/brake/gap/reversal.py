"""Tell the tilt of the magnet body from the tilt that the disc carries round."""

from .profile import Plane


def part_that_turns_with_the_disc(first: Plane, turned_half: Plane) -> tuple[Plane, Plane]:
    """Return (tilt of the magnet body, tilt carried by the disc) from two rounds of readings.

    Parameters
    ----------
    first, turned_half : Plane
        Fits before and after turning the shaft by 180°.

    Notes
    -----
    What stays when the disc turns belongs to the body, what changes sign to
    the disc. Source: reversal method of length metrology (straightedge reversal).
    """
    body = Plane(
        (first.mean_mm + turned_half.mean_mm) / 2,
        (first.cos_mm + turned_half.cos_mm) / 2,
        (first.sin_mm + turned_half.sin_mm) / 2,
    )
    disc = Plane(
        (first.mean_mm - turned_half.mean_mm) / 2,
        (first.cos_mm - turned_half.cos_mm) / 2,
        (first.sin_mm - turned_half.sin_mm) / 2,
    )
    return body, disc
