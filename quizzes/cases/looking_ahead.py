"""Brakes that are in order today, and the date when somebody looks again: what lasts until then.

The work order names the date and how fast the gap grows, from the records of this brake or, where
there are none, as an estimate.
"""

from dataclasses import replace
from typing import NamedTuple

from widgets.bench.setup import Order
from widgets.brake.condition import Condition
from widgets.brake.draws import Draws
from widgets.brake.sizes.size import BrakeSize
from widgets.brake.wear.duty import RULE_FACTOR
from widgets.instruments.written import DISC_U_MM, GAP_U_MM

from .next_due import MONTH_DAYS
from .sound_brakes import between, brake_at, good_disc_mm, small_tilt_mm, thicker

# Of the run from setting to largest gap, that is allowed for until the planned date; a choice.
LEAST_SHARE, MOST_SHARE = 0.55, 0.70
CLEAR_U = 3.8  # uncertainties that these cases keep from the limit they are judged by; a choice
# Of a disc today, so that the least of four readings asks for nothing but for the date; a choice.
STILL_GOOD_U = 4.6
_PLANNED_DAYS = (30, 60, 90)  # invented; the local rule allows 90 days at the least


class Ahead(NamedTuple):
    """What a work order says of the time to come."""

    planned_days: int
    grows_mm_per_month: float
    recorded: bool

    @property
    def until_then_mm(self) -> float:
        """Growth to be allowed for until the planned date, mm: an estimate counts twice."""
        once_mm = self.grows_mm_per_month * self.planned_days / MONTH_DAYS
        return once_mm if self.recorded else once_mm / RULE_FACTOR

    @property
    def words(self) -> str:
        """The sentence of the work order."""
        date = f"The next inspection is planned in {self.planned_days} days."
        grows = f"the gap grows by {self.grows_mm_per_month:.2f} mm in {MONTH_DAYS:.0f} days"
        if self.recorded:
            return f"{date} By the records of this brake {grows}."
        return f"{date} There are no records of this brake; by the duty of the hoist {grows}."


def draw_ahead(draws: Draws, size: BrakeSize) -> Ahead:
    """Return a planned date and a growth that uses up more than half of a run until then."""
    recorded = draws.uniform("recorded") < 0.5
    days = draws.choice(_PLANNED_DAYS, "planned")
    run_mm = size.gap.max_mm - size.gap.setting_mm
    until_mm = between(draws, "until then", LEAST_SHARE, MOST_SHARE) * run_mm
    once_mm = until_mm if recorded else until_mm * RULE_FACTOR
    return Ahead(days, max(0.01, round(once_mm * MONTH_DAYS / days, 2)), recorded)


def with_ahead(order: Order, ahead: Ahead | None) -> Order:
    """Return the order with what is said of the time to come, if anything is."""
    if ahead is None:
        return order
    return replace(
        order,
        planned_days=ahead.planned_days,
        grows_mm_per_month=ahead.grows_mm_per_month,
        recorded=ahead.recorded,
    )


def lasting(draws: Draws, size: BrakeSize, share: float, ahead: Ahead) -> Condition:
    """Return a brake whose gap and disc both last until then."""
    tilt_mm = small_tilt_mm(draws, size)
    high_mm = size.gap.max_mm - ahead.until_then_mm - CLEAR_U * GAP_U_MM - tilt_mm
    low_mm = size.gap.setting_mm + tilt_mm
    mean_mm = low_mm + share * max(0.0, high_mm - low_mm)
    return _with_disc(draws, size, mean_mm, tilt_mm, ahead)


def gap_outgrowing(draws: Draws, size: BrakeSize, share: float, ahead: Ahead) -> Condition:
    """Return a brake whose gap is in order today and too large by then; the disc lasts."""
    tilt_mm = small_tilt_mm(draws, size)
    low_mm = size.gap.max_mm - ahead.until_then_mm + CLEAR_U * GAP_U_MM + tilt_mm
    high_mm = size.gap.max_mm - CLEAR_U * GAP_U_MM - tilt_mm
    mean_mm = low_mm + share * max(0.0, high_mm - low_mm)
    return _with_disc(draws, size, mean_mm, tilt_mm, ahead)


def disc_spending(draws: Draws, size: BrakeSize, share: float, ahead: Ahead) -> Condition:
    """Return a brake with its gap in order until then, whose disc passes its least before."""
    sound = lasting(draws, size, share, ahead)
    taper_mm = sound.disc.taper_mm
    low_mm = size.disc.min_mm + STILL_GOOD_U * DISC_U_MM + taper_mm
    high_mm = size.disc.min_mm + ahead.until_then_mm - CLEAR_U / 2 * DISC_U_MM
    disc_mm = low_mm + share * max(0.0, high_mm - low_mm)
    return thicker(sound, disc_mm - sound.disc.thickness_mm)


def _with_disc(
    draws: Draws, size: BrakeSize, mean_mm: float, tilt_mm: float, ahead: Ahead
) -> Condition:
    lasts_mm = size.disc.min_mm + ahead.until_then_mm + CLEAR_U * DISC_U_MM
    disc_mm = min(size.disc.new_mm, max(lasts_mm, good_disc_mm(draws, size)))
    return brake_at(draws, size, mean_mm, tilt_mm, disc_mm)
