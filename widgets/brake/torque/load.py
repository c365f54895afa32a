"""What the load asks of the motor shaft: torque, inertia, and hook travel for a turn."""

import math
from typing import overload

import numpy as np
from numpy.typing import ArrayLike, NDArray

from widgets.brake.ranges import in_range
from widgets.brake.sizes.size import Hoist

STANDARD_GRAVITY_M_S2 = 9.80665  # ISO 80000-3


def metres_per_radian(hoist: Hoist) -> float:
    """Return the hook travel for one radian of the motor shaft, m."""
    return hoist.speed_m_per_min / 60 / hoist.motor_speed_rad_s


@overload
def load_torque_nm(
    load_kg: float,
    speed_m_per_min: float,
    motor_rpm: float,
    *,
    efficiency: float = ...,
    hoisting: bool = ...,
) -> float: ...


@overload
def load_torque_nm(
    load_kg: ArrayLike,
    speed_m_per_min: ArrayLike,
    motor_rpm: ArrayLike,
    *,
    efficiency: ArrayLike = ...,
    hoisting: bool = ...,
) -> NDArray[np.float64]: ...


def load_torque_nm(
    load_kg: ArrayLike,
    speed_m_per_min: ArrayLike,
    motor_rpm: ArrayLike,
    *,
    efficiency: ArrayLike = 1.0,
    hoisting: bool = False,
) -> float | NDArray[np.float64]:
    """Return the torque that a hanging load puts on the motor shaft.

    Parameters
    ----------
    load_kg : float or array_like
        Load, kg, zero or more.
    speed_m_per_min : float or array_like
        Hook speed at the motor speed, m/min, above 0.
    motor_rpm : float or array_like
        Motor speed, rev/min, above 0.
    efficiency : float or array_like
        Of gear and reeving, above 0 to 1. Losses help a brake that holds, so 1
        is the careful value.
    hoisting : bool
        Losses add to the load while it is raised, and carry part of it while
        it is held or lowered.

    Returns
    -------
    float or ndarray
        Torque, N·m, in the broadcast shape.

    Raises
    ------
    ValueError
        If an argument is out of its range.

    Notes
    -----
    Power of the falling load over the shaft speed. Source: definition of power.

    Examples
    --------
    >>> round(load_torque_nm(1000.0, 8.0, 1450.0), 4)
    8.6112
    """
    load = in_range("load_kg", load_kg, "kg", low=0)
    speed = in_range("speed_m_per_min", speed_m_per_min, "m/min", above=0)
    eta = in_range("efficiency", efficiency, "", above=0, high=1)
    turning = in_range("motor_rpm", motor_rpm, "rev/min", above=0)
    # 1/60 of the hook speed and 2π/60 of the motor speed leave 1/2π.
    weight = STANDARD_GRAVITY_M_S2 / (2 * math.pi)
    # The losses go into the one factor: an array more would cost ten times the arithmetic.
    return load * speed / turning * (weight / eta if hoisting else weight * eta)


@overload
def reflected_inertia_kgm2(load_kg: float, speed_m_per_min: float, motor_rpm: float) -> float: ...


@overload
def reflected_inertia_kgm2(
    load_kg: ArrayLike, speed_m_per_min: ArrayLike, motor_rpm: ArrayLike
) -> NDArray[np.float64]: ...


def reflected_inertia_kgm2(
    load_kg: ArrayLike, speed_m_per_min: ArrayLike, motor_rpm: ArrayLike
) -> float | NDArray[np.float64]:
    """Return the inertia that the load adds to the motor shaft.

    Parameters
    ----------
    load_kg, speed_m_per_min, motor_rpm
        As for `load_torque_nm`.

    Returns
    -------
    float or ndarray
        Inertia, kg·m², in the broadcast shape: load times (speed over shaft speed)².

    Raises
    ------
    ValueError
        If an argument is out of its range.

    Examples
    --------
    >>> round(reflected_inertia_kgm2(1000.0, 8.0, 1450.0), 8)
    0.00077105
    """
    load = in_range("load_kg", load_kg, "kg", low=0)
    speed = in_range("speed_m_per_min", speed_m_per_min, "m/min", above=0)
    turning = in_range("motor_rpm", motor_rpm, "rev/min", above=0)
    lever_m = speed / turning / (2 * math.pi)
    return load * lever_m * lever_m
