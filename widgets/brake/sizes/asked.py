"""What the suite had to take for granted of a size, and asks about before anybody relies on it."""

from .size import BrakeSize


def asked_of(size: BrakeSize) -> tuple[str, ...]:
    """Return a question for each number that decides and that the sheet does not give.

    A setting or a new thickness that was worked out is never taken over in silence.
    """
    found = []
    if "gap_setting_mm" in size.estimated:
        found.append(
            f"{size.name}: the sheet gives the least gap, {size.gap.min_mm:g} mm, and none to be "
            f"set. {size.gap.setting_mm:g} mm is taken here, so that no place lies under the "
            "least. Which gap does the maker set? Write it in as gap_setting_mm."
        )
    if "disc_new_mm" in size.estimated:
        found.append(
            f"{size.name}: the sheet does not say how thick a new disc is. {size.disc.new_mm:g} mm "
            "is taken here. Does a disc of yours measure more? Ask the maker, and write it in as "
            "disc_new_mm: wear is counted from it."
        )
    return tuple(found)
