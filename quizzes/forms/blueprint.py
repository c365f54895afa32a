"""A blueprint: what a form must hold, written by a trainer in TOML; read with clear sentences."""

from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path

from pydantic import ValidationError

from quizzes.cases.case import Depth
from widgets.brake.sizes.readable import Fault, faults_of, line_of
from widgets.brake.sizes.toml_text import TomlTextError, read_table

from .blueprint_file import LONGEST_EDITION, LONGEST_ID, BlueprintTable, known_keys
from .ending import COOLING_OFF_H, Ending, lacks

READY = {
    name: Path(__file__).parent / "blueprints" / f"{name}.toml"
    for name in ("self_check", "class_exercise", "full")
}
LARGEST_FILE_BYTES = 200_000
MOST_FAULTS = 12  # that one error lists

__all__ = [
    "LONGEST_EDITION",
    "LONGEST_ID",
    "READY",
    "Blueprint",
    "BlueprintError",
    "CaseLine",
    "QuestionLine",
    "load_blueprint",
]


class BlueprintError(ValueError):
    """A blueprint that cannot be used; the text is for the trainer, a sentence for each fault.

    `faults` holds what is wrong in the table of its file; it is empty for any other reason.
    """

    def __init__(self, words: str, faults: Sequence[Fault] = ()) -> None:
        self.faults = tuple(faults)
        super().__init__(words)


@dataclass(frozen=True, slots=True)
class CaseLine:
    """So many cases of one depth, from these families, each as often as the count allows.

    `instead` are the families of a sheet whose sizes carry none of `families`; `bands` the places
    in `strata.STRATA` that cases near a limit come from, one a case; by their shares, if empty.
    With `own_test` a work order ends with a static load test by the candidate, and leaves the
    terminals to an electrician; with `others_test` it is the other way round.
    """

    depth: Depth
    count: int
    families: tuple[str, ...]
    instead: tuple[str, ...] = ()
    bands: tuple[int, ...] = ()
    own_test: bool = False
    others_test: bool = False


@dataclass(frozen=True, slots=True)
class QuestionLine:
    """So many questions on these elements, in turn, of a difficulty from low to high.

    Difficulty is the chance that a borderline candidate gets it right, 0 to 1. `always` are ids of
    questions that everybody is asked, the suite's or one's own; the rest of the count is drawn.
    """

    elements: tuple[str, ...]
    count: int
    difficulty: tuple[float, float]
    always: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Blueprint:
    """What a form must hold.

    Attributes
    ----------
    id, title, edition : str
        `edition` changes when the blueprint does.
    minutes, break_minutes : int
        Time allowed, the break in it.
    sizes : tuple of str
        Names of sizes to draw from; all of the sheet, if empty.
    avoid_last : int
        In how many sittings before this a person may not have had the same case.
    elements : tuple of str
        Elements of the competency that the form must show.
    ends : Ending
        With which word it may end.
    cooling_off_h : int or None
        Hours between two attempts of one person; None for what its ending asks for.
    """

    id: str
    title: str
    edition: str
    minutes: int
    cases: tuple[CaseLine, ...]
    questions: tuple[QuestionLine, ...]
    break_minutes: int = 0
    sizes: tuple[str, ...] = ()
    avoid_last: int = 3
    elements: tuple[str, ...] = ()
    ends: Ending = Ending.PASSED
    cooling_off_h: int | None = None

    @property
    def wait_h(self) -> int:
        """Hours that have to lie between two attempts of one person; 0 for most exercises."""
        if self.cooling_off_h is not None:
            return self.cooling_off_h
        return COOLING_OFF_H if self.ends is Ending.COMPETENT else 0

    @property
    def lacks_for_its_word(self) -> str:
        """What it lacks of what its ending promises, in words; nothing for most forms."""
        if self.ends is not Ending.COMPETENT:
            return ""
        by_hand = self.case_count(Depth.BENCH, Depth.WORK_ORDER)
        return lacks(self.elements, by_hand, self.case_count())

    @property
    def question_count(self) -> int:
        """How many questions a form has."""
        return sum(line.count for line in self.questions)

    def case_count(self, *depths: Depth) -> int:
        """Return how many cases of these depths a form has; of all, if none is named."""
        return sum(line.count for line in self.cases if not depths or line.depth in depths)


def load_blueprint(path: Path | str) -> Blueprint:
    """Return the blueprint in a TOML file.

    Raises
    ------
    BlueprintError
        If the file cannot be read, is not TOML, a key is missing, unknown or out of range, or it
        asks for what no form can hold; the sentence names file, place and what was expected.
    """
    path = Path(path)
    try:
        text, table = read_table(path, LARGEST_FILE_BYTES)
    except TomlTextError as error:
        raise BlueprintError(f"{path.name}, {error.place}: {error}.") from None
    try:
        return _blueprint(BlueprintTable.model_validate(table))
    except ValidationError as error:
        faults = faults_of(error, known_keys)[:MOST_FAULTS]
        words = " ".join(_sentence(path.name, text, fault) for fault in faults)
        raise BlueprintError(words, faults) from None


def _sentence(file: str, text: str, fault: Fault) -> str:
    line = max(1, line_of(text, fault.place))
    return f"{file}, line {line}, {fault.name}: expected {fault.expected}, got {fault.got}."


def _blueprint(table: BlueprintTable) -> Blueprint:
    return Blueprint(
        id=table.id,
        title=table.title,
        edition=table.edition,
        minutes=table.minutes,
        break_minutes=table.break_minutes,
        sizes=tuple(table.sizes),
        avoid_last=table.avoid_last,
        elements=tuple(table.elements),
        ends=Ending(table.ends),
        cooling_off_h=table.cooling_off_h,
        cases=tuple(
            CaseLine(
                Depth(line.depth),
                line.count,
                line.all_families,
                tuple(line.instead),
                tuple(line.bands),
                line.own_test,
                line.others_test,
            )
            for line in table.cases
        ),
        questions=tuple(
            QuestionLine(
                tuple(line.elements),
                line.count,
                (line.difficulty[0], line.difficulty[1]),
                tuple(line.always or ()),
            )
            for line in table.questions
        ),
    )
