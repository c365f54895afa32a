"""How far the load runs on after power-off: several stops in one figure."""

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace

from widgets.brake.behaviour import application_delay_ms, torque_nm
from widgets.brake.condition import sound_condition
from widgets.brake.gap.profile import Plane
from widgets.brake.magnet.transient import Switching
from widgets.brake.sizes.size import BrakeSize
from widgets.brake.torque import Stop, StopCase, closed_form_stop, integrated_stop, stop_case

from .marks import OCHRE, WIDTH_IN
from .picture import ACCENT, DANGER, INK, Picture, in_style, new_figure, picture

WATCH_S = 0.6  # how long a brake that does not hold is followed after its full torque
LOOKS = ((ACCENT, "-", "o"), (INK, "--", "s"), (OCHRE, "-.", "D"), (DANGER, ":", "^"))


@dataclass(frozen=True, slots=True)
class StopOf:
    """One stop while lowering the rated load: its name, gap, switching and state of the faces."""

    words: str
    gap_mm: float
    switching: Switching = Switching.DC_SIDE
    surface: str = "bedded"
    face_c: float = 20.0


def course_case(size: BrakeSize, stop: StopOf) -> StopCase:
    """Return the stop as `integrated_stop` takes it: torque and delay follow from the brake.

    Raises
    ------
    ValueError
        If gap, surface or temperature cannot be.
    """
    sound = sound_condition(size, gap=Plane(stop.gap_mm))
    condition = replace(sound, surface=stop.surface, face_c=stop.face_c)
    delay_ms = application_delay_ms(size, condition, stop.switching)
    return stop_case(size.hoist, torque_nm(size, condition, stop.gap_mm), delay_ms)


def how_it_ends(size: BrakeSize, stop: StopOf) -> Stop:
    """Return how the stop ends, in closed form; arguments as for `course_case`."""
    return closed_form_stop(course_case(size, stop))


def four_stops(size: BrakeSize) -> tuple[StopOf, ...]:
    """Return the stops that belong on the wall: setting and largest gap, DC and AC side."""
    at_setting, at_largest = size.gap.setting_mm, size.gap.max_mm
    return (
        StopOf("setting gap, DC side", at_setting),
        StopOf("largest gap, DC side", at_largest),
        StopOf("setting gap, AC side", at_setting, Switching.AC_SIDE),
        StopOf("largest gap, AC side", at_largest, Switching.AC_SIDE),
    )


def stop_figure(size: BrakeSize, stops: Sequence[StopOf] = ()) -> Picture:
    """Return the travel of the load over time for one to four stops from lowering.

    Parameters
    ----------
    size : BrakeSize
        The brake and its hoist.
    stops : sequence of StopOf
        At most four; the four of the wall, if none are given.

    Raises
    ------
    ValueError
        If there are more than four, or one of them cannot be.
    """
    chosen = tuple(stops) or four_stops(size)
    if len(chosen) > len(LOOKS):
        raise ValueError(f"stops must be at most {len(LOOKS)}, got {len(chosen)}")
    with in_style():
        figure = new_figure(WIDTH_IN, 5.2)
        axes = figure.add_subplot()
        ends: list[tuple[StopOf, Stop]] = []
        longest_ms = deepest_mm = 0.0
        for stop, (colour, dash, mark) in zip(chosen, LOOKS, strict=False):
            end, trace = integrated_stop(course_case(size, stop), watch_s=WATCH_S)
            time_ms = 1000 * trace.time_s
            axes.plot(time_ms, trace.travel_mm, color=colour, ls=dash, label=stop.words)
            axes.plot(
                time_ms[-1], trace.travel_mm[-1], marker=mark if end.held else "v", color=colour
            )
            where = f" {trace.travel_mm[-1]:.0f} mm" if end.held else "runs away "
            place = {"va": "bottom", "ha": "left" if end.held else "right", "weight": "bold"}
            axes.text(time_ms[-1], trace.travel_mm[-1], where, color=colour, **place)
            longest_ms = max(longest_ms, float(time_ms[-1]))
            deepest_mm = max(deepest_mm, float(trace.travel_mm[-1]))
            ends.append((stop, end))
        axes.set(xlim=(0, 1.16 * longest_ms), ylim=(1.1 * deepest_mm, 0))
        axes.set(xlabel="time after power-off, ms", ylabel="load has sunk by, mm")
        axes.set_title("What the load does after power-off, lowering")
        figure.legend(loc="outside lower center", ncols=2)
        return picture(figure, _alt(size, ends))


def _alt(size: BrakeSize, ends: Sequence[tuple[StopOf, Stop]]) -> str:
    told = [f"{stop.words}: {_in_words(end)}" for stop, end in ends]
    return (
        f"Travel of the rated load of {size.hoist.load_kg:g} kg after power-off while lowering at "
        f"{size.hoist.speed_m_per_min:g} m/min. {'; '.join(told)}."
    )


def _in_words(end: Stop) -> str:
    if not end.held or math.isinf(end.travel_mm):
        return "the brake does not hold, the load runs away"
    return f"stands after {1000 * end.time_s:.0f} ms and {end.travel_mm:.0f} mm"
