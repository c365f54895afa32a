"""A stop from full speed, followed in time."""

import math
from dataclasses import dataclass
from typing import Any

import numpy as np
from numpy.typing import NDArray

from widgets.brake.ranges import in_range

from .stopping import _RPM, Stop, StopCase, _runaway

_INSTANT_S = 1e-9  # a delay or rise shorter than this is none


@dataclass(frozen=True, slots=True)
class StopTrace:
    """The course of one stop: arrays of shape (n,), s, rad/s, mm of hook travel, N·m, J."""

    time_s: NDArray[np.float64]
    speed_rad_s: NDArray[np.float64]
    travel_mm: NDArray[np.float64]
    braking_torque_nm: NDArray[np.float64]
    friction_energy_j: NDArray[np.float64]


def integrated_stop(case: StopCase, *, watch_s: float = 1.0) -> tuple[Stop, StopTrace]:
    """Return how a stop ends and its course, with the torque rising in a straight line.

    Parameters
    ----------
    case : StopCase
        The stop, lowering or hoisting.
    watch_s : float
        How long to follow a brake that does not hold after its full torque,
        s, above 0 to 10.

    Returns
    -------
    Stop, StopTrace
        As `closed_form_stop`, and the arrays to draw it from.

    Raises
    ------
    ValueError
        If `watch_s` is out of its range.

    Notes
    -----
    Inertia times the change of speed is load torque less brake torque, which
    always opposes the motion. A load going up may turn while the brake still
    rises, and is then caught on its way down.
    """
    in_range("watch_s", watch_s, "s", above=0, high=10)
    full_s = case.delay_s + case.rise_s
    state: NDArray[np.float64] = np.array([case.speed_rad_s, 0.0, 0.0])
    times, states, now_s, stands = [np.zeros(1)], [state.reshape(3, 1)], 0.0, False
    for phase, end_s in enumerate((case.delay_s, full_s, math.inf)):
        while not stands and end_s - now_s > _INSTANT_S:
            until_s = end_s if phase < 2 else now_s + _longest_s(case, state[0], watch_s)
            way = 1.0 if state[0] >= 0 else -1.0
            solved = _follow(case, now_s, until_s, state, way)
            times.append(solved.t[1:])
            states.append(solved.y[:, 1:])
            stuck = float(solved.t[-1]) <= now_s
            now_s, state = float(solved.t[-1]), np.array(solved.y[:, -1])
            if solved.status == 1:
                state[0] = 0.0
                stands = stuck or case.braking_at_nm(now_s) >= case.load_torque_nm
            elif phase == 2:
                break
    return _read_off(case, np.concatenate(times), np.hstack(states))


def _longest_s(case: StopCase, speed_rad_s: float, watch_s: float) -> float:
    if not case.holds:
        return watch_s
    net_nm = case.braking_torque_nm - case.load_torque_nm
    return 1e-3 + 1.01 * case.inertia_kgm2 * abs(float(speed_rad_s)) / net_nm


def _follow(
    case: StopCase, start_s: float, end_s: float, state: NDArray[np.float64], way: float
) -> Any:  # noqa: ANN401 (SciPy's result carries no types)
    from scipy.integrate import solve_ivp  # noqa: PLC0415 (a page opens faster without SciPy)

    def change(time_s: float, now: NDArray[np.float64]) -> tuple[float, float, float]:
        brake_nm = case.braking_at_nm(time_s)
        gain = (case.load_torque_nm - way * brake_nm) / case.inertia_kgm2
        return gain, now[0], brake_nm * way * now[0]

    def stands(_time_s: float, now: NDArray[np.float64]) -> float:
        return float(now[0])

    stands.terminal, stands.direction = True, -way  # type: ignore[attr-defined]
    span = (start_s, end_s)
    step_s = (end_s - start_s) / 40
    return solve_ivp(change, span, state, events=stands, rtol=1e-9, atol=1e-9, max_step=step_s)


def _read_off(
    case: StopCase, time_s: NDArray[np.float64], states: NDArray[np.float64]
) -> tuple[Stop, StopTrace]:
    travel_mm = 1000 * case.metres_per_radian * states[1]
    brake_nm = np.array([case.braking_at_nm(at) for at in time_s.tolist()])
    trace = StopTrace(time_s, states[0], travel_mm, brake_nm, states[2])
    drift_mm = float(np.interp(case.free_s, time_s, travel_mm))
    peak_rad_s = float(np.abs(states[0]).max())
    if not case.holds:
        return _runaway(case, drift_mm, peak_rad_s), trace
    stop = Stop(
        held=True,
        time_s=float(time_s[-1]),
        slip_time_s=max(0.0, float(time_s[-1]) - case.free_s),
        travel_mm=float(travel_mm[-1]),
        drift_mm=drift_mm,
        peak_rpm=peak_rad_s * _RPM,
        energy_j=float(states[2, -1]),
    )
    return stop, trace
