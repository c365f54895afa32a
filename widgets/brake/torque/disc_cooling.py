"""What the faces of a brake hold and give off of the heat of stops: an estimate from its size."""

import math

from widgets.brake.magnet.actuator import STEEL_KG_PER_M3, estimated_plate_mass_kg
from widgets.brake.ranges import in_range
from widgets.brake.sizes.size import BrakeSize

from .heat import STEEL_SPECIFIC_HEAT_J_PER_KG_K, Cooling

STANDING_W_PER_M2_K = 10.0  # still air; textbooks give 5 to 25, the order of magnitude is taken
RUNNING_W_PER_M2_K = 30.0  # air moved by the motor's fan; textbooks give 10 to 200


def estimated_cooling(size: BrakeSize, ambient_c: float = 20.0) -> Cooling:
    """Return about what the two steel faces hold and give off, as one lump.

    Parameters
    ----------
    size : BrakeSize
        Lining, gauging circle and pole area are used.
    ambient_c : float
        Air round the brake, °C.

    Notes
    -----
    A lining conducts badly, so the heat goes into the steel on either side: the
    pressure plate, and as much steel again at the motor end. Both give it off
    from their free side and rim. Common practice, no source; it teaches the
    order of magnitude.
    """
    in_range("ambient_c", ambient_c, "°C", low=-40, high=80)
    mass_kg = estimated_plate_mass_kg(size)
    outer_m = max(size.screws.gauging_circle_mm / 2, size.lining.outer_radius_mm) / 1000
    face_m2 = math.pi * (outer_m**2 - (size.lining.inner_radius_mm / 1000) ** 2)
    thickness_m = mass_kg / (STEEL_KG_PER_M3 * face_m2)
    surface_m2 = 2 * (face_m2 + 2 * math.pi * outer_m * thickness_m)
    return Cooling(
        2 * mass_kg * STEEL_SPECIFIC_HEAT_J_PER_KG_K,
        running_w_per_k=RUNNING_W_PER_M2_K * surface_m2,
        standing_w_per_k=STANDING_W_PER_M2_K * surface_m2,
        ambient_c=ambient_c,
    )
