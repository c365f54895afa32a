"""How and where the lining grips: state of its surface, fade with heat, radius it acts at."""

from dataclasses import dataclass
from typing import overload

import numpy as np
from numpy.typing import ArrayLike, NDArray

from widgets.brake.judgement.standards import Mark
from widgets.brake.ranges import in_range

# Dry organic or moulded lining on steel or cast iron. Public engineering table
# of clutch and brake materials, confirmed.
DRY_FRICTION_RANGE = (0.20, 0.50)
# The same, oil-wetted. Same table, confirmed.
OILED_FRICTION_RANGE = (0.08, 0.12)

# Share of the cold coefficient left at a disc temperature, °C. Invented curve
# through common practice: organic linings hold to about 200 °C and then fade.
FADE_TEMPERATURE_C = (200.0, 250.0, 300.0, 400.0)
FADE_FACTOR = (1.00, 0.85, 0.70, 0.50)


@dataclass(frozen=True, slots=True)
class Surface:
    """A state of the rubbing faces: a coefficient of its own, or a share of the nominal one."""

    name: str
    says: str
    friction: float | None
    factor: float
    source: str
    mark: Mark

    def __post_init__(self) -> None:
        in_range("surface factor", self.factor, "", above=0, high=1)
        if self.friction is not None:
            in_range("surface friction", self.friction, "", above=0, high=1)


SURFACES: dict[str, Surface] = {
    surface.name: surface
    for surface in (
        Surface(
            "bedded",
            "run in, dry and clean",
            None,
            1.0,
            "the coefficient of the limits sheet",
            Mark.COMMON_PRACTICE,
        ),
        Surface(
            "unbedded",
            "new lining, carrying on its high spots only",
            None,
            0.70,
            "60 to 80 % of the torque until it has bedded in; the middle is taken",
            Mark.COMMON_PRACTICE,
        ),
        Surface(
            "wet",
            "wet with water, until it has dried",
            None,
            0.60,
            "plausible value for teaching; a wet lining grips less until it is dry",
            Mark.INVENTED,
        ),
        Surface(
            "glazed",
            "glassy and brown from heat",
            0.25,
            1.0,
            "plausible value for teaching",
            Mark.INVENTED,
        ),
        Surface(
            "oiled",
            "dark and shiny, oil on the faces",
            0.10,
            1.0,
            "public engineering table, 0.08 to 0.12 oil-wetted; the middle is taken",
            Mark.CONFIRMED,
        ),
    )
}


@overload
def friction_coefficient(
    nominal: float, *, surface: str = ..., temperature_c: float = ...
) -> float: ...
@overload
def friction_coefficient(
    nominal: ArrayLike, *, surface: str = ..., temperature_c: ArrayLike = ...
) -> NDArray[np.float64]: ...
def friction_coefficient(
    nominal: ArrayLike, *, surface: str = "bedded", temperature_c: ArrayLike = 20.0
) -> float | NDArray[np.float64]:
    """Return the coefficient of friction of a lining as it is now.

    Parameters
    ----------
    nominal : float or array_like
        Coefficient on the limits sheet, dry, bedded and cool, above 0 to 1.
    surface : str
        A name in `SURFACES`.
    temperature_c : float or array_like
        Temperature of the rubbing faces, °C, -40 to 600.

    Returns
    -------
    float or ndarray
        Coefficient, without dimension, in the broadcast shape.

    Raises
    ------
    ValueError
        If a number is out of its range or the surface has no such name.

    Notes
    -----
    A spoilt surface never grips better than the sound one: where `SURFACES`
    gives a coefficient, the smaller of it and the nominal counts. Source: see
    each `Surface`, and `fade_factor`.

    Examples
    --------
    >>> friction_coefficient(0.36, surface="glazed")
    0.25
    """
    cold = in_range("nominal", nominal, "", above=0, high=1)
    if surface not in SURFACES:
        raise ValueError(f"surface must be one of {', '.join(SURFACES)}, got {surface!r:.40}")
    state = SURFACES[surface]
    if state.friction is not None:
        cold = (
            min(cold, state.friction)
            if isinstance(cold, float)
            else np.minimum(cold, state.friction)
        )
    return cold * state.factor * fade_factor(temperature_c)


@overload
def fade_factor(temperature_c: float) -> float: ...
@overload
def fade_factor(temperature_c: ArrayLike) -> NDArray[np.float64]: ...
def fade_factor(temperature_c: ArrayLike) -> float | NDArray[np.float64]:
    """Return the share of the cold coefficient of friction that is left when hot.

    Parameters
    ----------
    temperature_c : float or array_like
        Temperature of the rubbing faces, °C, -40 to 600.

    Returns
    -------
    float or ndarray
        Factor, 0.5 to 1, of the same shape. Beyond 400 °C it stays at the last
        value: a lining that hot is spent, whatever the curve says.

    Raises
    ------
    ValueError
        If a temperature is out of its range.

    Notes
    -----
    Source: none; an invented placeholder through common practice.

    Examples
    --------
    >>> fade_factor(225.0)
    0.925
    """
    hot_c = in_range("temperature_c", temperature_c, "°C", low=-40, high=600)
    if isinstance(hot_c, float) and hot_c <= FADE_TEMPERATURE_C[0]:
        return 1.0
    factor = np.interp(hot_c, FADE_TEMPERATURE_C, FADE_FACTOR)
    return float(factor) if isinstance(hot_c, float) else np.asarray(factor)


@overload
def uniform_wear_radius_mm(inner_radius_mm: float, outer_radius_mm: float) -> float: ...
@overload
def uniform_wear_radius_mm(
    inner_radius_mm: ArrayLike, outer_radius_mm: ArrayLike
) -> NDArray[np.float64]: ...
def uniform_wear_radius_mm(
    inner_radius_mm: ArrayLike, outer_radius_mm: ArrayLike
) -> float | NDArray[np.float64]:
    """Return the radius at which the friction of a run-in lining acts: the mean radius.

    Parameters
    ----------
    inner_radius_mm, outer_radius_mm : float or array_like
        Of the rubbing ring, mm; 0 <= inner < outer.

    Returns
    -------
    float or ndarray
        Effective radius, mm, in the broadcast shape.

    Raises
    ------
    ValueError
        If the radii do not make a ring.

    Notes
    -----
    A run-in ring wears evenly, so pressure times radius is constant.
    Source: Shigley, ch. 16, axial clutches, uniform wear; Bhandari, ch. 11.

    Examples
    --------
    >>> uniform_wear_radius_mm(47.0, 74.0)
    60.5
    """
    inner, outer = _ring(inner_radius_mm, outer_radius_mm)
    return (inner + outer) / 2


@overload
def uniform_pressure_radius_mm(inner_radius_mm: float, outer_radius_mm: float) -> float: ...
@overload
def uniform_pressure_radius_mm(
    inner_radius_mm: ArrayLike, outer_radius_mm: ArrayLike
) -> NDArray[np.float64]: ...
def uniform_pressure_radius_mm(
    inner_radius_mm: ArrayLike, outer_radius_mm: ArrayLike
) -> float | NDArray[np.float64]:
    """Return the radius at which the friction of a new, evenly pressed lining acts.

    Parameters
    ----------
    inner_radius_mm, outer_radius_mm : float or array_like
        Of the rubbing ring, mm; 0 <= inner < outer.

    Returns
    -------
    float or ndarray
        Effective radius, mm; 1 to 4/3 times that of uniform wear.

    Raises
    ------
    ValueError
        If the radii do not make a ring.

    Notes
    -----
    Two thirds of the difference of cubes over the difference of squares,
    written without the difference so that a thin ring loses no digits.
    Source: Shigley, ch. 16, axial clutches, uniform pressure; Bhandari, ch. 11.

    Examples
    --------
    >>> round(uniform_pressure_radius_mm(47.0, 74.0), 2)
    61.5
    """
    inner, outer = _ring(inner_radius_mm, outer_radius_mm)
    return 2 * (inner * inner + inner * outer + outer * outer) / (3 * (inner + outer))


def _ring(
    inner_radius_mm: ArrayLike, outer_radius_mm: ArrayLike
) -> tuple[float | NDArray[np.float64], float | NDArray[np.float64]]:
    inner = in_range("inner_radius_mm", inner_radius_mm, "mm", low=0)
    outer = in_range("outer_radius_mm", outer_radius_mm, "mm", above=0)
    in_range("outer_radius_mm less inner_radius_mm", outer - inner, "mm", above=0)
    return inner, outer
