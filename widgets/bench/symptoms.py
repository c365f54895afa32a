"""What eyes, ears, nose and hand find at a brake, part by part, as codes.

A symptom follows from the brake as it stands, never from the name of a fault.
Source of the signs: common practice, no source.
"""

from collections.abc import Callable, Iterator
from dataclasses import dataclass

from widgets.brake.around import WET
from widgets.brake.behaviour import magnet_now, release_share, supply_share
from widgets.brake.faults.changes import BLUE_FACE_C
from widgets.brake.magnet import sticks
from widgets.brake.magnet.transient import Switching

from .setup import Setup
from .standing import BURNS_FROM_C, gap_now
from .state import State

LEAK = "wet-trace"  # the mark of a brake whose seal still leaks
PAINT = "fresh-paint"  # the mark of a brake that was set not long ago
ROCKS_FROM_DEG = 1.0  # play of the spline that a hand calls worn; common practice, no source
DISCOLOURED_FROM = 1.05  # resistance over the proper one at which a joint has run hot; invented
WEAK_SPRING_BELOW = 0.95  # force over the proper one: springs of another batch; invented

Shows = Callable[[Setup, State], bool]


@dataclass(frozen=True, slots=True)
class Symptom:
    """One thing to be noticed.

    Attributes
    ----------
    code : str
        What it looks like, in a few plain words; no diagnosis. `words` has its sentence.
    at : tuple of str
        Where it is noticed: names of `actions.fields.LookAt`.
    shows : callable
        Whether it is there.
    """

    code: str
    at: tuple[str, ...]
    shows: Shows


def _mean_mm(setup: Setup, state: State) -> float:
    return gap_now(setup, state).plane.mean_mm


def _loud(setup: Setup, state: State) -> bool:
    return _mean_mm(setup, state) > setup.size.gap.max_mm


def _tight(setup: Setup, state: State) -> bool:
    plane = gap_now(setup, state).plane
    return plane.mean_mm - plane.tilt_mm < setup.size.gap.min_mm


def _tilted(setup: Setup, state: State) -> bool:
    return 2 * gap_now(setup, state).plane.tilt_mm > 1.5 * setup.size.gap.evenness_mm


def _will_not_lift(setup: Setup, state: State) -> bool:
    share = release_share(setup.size, state.brake, max(0.0, _mean_mm(setup, state)))
    return state.leads != "dc" or share > supply_share(state.brake)


def load_is_stuck(setup: Setup, state: State) -> bool:
    """Return whether a load hangs that will not come down, for the brake does not release."""
    hangs = setup.order.load_hangs and not state.load_landed
    return hangs and _will_not_lift(setup, state)


def _few_springs(setup: Setup, state: State) -> bool:
    return state.brake.springs_intact < setup.size.springs.count


def _sticks(setup: Setup, state: State) -> bool:
    brake = state.brake
    return brake.residual_gap_factor < 0.3 or sticks(
        setup.size.springs.count * setup.size.springs.force_each_n, magnet_now(setup.size, brake)
    )


def _lever_play_gone(setup: Setup, state: State) -> bool:
    return lever_play_mm(setup, state) <= 0.0 and state.brake.release_lever_play_mm is not None


def lever_play_mm(setup: Setup, state: State) -> float:
    """Return how far the hand release still moves before it takes the plate along, mm."""
    play_mm = state.brake.release_lever_play_mm
    if play_mm is None:
        return PLENTY_MM
    return max(0.0, setup.size.gap.setting_mm + play_mm - _mean_mm(setup, state))


PLENTY_MM = 2.0  # mm of plate travel, play of a lever that never touches; invented


def _clutch_slips(_: Setup, state: State) -> bool:
    return state.brake.around.clutch_hold is not None


def _no_plate(setup: Setup, state: State) -> bool:
    """Return whether it has run without its wear plate: one just taken off leaves no rings."""
    found_without = setup.condition.wear_plate_mm == 0
    return setup.size.wear_plate_mm > 0 and state.brake.wear_plate_mm == 0 and found_without


# fmt: off
SYMPTOMS: tuple[Symptom, ...] = (  # one a line or two, as a list is read
    Symptom("loud-clack", ("running",), _loud),
    Symptom("uneven-clack", ("running",), _few_springs),
    Symptom("warm-cover", ("running", "outside"),
          _tight),
    Symptom("smell-of-lining", ("running",), _tight),
    Symptom("hook-sags", ("running",),
          lambda _, at: at.brake.switching is Switching.AC_SIDE),
    Symptom("late-dull-tap", ("running",), _sticks),
    Symptom("hums-loudly", ("running",),
          lambda _, at: at.brake.rectifier_diode_open),
    Symptom("will-not-lift", ("running",), _will_not_lift),
    Symptom("first-start-jerks", ("running",),
          lambda _, at: at.brake.static_over_dynamic > 1.1),
    Symptom("clatters", ("running",),
          lambda _, at: at.brake.spline_play_deg >= ROCKS_FROM_DEG),
    Symptom("fan-rattles", ("running", "fan"),
          lambda _, at: not at.brake.fan_ok),
    Symptom("hums-at-rest", ("outside",),
          lambda _, at: at.brake.coil_live),
    Symptom("load-stuck", ("outside",), load_is_stuck),
    Symptom("hot-to-the-hand", ("outside",), lambda _, at: at.brake.surface_c > BURNS_FROM_C),
    Symptom("clutch-marks-apart", ("outside",), _clutch_slips),
    Symptom("track-of-water", ("outside",), lambda _, at: at.brake.around.water_comes),
    Symptom("wet-inside", ("outside", "fan", "edge"), lambda _, at: at.brake.surface == WET),
    Symptom("smells-of-varnish", ("outside", "leads"),
          lambda _, at: at.brake.turns_factor < 1),
    Symptom("wet-trace", ("outside", "edge", "hub"), lambda _, at: LEAK in at.brake.marks),
    Symptom("lever-drawn", ("outside", "lever"),
          lambda _, at: not at.brake.release_lever_returns),
    Symptom("lever-without-play", ("lever",), _lever_play_gone),
    Symptom("seal-missing", ("seal",),
          lambda _, at: not at.brake.seal_ok),
    Symptom("dust-caked", ("dust", "edge"),
          lambda _, at: not at.brake.seal_ok and at.dust_mm > 0),
    Symptom("dust", ("dust",),
          lambda _, at: at.brake.seal_ok and at.dust_mm > 0),
    Symptom("fresh-paint", ("screws",), lambda _, at: PAINT in at.brake.marks),
    Symptom("fretting-at-a-screw", ("screws",),
          lambda _, at: min(at.brake.lock_share) == 0),
    Symptom("screw-turns-by-hand", ("screws",),
          lambda _, at: min(at.lock_nm) == 0 and at.body_on),
    Symptom("polished-on-one-side", ("edge",), _tilted),
    Symptom("dark-shiny-edge", ("edge", "faces"),
          lambda _, at: at.brake.surface == "oiled"),
    Symptom("glassy-brown-edge", ("edge", "faces"),
          lambda _, at: at.brake.surface == "glazed"),
    Symptom("blue-patches", ("edge", "faces"),
          lambda _, at: at.brake.face_c >= BLUE_FACE_C),
    Symptom("radial-cracks", ("faces",),
          lambda _, at: at.brake.face_c >= BLUE_FACE_C),
    Symptom("spring-splinter", ("edge", "springs", "dust"), _few_springs),
    Symptom("springs-of-two-colours", ("springs",),
          lambda _, at: at.brake.spring_force_factor < WEAK_SPRING_BELOW),
    Symptom("rust-red-dust", ("edge", "hub"),
          lambda _, at: at.brake.spline_play_deg >= ROCKS_FROM_DEG),
    Symptom("disc-rocks", ("hub",),
          lambda _, at: at.brake.spline_play_deg >= ROCKS_FROM_DEG),
    Symptom("rust-on-the-rim", ("edge",),
          lambda _, at: at.brake.swelling_mm > 0),
    Symptom("hub-stands-out", ("edge", "hub"),
          lambda _, at: at.brake.hub_share > 0),
    Symptom("bright-rings", ("edge", "wear_plate"),
          _no_plate),
    Symptom("narrow-ring", ("edge", "faces"),
          lambda _, at: at.brake.radius_factor < 1),
    Symptom("discoloured-terminal", ("leads",),
          lambda _, at: at.brake.coil_open or at.brake.resistance_factor > DISCOLOURED_FROM),
    Symptom("contact-on-the-ac-side", ("leads",),
          lambda _, at: at.brake.switching is Switching.AC_SIDE),
    Symptom("lead-torn", ("leads",),
          lambda _, at: at.leads == "torn"),
)
# fmt: on


def symptoms_at(setup: Setup, state: State, place: str) -> Iterator[Symptom]:
    """Return what is to be noticed at one place, in the order of the list."""
    return (symptom for symptom in SYMPTOMS if place in symptom.at and symptom.shows(setup, state))
