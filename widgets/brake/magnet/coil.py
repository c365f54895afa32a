"""What a coil does when it warms, is fed, or is damaged: resistance, current, power, rectifier."""

from enum import StrEnum
from math import pi, sqrt
from typing import overload

import numpy as np
from numpy.typing import ArrayLike, NDArray

from widgets.brake.ranges import in_range
from widgets.brake.sizes.size import Coil

COPPER_ALPHA_20_PER_K = 0.00393  # 1/K, annealed copper at 20 °C, IEC 60028
IEC_COPPER_OFFSET_K = 235.0  # K, (235 + T) of copper windings, IEC 60034-1 resistance method
COLDEST_C, HOTTEST_C = -60.0, 300.0  # °C, where the straight line is good to about 1 %
BRIDGE_RATIO = 2 * sqrt(2) / pi  # mean over effective value, full-wave rectified sine
HALF_WAVE_RATIO = sqrt(2) / pi  # mean over effective value, half-wave with freewheeling diode

Numbers = float | NDArray[np.float64]


class Rectifier(StrEnum):
    """How the brake's direct voltage is made."""

    BRIDGE = "bridge"
    HALF_WAVE = "half-wave"


def checked_temperature_c(name: str, temperature_c: ArrayLike) -> Numbers:
    """Return a coil temperature, refused outside -60 to 300 °C."""
    return in_range(name, temperature_c, "°C", COLDEST_C, HOTTEST_C)


@overload
def copper_ratio(temperature_c: float) -> float: ...
@overload
def copper_ratio(temperature_c: ArrayLike) -> NDArray[np.float64]: ...
def copper_ratio(temperature_c: ArrayLike) -> Numbers:
    """Return how many times its resistance at 20 °C a copper winding has.

    Parameters
    ----------
    temperature_c : float or array_like, °C
        Mean temperature of the winding, -60 to 300 °C.

    Returns
    -------
    float or ndarray of the same shape, dimensionless
        Resistance over resistance at 20 °C.

    Raises
    ------
    ValueError
        If a temperature is outside the range or not a number.

    Notes
    -----
    Resistance of copper is a straight line in temperature to about 1 % in
    this range. Source: IEC 60028, 0.393 % per kelvin at 20 °C.
    """
    return _ratio("temperature_c", temperature_c)


def _ratio(name: str, temperature_c: ArrayLike) -> Numbers:
    """Return `copper_ratio` of a temperature that its caller knows by another name."""
    warmer_k = checked_temperature_c(name, temperature_c) - 20.0
    return 1.0 + COPPER_ALPHA_20_PER_K * warmer_k


@overload
def coil_resistance_ohm(
    coil: Coil, temperature_c: float = ..., *, resistance_factor: float = ...
) -> float: ...
@overload
def coil_resistance_ohm(
    coil: Coil, temperature_c: ArrayLike, *, resistance_factor: ArrayLike = ...
) -> NDArray[np.float64]: ...
def coil_resistance_ohm(
    coil: Coil, temperature_c: ArrayLike = 20.0, *, resistance_factor: ArrayLike = 1.0
) -> Numbers:
    """Return what an ohmmeter with no error would show across the coil.

    Parameters
    ----------
    coil : Coil
        The coil as built.
    temperature_c : float or array_like, °C
        Mean temperature of the winding, -60 to 300 °C.
    resistance_factor : float or array_like, dimensionless
        Fault: 0.8 for a fifth of the turns shorted, above 1 for a bad joint.

    Returns
    -------
    float or ndarray of the broadcast shape, ohm

    Raises
    ------
    ValueError
        If a temperature is out of range or a factor is not above zero.
    """
    factor = in_range("resistance_factor", resistance_factor, "", above=0)
    return coil.resistance_20_ohm * factor * copper_ratio(temperature_c)


@overload
def temperature_from_resistance_c(
    resistance_ohm: float, known_resistance_ohm: float, known_temperature_c: float = ...
) -> float: ...
@overload
def temperature_from_resistance_c(
    resistance_ohm: ArrayLike, known_resistance_ohm: ArrayLike, known_temperature_c: ArrayLike = ...
) -> NDArray[np.float64]: ...
def temperature_from_resistance_c(
    resistance_ohm: ArrayLike,
    known_resistance_ohm: ArrayLike,
    known_temperature_c: ArrayLike = 20.0,
) -> Numbers:
    """Return the mean temperature of a copper winding from its resistance.

    Parameters
    ----------
    resistance_ohm : float or array_like, ohm
        As measured now, above zero.
    known_resistance_ohm : float or array_like, ohm
        The same winding at the known temperature, above zero.
    known_temperature_c : float or array_like, °C
        Temperature it had then, -60 to 300 °C.

    Returns
    -------
    float or ndarray of the broadcast shape, °C

    Raises
    ------
    ValueError
        If a resistance is not above zero or the temperature is out of range.

    Notes
    -----
    The inverse of `copper_ratio`. Source: IEC 60028.
    """
    now = in_range("resistance_ohm", resistance_ohm, "ohm", above=0)
    known = in_range("known_resistance_ohm", known_resistance_ohm, "ohm", above=0)
    return (
        20.0
        + (now / known * _ratio("known_temperature_c", known_temperature_c) - 1.0)
        / COPPER_ALPHA_20_PER_K
    )


@overload
def temperature_by_iec_60034_c(
    resistance_ohm: float, known_resistance_ohm: float, known_temperature_c: float = ...
) -> float: ...
@overload
def temperature_by_iec_60034_c(
    resistance_ohm: ArrayLike, known_resistance_ohm: ArrayLike, known_temperature_c: ArrayLike = ...
) -> NDArray[np.float64]: ...
def temperature_by_iec_60034_c(
    resistance_ohm: ArrayLike,
    known_resistance_ohm: ArrayLike,
    known_temperature_c: ArrayLike = 20.0,
) -> Numbers:
    """Return the same temperature by the rule written for tests of rotating machines.

    Parameters
    ----------
    resistance_ohm : float or array_like, ohm
        As measured now, above zero.
    known_resistance_ohm : float or array_like, ohm
        The same winding at the known temperature, above zero.
    known_temperature_c : float or array_like, °C
        Temperature it had then, -60 to 300 °C.

    Returns
    -------
    float or ndarray of the broadcast shape, °C

    Raises
    ------
    ValueError
        If a resistance is not above zero or the temperature is out of range.

    Notes
    -----
    R2/R1 = (235 + T2)/(235 + T1). It differs from the line through 20 °C by
    0.2 K at 100 °C. Source: IEC 60034-1, temperature rise by resistance.
    """
    now = in_range("resistance_ohm", resistance_ohm, "ohm", above=0)
    known = in_range("known_resistance_ohm", known_resistance_ohm, "ohm", above=0)
    start_c = checked_temperature_c("known_temperature_c", known_temperature_c)
    return now / known * (IEC_COPPER_OFFSET_K + start_c) - IEC_COPPER_OFFSET_K


def _fed(
    coil: Coil, voltage_v: ArrayLike | None, temperature_c: ArrayLike, factor: ArrayLike
) -> tuple[Numbers, Numbers]:
    voltage = in_range("voltage_v", coil.voltage_v if voltage_v is None else voltage_v, "V", low=0)
    return voltage, coil_resistance_ohm(coil, temperature_c, resistance_factor=factor)


@overload
def coil_current_a(
    coil: Coil,
    voltage_v: float | None = ...,
    temperature_c: float = ...,
    *,
    resistance_factor: float = ...,
) -> float: ...
@overload
def coil_current_a(
    coil: Coil,
    voltage_v: ArrayLike | None = ...,
    temperature_c: ArrayLike = ...,
    *,
    resistance_factor: ArrayLike = ...,
) -> NDArray[np.float64]: ...
def coil_current_a(
    coil: Coil,
    voltage_v: ArrayLike | None = None,
    temperature_c: ArrayLike = 20.0,
    *,
    resistance_factor: ArrayLike = 1.0,
) -> Numbers:
    """Return the steady current of the coil.

    Parameters
    ----------
    coil : Coil
        The coil as built.
    voltage_v : float or array_like, V
        Direct voltage across it, zero or more; the rated voltage if left out.
    temperature_c : float or array_like, °C
        Mean temperature of the winding, -60 to 300 °C.
    resistance_factor : float or array_like, dimensionless
        Fault: resistance over that of a sound coil, above zero.

    Returns
    -------
    float or ndarray of the broadcast shape, A

    Raises
    ------
    ValueError
        If an argument is out of range.
    """
    voltage, resistance = _fed(coil, voltage_v, temperature_c, resistance_factor)
    return voltage / resistance


@overload
def coil_power_w(
    coil: Coil,
    voltage_v: float | None = ...,
    temperature_c: float = ...,
    *,
    resistance_factor: float = ...,
) -> float: ...
@overload
def coil_power_w(
    coil: Coil,
    voltage_v: ArrayLike | None = ...,
    temperature_c: ArrayLike = ...,
    *,
    resistance_factor: ArrayLike = ...,
) -> NDArray[np.float64]: ...
def coil_power_w(
    coil: Coil,
    voltage_v: ArrayLike | None = None,
    temperature_c: ArrayLike = 20.0,
    *,
    resistance_factor: ArrayLike = 1.0,
) -> Numbers:
    """Return the heat that the coil makes in the steady state.

    Parameters
    ----------
    coil : Coil
        The coil as built.
    voltage_v : float or array_like, V
        Direct voltage across it, zero or more; the rated voltage if left out.
    temperature_c : float or array_like, °C
        Mean temperature of the winding, -60 to 300 °C.
    resistance_factor : float or array_like, dimensionless
        Fault: resistance over that of a sound coil, above zero.

    Returns
    -------
    float or ndarray of the broadcast shape, W

    Raises
    ------
    ValueError
        If an argument is out of range.
    """
    voltage, resistance = _fed(coil, voltage_v, temperature_c, resistance_factor)
    return voltage * voltage / resistance


@overload
def coil_ampere_turns(
    coil: Coil,
    voltage_v: float | None = ...,
    temperature_c: float = ...,
    *,
    resistance_factor: float = ...,
    turns_factor: float = ...,
) -> float: ...
@overload
def coil_ampere_turns(
    coil: Coil,
    voltage_v: ArrayLike | None = ...,
    temperature_c: ArrayLike = ...,
    *,
    resistance_factor: ArrayLike = ...,
    turns_factor: ArrayLike = ...,
) -> NDArray[np.float64]: ...
def coil_ampere_turns(
    coil: Coil,
    voltage_v: ArrayLike | None = None,
    temperature_c: ArrayLike = 20.0,
    *,
    resistance_factor: ArrayLike = 1.0,
    turns_factor: ArrayLike = 1.0,
) -> Numbers:
    """Return what the coil drives flux with, current times turns.

    Parameters
    ----------
    coil : Coil
        The coil as built.
    voltage_v : float or array_like, V
        Direct voltage across it, zero or more; the rated voltage if left out.
    temperature_c : float or array_like, °C
        Mean temperature of the winding, -60 to 300 °C.
    resistance_factor, turns_factor : float or array_like, dimensionless
        Faults: resistance and live turns over those of a sound coil. Shorted
        turns lower both alike, a bad joint raises the resistance alone.

    Returns
    -------
    float or ndarray of the broadcast shape, A

    Raises
    ------
    ValueError
        If an argument is out of range.
    """
    voltage, resistance = _fed(coil, voltage_v, temperature_c, resistance_factor)
    live_turns = coil.turns * in_range("turns_factor", turns_factor, "", above=0)
    return voltage / resistance * live_turns


@overload
def rectified_voltage_v(
    supply_v: float, rectifier: Rectifier = ..., *, diode_open: bool = ...
) -> float: ...
@overload
def rectified_voltage_v(
    supply_v: ArrayLike, rectifier: Rectifier = ..., *, diode_open: bool = ...
) -> NDArray[np.float64]: ...
def rectified_voltage_v(
    supply_v: ArrayLike, rectifier: Rectifier = Rectifier.BRIDGE, *, diode_open: bool = False
) -> Numbers:
    """Return the mean direct voltage behind a rectifier.

    Parameters
    ----------
    supply_v : float or array_like, V
        Effective value of the alternating supply, zero or more.
    rectifier : Rectifier
        Bridge, or half-wave with freewheeling diode.
    diode_open : bool
        Fault: one diode no longer conducts. A bridge then gives half its
        voltage, a half-wave rectifier (its series diode) none.

    Returns
    -------
    float or ndarray of the same shape, V
        What a direct-voltage meter shows, diode drops left out.

    Raises
    ------
    ValueError
        If a supply voltage is negative or not a number.

    Notes
    -----
    The coil's inductance smooths the current, so the mean voltage counts.
    Source: integral of a rectified sine, 2√2/π and √2/π.
    """
    supply = in_range("supply_v", supply_v, "V", low=0)
    if rectifier is Rectifier.BRIDGE:
        return supply * (HALF_WAVE_RATIO if diode_open else BRIDGE_RATIO)
    return supply * (0.0 if diode_open else HALF_WAVE_RATIO)


@overload
def release_voltage_at_v(measured_v: float, measured_at_c: float, wanted_at_c: float) -> float: ...
@overload
def release_voltage_at_v(
    measured_v: ArrayLike, measured_at_c: ArrayLike, wanted_at_c: ArrayLike
) -> NDArray[np.float64]: ...
def release_voltage_at_v(
    measured_v: ArrayLike, measured_at_c: ArrayLike, wanted_at_c: ArrayLike
) -> Numbers:
    """Return a measured release voltage, carried over to another coil temperature.

    Parameters
    ----------
    measured_v : float or array_like, V
        Voltage at which the plate pulled in, zero or more.
    measured_at_c : float or array_like, °C
        Mean temperature of the winding at that moment, -60 to 300 °C.
    wanted_at_c : float or array_like, °C
        Temperature to be judged for, -60 to 300 °C.

    Returns
    -------
    float or ndarray of the broadcast shape, V

    Raises
    ------
    ValueError
        If an argument is out of range.

    Notes
    -----
    Release needs certain ampere-turns, and so a certain current: the voltage
    for it goes as the resistance. Source: Ohm's law with `copper_ratio`.
    """
    measured = in_range("measured_v", measured_v, "V", low=0)
    return measured * _ratio("wanted_at_c", wanted_at_c) / _ratio("measured_at_c", measured_at_c)


@overload
def release_limit_ratio(
    measured_at_c: float = ..., supply_ratio: float = ..., hot_c: float = ...
) -> float: ...
@overload
def release_limit_ratio(
    measured_at_c: ArrayLike = ..., supply_ratio: float = ..., hot_c: float = ...
) -> NDArray[np.float64]: ...
def release_limit_ratio(
    measured_at_c: ArrayLike = 20.0, supply_ratio: float = 0.90, hot_c: float = 100.0
) -> Numbers:
    """Return the highest release voltage that passes, as a share of the rated voltage.

    Parameters
    ----------
    measured_at_c : float or array_like, °C
        Mean temperature of the winding during the test, -60 to 300 °C.
    supply_ratio : float, dimensionless
        Lowest supply to be expected over the rated voltage, above 0 to 1.
    hot_c : float, °C
        Hottest winding to be expected, -60 to 300 °C.

    Returns
    -------
    float or ndarray of the same shape, dimensionless

    Raises
    ------
    ValueError
        If an argument is out of range.

    Notes
    -----
    A brake must pull in at the lowest voltage with a hot coil. Source: voltage
    band of about ±10 % after DIN VDE 0580, from memory.
    """
    lowest = in_range("supply_ratio", supply_ratio, "", above=0, high=1)
    return lowest * _ratio("measured_at_c", measured_at_c) / _ratio("hot_c", hot_c)
