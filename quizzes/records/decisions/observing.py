"""Whose sheet of a practical may be seen, and by whom: pure, from the sheets in their order."""

from collections.abc import Iterable
from dataclasses import dataclass

from quizzes.records.decisions.practical import Practical


@dataclass(frozen=True, slots=True)
class Observers:
    """The first observer of a practical and the second, as far as there are any.

    Parameters
    ----------
    first : Practical or None
        The first observer's last sheet before anybody else kept one.
    second : Practical or None
        The first sheet of somebody else.
    blind : bool
        Whether the first observer asked for a second one with every sheet, so that no page ever
        showed those marks to the second before the second kept a sheet.
    """

    first: Practical | None = None
    second: Practical | None = None
    blind: bool = False

    @property
    def awaited(self) -> bool:
        """Whether nobody but the first observer may read the first sheet yet."""
        return self.first is not None and self.second is None and self.first.second_wanted

    @property
    def pair(self) -> tuple[Practical, Practical] | None:
        """Two sheets of which neither observer knew the other's; None if there are no such two."""
        if self.first is None or self.second is None or not self.blind:
            return None
        return self.first, self.second


def observers_of(sheets: Iterable[Practical]) -> Observers:
    """Return who observed first and who second, from all sheets of a sitting in their order.

    Notes
    -----
    What either of them kept after both had kept a sheet is no independent evidence: by then each
    could read the other's.
    """
    first, blind = None, True
    for sheet in sheets:
        if first is not None and sheet.person_id != first.person_id:
            return Observers(first, sheet, blind)
        first, blind = sheet, blind and sheet.second_wanted
    return Observers(first, None, blind)
