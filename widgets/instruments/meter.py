"""A multimeter and an insulation tester: what they show of a coil and its supply."""

import math
from dataclasses import dataclass, replace

from widgets.brake.draws import Draws
from widgets.brake.ranges import in_range

from .budget import Budget, rectangular

COUNTS = 6000  # steps of the display in each scale; common practice, no source
OHM_SCALES = (600.0, 6_000.0, 60_000.0, 600_000.0, 6_000_000.0)  # ohm, full scale
VOLT_SCALES = (6.0, 60.0, 600.0, 1000.0)  # V, full scale
OHM_PERCENT, OHM_DIGITS = 0.9, 2  # % of reading + steps, either way; common practice, no source
VOLT_PERCENT, VOLT_DIGITS = 0.5, 2  # % of reading + steps, either way; common practice, no source
LEADS_OHM = 0.2  # ohm, pair of test leads; common practice, no source
LEADS_SPREAD_OHM = 0.1  # ohm, either way, by lead and contact; common practice, no source
CONTACT_OHM = 0.02  # ohm, either way, what changes between nulling and reading; common practice

TEST_VOLTAGE_V = 500.0  # V direct, IEC 60204-1 clause 18.3, from memory
LEAST_INSULATION_MOHM = 1.0  # megohm, IEC 60204-1 clause 18.3, from memory
INSULATION_TOP_MOHM = 550.0  # megohm, end of scale at 500 V; common practice, no source
INSULATION_PERCENT = 5.0  # % of reading, either way; common practice, no source


@dataclass(frozen=True, slots=True)
class Meter:
    """One multimeter, with the errors that are its own.

    Attributes
    ----------
    gain_share : float
        Where in its declared accuracy this meter lies, dimensionless, -1 to 1.
    leads_ohm : float
        Resistance of its leads with their contacts, ohm, zero or more.
    nulled_ohm : float
        What is taken off each resistance, ohm: the leads, if they were nulled.
    """

    gain_share: float = 0.0
    leads_ohm: float = LEADS_OHM
    nulled_ohm: float = 0.0

    def __post_init__(self) -> None:
        in_range("meter gain_share", self.gain_share, "", low=-1, high=1)
        in_range("meter leads_ohm", self.leads_ohm, "ohm", low=0, high=100)
        in_range("meter nulled_ohm", self.nulled_ohm, "ohm", low=0, high=100)

    def nulled(self) -> "Meter":
        """Return the meter after its leads were held together and nulled."""
        shown = _on_scale(self.leads_ohm * self._gain(OHM_PERCENT), OHM_SCALES)
        return replace(self, nulled_ohm=shown or 0.0)

    def read_ohm(self, resistance_ohm: float, draws: Draws, *labels: str | int) -> float | None:
        """Return the resistance shown, or None for "over the scale".

        Parameters
        ----------
        resistance_ohm : float
            True resistance between the tips, ohm, zero or more; infinite for a broken wire.
        draws : Draws
            Dice of this brake and meter.
        *labels : str or int
            What tells this reading from the others.

        Returns
        -------
        float or None
            Display, ohm; None above the top scale.

        Raises
        ------
        ValueError
            If the resistance is negative or not a number.
        """
        if resistance_ohm == math.inf:
            return None
        in_range("resistance_ohm", resistance_ohm, "ohm", low=0)
        contact_ohm = CONTACT_OHM * (2 * draws.uniform("contact", *labels) - 1)
        seen_ohm = (resistance_ohm + self.leads_ohm + contact_ohm) * self._gain(OHM_PERCENT)
        return _on_scale(
            max(0.0, seen_ohm - self.nulled_ohm), OHM_SCALES, _digits(OHM_DIGITS, draws, labels)
        )

    def read_volt(self, voltage_v: float, draws: Draws, *labels: str | int) -> float | None:
        """Return the voltage shown, or None for "over the scale".

        Parameters
        ----------
        voltage_v : float
            True voltage between the tips, V, of either sign.
        draws : Draws
            Dice of this brake and meter.
        *labels : str or int
            What tells this reading from the others.

        Returns
        -------
        float or None
            Display, V; None above the top scale.
        """
        in_range("voltage_v", voltage_v, "V")
        seen_v = voltage_v * self._gain(VOLT_PERCENT)
        return _on_scale(seen_v, VOLT_SCALES, _digits(VOLT_DIGITS, draws, labels))

    def _gain(self, percent: float) -> float:
        return 1 + self.gain_share * percent / 100


def meter(draws: Draws) -> Meter:
    """Return a multimeter as issued: somewhere within its accuracy, with leads of its own."""
    return Meter(
        gain_share=2 * draws.uniform("gain") - 1,
        leads_ohm=LEADS_OHM + LEADS_SPREAD_OHM * (2 * draws.uniform("leads") - 1),
    )


def _digits(digits: int, draws: Draws, labels: tuple[str | int, ...]) -> float:
    """Return the error in steps of the display, dimensionless, even within ± `digits`."""
    return digits * (2 * draws.uniform("digits", *labels) - 1)


def step_of(value: float, scales: tuple[float, ...]) -> float | None:
    """Return the step of the lowest scale that holds a value, in its unit; None above the top."""
    if math.isnan(value):
        raise ValueError("value must be a number, got nan")
    for top in scales:
        if abs(value) <= top:
            return top / COUNTS
    return None


def _on_scale(value: float, scales: tuple[float, ...], digits: float = 0.0) -> float | None:
    """Return a value as displayed, in its unit, `digits` steps off; None above the top scale."""
    step = step_of(value, scales)
    return None if step is None else round(round(value / step + digits) * step, 6) + 0.0


def ohm_budget(resistance_ohm: float, *, leads_nulled: bool = True) -> Budget:
    """Return the uncertainty of a resistance read with the multimeter.

    Parameters
    ----------
    resistance_ohm : float
        Resistance, ohm, 0 to 6 million.
    leads_nulled : bool
        Whether the leads were nulled first; if not, 0.2 ohm must be taken off by hand.

    Returns
    -------
    Budget
        In ohm.

    Notes
    -----
    Source: JCGM 100:2008, 4.3.7; accuracy by common practice, no source.
    """
    in_range("resistance_ohm", resistance_ohm, "ohm", low=0, high=OHM_SCALES[-1])
    step = step_of(resistance_ohm, OHM_SCALES) or 0.0
    lines = [
        rectangular("accuracy, share of reading", resistance_ohm * OHM_PERCENT / 100, "ohm"),
        rectangular("accuracy, digits", OHM_DIGITS * step, "ohm"),
        rectangular("step of the display", step / 2, "ohm"),
        rectangular("contact of the tips", CONTACT_OHM, "ohm"),
    ]
    if leads_nulled:
        lines.append(rectangular("step of the display when nulling", step / 2, "ohm"))
    else:
        lines.append(rectangular("leads, 0.2 taken off", LEADS_SPREAD_OHM, "ohm"))
    return Budget("resistance by multimeter", "ohm", tuple(lines))


def volt_budget(voltage_v: float) -> Budget:
    """Return the uncertainty of a voltage read with the multimeter.

    Parameters
    ----------
    voltage_v : float
        Voltage, V, -1000 to 1000.

    Returns
    -------
    Budget
        In V.

    Notes
    -----
    Source: JCGM 100:2008, 4.3.7; accuracy by common practice, no source.
    """
    in_range("voltage_v", voltage_v, "V", low=-VOLT_SCALES[-1], high=VOLT_SCALES[-1])
    step = step_of(voltage_v, VOLT_SCALES) or 0.0
    return Budget(
        "voltage by multimeter",
        "V",
        (
            rectangular("accuracy, share of reading", abs(voltage_v) * VOLT_PERCENT / 100, "V"),
            rectangular("accuracy, digits", VOLT_DIGITS * step, "V"),
            rectangular("step of the display", step / 2, "V"),
        ),
    )


@dataclass(frozen=True, slots=True)
class InsulationReading:
    """What an insulation tester shows.

    Attributes
    ----------
    resistance_mohm : float
        Display, megohm; the end of the scale if it is above it.
    is_over_scale : bool
        Whether the display says "more than".
    test_voltage_v : float
        Direct voltage that was applied, V.
    """

    resistance_mohm: float
    is_over_scale: bool
    test_voltage_v: float = TEST_VOLTAGE_V

    @property
    def is_good(self) -> bool:
        """Whether it shows at least 1 megohm at 500 V direct or more."""
        enough = self.resistance_mohm >= LEAST_INSULATION_MOHM
        return enough and self.test_voltage_v >= TEST_VOLTAGE_V


def read_insulation(insulation_mohm: float, draws: Draws, *labels: str | int) -> InsulationReading:
    """Return what the tester shows between winding and earth.

    Parameters
    ----------
    insulation_mohm : float
        True insulation resistance, megohm, zero or more; infinite is over the scale.
    draws : Draws
        Dice of this brake and tester.
    *labels : str or int
        What tells this reading from the others.

    Returns
    -------
    InsulationReading
        To two significant figures.

    Raises
    ------
    ValueError
        If the resistance is negative or not a number.

    Notes
    -----
    Source: IEC 60204-1 clause 18.3, from memory, for 500 V and 1 megohm; the
    tester's scale and accuracy are common practice, no source.
    """
    if insulation_mohm != math.inf:
        in_range("insulation_mohm", insulation_mohm, "megohm", low=0)
    error = INSULATION_PERCENT / 100 * (2 * draws.uniform("insulation", *labels) - 1)
    seen_mohm = insulation_mohm * (1 + error)
    if seen_mohm > INSULATION_TOP_MOHM:
        return InsulationReading(INSULATION_TOP_MOHM, is_over_scale=True)
    return InsulationReading(float(f"{seen_mohm:.2g}"), is_over_scale=False)


def insulation_budget(insulation_mohm: float) -> Budget:
    """Return the uncertainty of an insulation resistance.

    Parameters
    ----------
    insulation_mohm : float
        Resistance, megohm, above 0 to 550.

    Returns
    -------
    Budget
        In megohm.

    Notes
    -----
    Source: JCGM 100:2008, 4.3.7; accuracy by common practice, no source.
    """
    in_range("insulation_mohm", insulation_mohm, "megohm", above=0, high=INSULATION_TOP_MOHM)
    step = 10.0 ** (math.floor(math.log10(insulation_mohm)) - 1)
    return Budget(
        "insulation resistance",
        "megohm",
        (
            rectangular("accuracy", insulation_mohm * INSULATION_PERCENT / 100, "megohm"),
            rectangular("step of the display", step / 2, "megohm"),
        ),
    )
