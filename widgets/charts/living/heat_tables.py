"""Heat of stops: what one brings, how warm the faces get over hours of work, how they grip then."""

import numpy as np

from widgets.brake.magnet.transient import Switching
from widgets.brake.sizes.size import BrakeSize
from widgets.brake.torque.disc_cooling import estimated_cooling
from widgets.brake.torque.friction import friction_coefficient
from widgets.brake.torque.heat import DutyCycle, peak_temperatures_c
from widgets.charts.wear_and_energy import stop_energy_j

from .tables import Axis, Table

HOURS = 2.0  # of work that are followed
STOPS_AN_HOUR = (20.0, 240.0)
RUNNING_PERCENT = 40.0  # of the time that the motor and its fan run; common practice, no source
GAPS = 9
MOST_C = 600.0  # beyond which nothing of a lining is known


def stop_heat_table(size: BrakeSize) -> Table:
    """Return the heat of one stop from lowering the rated load, J, over the gap, by the side."""
    gaps = Axis("gap_mm", "mm", np.linspace(size.gap.min_mm, size.gap.max_mm, GAPS))
    columns = {
        name: np.array([stop_energy_j(size, gap, side) for gap in gaps.points.tolist()])
        for name, side in (("dc", Switching.DC_SIDE), ("ac", Switching.AC_SIDE))
    }
    return Table((gaps,), columns)


def warming_table(size: BrakeSize) -> Table:
    """Return how much warmer than the air the faces are just after a stop, K for each kJ of a stop.

    Over stops an hour and seconds of work.
    """
    stops = Axis("stops", "1/h", np.linspace(*STOPS_AN_HOUR, 23))
    time = Axis("time_s", "s", np.linspace(0.0, 3600 * HOURS, 61))
    cooling = estimated_cooling(size)
    rows = []
    for rate in stops.points.tolist():
        duty = DutyCycle(rate, RUNNING_PERCENT)
        count = int(HOURS * rate) + 2
        peaks_c = peak_temperatures_c(np.full(count, 1000.0), cooling, duty)
        at_s = np.arange(count) * duty.cycle_s
        rows.append(np.interp(time.points, at_s, peaks_c - cooling.ambient_c))
    return Table((stops, time), {"kelvin_per_kj": np.array(rows)})


def grip_table(size: BrakeSize) -> Table:
    """Return the share of the cold friction that is left, over the temperature of the faces, °C."""
    faces = Axis("face_c", "°C", np.linspace(0.0, MOST_C, 61))
    nominal = size.lining.friction
    left = np.asarray(friction_coefficient(nominal, temperature_c=faces.points)) / nominal
    return Table((faces,), {"share": left})
