"""Springs, friction, braking torque, the load behind them, stops and their heat."""

from .load import (
    STANDARD_GRAVITY_M_S2,
    load_torque_nm,
    metres_per_radian,
    reflected_inertia_kgm2,
)
from .stop_course import (
    StopTrace,
    integrated_stop,
)
from .stopping import (
    Stop,
    StopCase,
    closed_form_stop,
    stop_case,
    stopping_distance_mm,
)

__all__ = [
    "STANDARD_GRAVITY_M_S2",
    "Stop",
    "StopCase",
    "StopTrace",
    "closed_form_stop",
    "integrated_stop",
    "load_torque_nm",
    "metres_per_radian",
    "reflected_inertia_kgm2",
    "stop_case",
    "stopping_distance_mm",
]
