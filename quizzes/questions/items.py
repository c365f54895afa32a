"""A question as it stands in the bank: what is asked, of which element, and why it is so."""

from collections.abc import Mapping
from dataclasses import dataclass, replace
from typing import TypeAlias

from widgets.brake.sizes.design import Design


@dataclass(frozen=True, slots=True)
class Option:
    """One thing to choose; a wrong one says in `catches` what somebody who takes it believes."""

    text: str
    right: bool
    catches: str = ""


@dataclass(frozen=True, slots=True)
class Choice:
    """Choose one, or all that are right (`several`)."""

    options: tuple[Option, ...]
    several: bool = False


@dataclass(frozen=True, slots=True)
class WrongNumber:
    """A number that a known mistake leads to: a name of the model or a number."""

    value: str | float
    catches: str


@dataclass(frozen=True, slots=True)
class Numeric:
    """Type a number.

    Attributes
    ----------
    answer : str or float
        A name that the model gives, or the number itself, in `unit`.
    tolerance, tolerance_share : float
        What is still right either way: in `unit`, and as a share of the
        answer; the larger counts.
    decimals : int
        With how many the answer is told.
    """

    answer: str | float
    unit: str
    tolerance: float
    tolerance_share: float
    decimals: int
    wrong: tuple[WrongNumber, ...]


@dataclass(frozen=True, slots=True)
class Slip:
    """Two steps, counted from 1 in the right order, that somebody turns round, and why."""

    earlier: int
    later: int
    catches: str


@dataclass(frozen=True, slots=True)
class Order:
    """Put steps in order; steps of one group of `free` may come in any order among themselves."""

    steps: tuple[str, ...]
    slips: tuple[Slip, ...]
    free: tuple[tuple[int, ...], ...] = ()
    catches: str = ""


@dataclass(frozen=True, slots=True)
class Mark:
    """Choose a place on a drawing.

    Attributes
    ----------
    drawing : str
        Name in `pictures.DRAWINGS`.
    targets : tuple of str
        The groups of places that may be chosen, `screws`, `angles`, `parts`.
    right : tuple of str
        Ids of places that are right; may hold placeholders of the model.
    caught : mapping
        What a wrong place shows, by id.
    catches : str
        What any other wrong place shows.
    readings : bool
        Whether the model's gap readings are listed with the question.
    """

    drawing: str
    targets: tuple[str, ...]
    right: tuple[str, ...]
    caught: Mapping[str, str]
    catches: str
    readings: bool = False


@dataclass(frozen=True, slots=True)
class Scale:
    """Read an instrument, a name in `scales.INSTRUMENTS`; answer and tolerance in mm."""

    instrument: str
    answer: str | float
    tolerance: float
    wrong: tuple[WrongNumber, ...] = ()


@dataclass(frozen=True, slots=True)
class Decide:
    """Decide from the model's readings; the answer is the rule's on the day of the draw."""

    catches: Mapping[str, str]


Body: TypeAlias = Choice | Numeric | Order | Mark | Scale | Decide
KINDS: dict[str, type[Body]] = {
    "single": Choice,
    "multiple": Choice,
    "numeric": Numeric,
    "order": Order,
    "mark": Mark,
    "scale": Scale,
    "decide": Decide,
}


@dataclass(frozen=True, slots=True)
class Range:
    """A number drawn in even steps, both ends included."""

    low: float
    high: float
    step: float

    @property
    def count(self) -> int:
        """How many values there are, dimensionless."""
        return int((self.high - self.low) / self.step + 1e-9) + 1


Parameter: TypeAlias = Range | tuple[str | float, ...]
SITUATION = "{situation}"  # where the text of the drawn situation stands


@dataclass(frozen=True, slots=True)
class Situation:
    """One of the situations that a question draws; each has its own right answer.

    Attributes
    ----------
    text : str
        Stands in the question in place of `{situation}`.
    right : tuple of int
        Which options are right, counted from 1; none where a rule decides.
    places : tuple of str
        Which places of a drawing are right.
    when : str
        The verdict that the model must come to, or empty.
    why : str
        What is said first when the answer is explained.
    draw : mapping of str to Parameter
        What is drawn otherwise than for the question as a whole.
    catches : mapping of int to str
        What a wrong option shows here, where it is not what it shows elsewhere.
    """

    text: str = ""
    right: tuple[int, ...] = ()
    places: tuple[str, ...] = ()
    when: str = ""
    why: str = ""
    draw: Mapping[str, Parameter] | None = None
    catches: Mapping[int, str] | None = None

    def options_of(self, options: tuple[Option, ...]) -> tuple[Option, ...]:
        """Return the options with what is right of them here."""
        own = self.catches or {}
        return tuple(
            Option(one.text, right=True)
            if at in self.right
            else Option(one.text, right=False, catches=own.get(at, one.catches))
            for at, one in enumerate(options, start=1)
        )


@dataclass(frozen=True, slots=True)
class Item:
    """One question of the bank.

    Attributes
    ----------
    id : str
        Its name forever; records hold it.
    kind : str
        One of `KINDS`.
    element : str
        What it is evidence of, one of `ELEMENTS`.
    lessons : tuple of int
        The lessons whose self-check it may stand in.
    difficulty : float
        Share of just competent people who get it right, 0 to 1 (Angoff).
    text, why, source : str
        The question, the reason of the answer, and who says so.
    confidence : bool
        Whether it is asked how sure one is.
    model : str
        Name in `models.MODELS`, or empty for a question without numbers.
    draw : mapping of str to Parameter
        What is drawn from the key for the model.
    when : str
        The verdict that the model must come to, or empty.
    designs : tuple of Design
        On sizes of these its numbers are drawn; what is right follows the design.
    situations : tuple of Situation
        Of these one is drawn, and with it what is right.
    place : str
        File and position, for error messages.
    """

    id: str
    kind: str
    element: str
    lessons: tuple[int, ...]
    difficulty: float
    text: str
    why: str
    source: str
    body: Body
    confidence: bool = False
    model: str = ""
    draw: Mapping[str, Parameter] | None = None
    when: str = ""
    situations: tuple[Situation, ...] = ()
    place: str = ""
    designs: tuple[Design, ...] = tuple(Design)

    @property
    def parametric(self) -> bool:
        """Whether a model computes its numbers."""
        return bool(self.model)

    @property
    def varies(self) -> bool:
        """Whether another draw gives another question."""
        return bool(self.model or self.situations)

    @property
    def situational(self) -> bool:
        """Whether the situation decides what is right: who knows the words only must guess."""
        return bool(self.situations)

    def settled(self) -> tuple["Item", ...]:
        """Return the question once for each of its situations, with what is right there."""
        return tuple(self.settled_in(one) for one in self.situations) or (self,)

    def settled_in(self, at: Situation) -> "Item":
        """Return the question in one of its situations, as if it had no other."""
        body = self.body
        if isinstance(body, Choice):
            body = Choice(at.options_of(body.options), body.several)
        elif isinstance(body, Mark):
            caught = {name: one for name, one in body.caught.items() if name not in at.places}
            body = replace(body, right=at.places, caught=caught)
        return replace(
            self,
            text=" ".join(self.text.replace(SITUATION, at.text).split()),
            why=f"{at.why} {self.why}".strip(),
            body=body,
            draw={**(self.draw or {}), **(at.draw or {})},
            when=at.when,
            situations=(),
        )
