"""Where a job stands: the brake as it is now, what is off it, what has been written."""

from collections.abc import Mapping
from typing import Any, NamedTuple

from widgets.brake.condition import Condition, Three

from .notes import DiscNote, GapNote, ValueNote

RING_PLAY_MM = 0.03  # mm, play of an adjusting ring's thread that its set screw takes up; invented


class _Fields(NamedTuple):
    """What `State` holds, in its order."""

    brake: Condition
    screw_height_mm: Three
    lock_nm: Three
    take_up_mm: Three
    dust_mm: float
    slack_mm: Three = (0.0, 0.0, 0.0)
    step: int = 0
    elapsed_s: float = 0.0
    load_landed: bool = False
    isolated: bool = False
    second_isolated: bool = False
    second_sought: bool = False
    proved_dead: bool = False
    area_barred: bool = False
    load_stuck: bool = False
    kept_clear: bool = False
    called: bool = False
    locked: bool = False
    start_tried: bool = False
    waited: bool = False
    box_on: bool = True
    protected: bool = False
    cover_on: bool = True
    ring_on: bool = True
    fan_on: bool = True
    fan_keyed: bool = True
    seal_on: bool = True
    seal_seated: bool = True
    lever_on: bool = True
    lever_drawn: bool = False
    leads: str = "dc"
    body_on: bool = True
    body_held: bool = False
    body_cocked: bool = False
    disc_on: bool = True
    disc_part: str = "old"
    disc_reversed: bool = False
    wear_plate_on: bool = True
    plate_smooth_to_disc: bool = True
    spline_cleaned: bool = False
    drawn: tuple[bool, bool, bool] = (False, False, False)
    in_one_go: tuple[bool, bool, bool] = (True, True, True)
    lock_known: tuple[bool, bool, bool] = (False, False, False)
    tray: tuple[str, ...] = ()
    looked: tuple[str, ...] = ()
    tools_checked: tuple[str, ...] = ()
    seen_there: tuple[tuple[str, str, Mapping[str, Any]], ...] = ()
    tested: tuple[str, ...] = ()
    faces_wiped: bool = False
    energised: bool = False
    released: bool = False
    shaft_deg: float = 0.0
    plate_read: bool = False
    visit: int = 0
    attempt: int = 0
    place_deg: float = -1.0
    ring_loose: bool = False
    gap_notes: tuple[GapNote, ...] = ()
    disc_notes: tuple[DiscNote, ...] = ()
    value_notes: tuple[ValueNote, ...] = ()
    decision: str = ""
    decision_row: str = ""
    decision_step: int | None = None
    decision_found: tuple[str, ...] = ()
    handed_over: bool = False
    into_service: bool = False
    next_days: int | None = None
    awaits_test: bool = False
    accidents: tuple[str, ...] = ()


class State(_Fields):
    """Where the job stands. `step` counts the actions that were carried out.

    A named tuple, not a dataclass: it is copied at every action, and copies of a
    tuple cost a fifth.

    Attributes
    ----------
    brake : Condition
        The brake as it stands: parts exchanged, spoilt or put right since it was found.
    screw_height_mm : three float
        Height each hollow screw gives with the body on it and its play open, mm.
    lock_nm : three float
        Torque each retaining screw was last tightened to, N·m; 0 is loose.
    take_up_mm : three float
        Thread play taken up at each tight retaining screw, mm.
    slack_mm : three float
        What a slack retaining screw lets the springs lift the body by, mm; 0 where it is tight.
    in_one_go : three bool
        Whether a screw was tightened from slack to full torque without a stage between.
    lock_known : three bool
        Whether the person has tried the screw since it last could have changed.
    drawn, started : three bool
        Retaining screws right out; retaining screws back in their threads.
    visit, attempt, place_deg
        Which visit to which place this is, for the hand that holds the leaf.
    disc_part, disc_reversed, plate_smooth_to_disc
        What was fitted, and which way round.
    tools_checked : tuple of str
        Instruments that were looked over.
    load_stuck, kept_clear, called
        Whether somebody has tried to land the load in vain, sent people away, called for help.
    ring_loose : bool
        Whether the set screw of the adjusting ring is loose, where the design has one.
    box_on : bool
        Whether the terminal box has its cover on.
    awaits_test : bool
        Whether it was tagged and left for a load test by somebody who may do one.
    tray : tuple of str
        Parts taken off, in order.
    looked, seen_there
        Places looked at; what was seen at each the last time: place, code, facts.
    tested : tuple of str
        Tests that were carried out and that no work since has made worthless.
    elapsed_s : float
        What the work so far would have taken at the brake, seconds; invented durations.
    """

    __slots__ = ()

    def _replace(self, /, **changes: Any) -> "State":  # noqa: ANN401 (each field has its own type)
        """Return a copy with some fields changed: what the base does, at a third of its cost.

        Raises
        ------
        KeyError
            If there is no such field.
        """
        values = list(self)
        for name, value in changes.items():
            values[_PLACES[name]] = value
        return tuple.__new__(State, values)

    def after_step(self, step: int, elapsed_s: float) -> "State":
        """Return a copy with these two changed, as after every action: in two slices."""
        return tuple.__new__(State, (*self[:_STEP], step, elapsed_s, *self[_STEP + 2 :]))

    def stand_off_mm(self) -> Three:
        """Height of the magnet body at each screw as it stands now, mm."""
        first, second, third = self.screw_height_mm
        play, lock, slack = self.take_up_mm, self.lock_nm, self.slack_mm
        if self.ring_loose:
            first, second, third = (
                first + RING_PLAY_MM, second + RING_PLAY_MM, third + RING_PLAY_MM
            )  # fmt: skip
        return (
            first + (slack[0] if lock[0] == 0 else -play[0]),
            second + (slack[1] if lock[1] == 0 else -play[1]),
            third + (slack[2] if lock[2] == 0 else -play[2]),
        )

    def seated(self) -> "State":
        """Return the state with the body pushed down on its hollow screws, against the springs."""
        return self._replace(slack_mm=(0.0, 0.0, 0.0))


_PLACES = {name: place for place, name in enumerate(State._fields)}
_STEP = _PLACES["step"]  # `elapsed_s` comes next
