"""A blueprint: what a form must hold, written by a trainer in TOML; read with clear sentences."""

from dataclasses import dataclass
from pathlib import Path

from quizzes.cases.case import Depth
from quizzes.cases.groups import ELEMENTS, GROUPS, elements_shown, families_of
from widgets.brake.judgement.rules import Outcome
from widgets.brake.sizes.toml_text import TomlTextError, table_of

from .difficulty import QUESTION_MINUTES, READING_MINUTES
from .table_reader import BlueprintError, Fields

READY = {
    name: Path(__file__).parent / "blueprints" / f"{name}.toml"
    for name in ("three_brakes", "self_check", "class_exercise", "full")
}
LARGEST_FILE_BYTES = 200_000
# Both stand in a form's edition, of which a record keeps 80 characters.
LONGEST_ID, LONGEST_EDITION = 40, 30
LEAST_MINUTES = {Depth.READING: READING_MINUTES, Depth.BENCH: 2.0, Depth.WORK_ORDER: 5.0}
_TOP = {
    "id", "title", "edition", "minutes", "break_minutes", "sizes", "avoid_last", "elements",
    "cases", "questions",
}  # fmt: skip
_CASES = {"depth", "count", "families", "group", "needs"}
_QUESTIONS = {"elements", "count", "difficulty"}

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


@dataclass(frozen=True, slots=True)
class CaseLine:
    """So many cases of one depth, from these families, each as often as the count allows."""

    depth: Depth
    count: int
    families: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class QuestionLine:
    """So many questions on these elements, in turn, of a difficulty from low to high.

    Difficulty is the chance that a borderline candidate gets it right, 0 to 1.
    """

    elements: tuple[str, ...]
    count: int
    difficulty: tuple[float, float]


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
        If the file cannot be read, is no TOML, a key is missing, unknown or out of range, or it
        asks for what no form can hold; the sentence names file, place and what was expected.
    """
    path = Path(path)
    text = _text(path)
    try:
        table = table_of(text)
    except TomlTextError as error:
        where = f"line {error.line}, column {error.column}" if error.line else "the end"
        raise BlueprintError(f"{path.name}, {where}: not good TOML: {error}.") from None
    top = Fields(path.name, text, "", table)
    top.only(_TOP)
    blueprint = Blueprint(
        id=top.text("id", most=LONGEST_ID),
        title=top.text("title"),
        edition=top.text("edition", most=LONGEST_EDITION),
        minutes=top.whole("minutes", 1, 600),
        break_minutes=top.whole("break_minutes", 0, 120, default=0),
        sizes=top.texts("sizes", default=()),
        avoid_last=top.whole("avoid_last", 0, 100, default=3),
        elements=top.texts("elements", among=ELEMENTS, default=()),
        cases=tuple(_case_line(line) for line in top.tables("cases")),
        questions=tuple(_question_line(line) for line in top.tables("questions", least=0)),
    )
    _can_be_met(top, blueprint)
    return blueprint


def _text(path: Path) -> str:
    try:
        if path.stat().st_size > LARGEST_FILE_BYTES:
            raise BlueprintError(f"{path.name}: larger than {LARGEST_FILE_BYTES} bytes.")
        return path.read_text(encoding="utf-8")
    except OSError as error:
        raise BlueprintError(f"{path.name}: cannot be read: {error.strerror}.") from None
    except UnicodeDecodeError:
        raise BlueprintError(f"{path.name}: not a text in UTF-8.") from None


def _case_line(line: Fields) -> CaseLine:
    line.only(_CASES)
    depth = Depth(line.text("depth", among=tuple(one.value for one in Depth)))
    count = line.whole("count", 1, 100)
    group = line.text("group", among=tuple(GROUPS), default="")
    needs = line.text("needs", among=tuple(one.value for one in Outcome), default="")
    named = line.texts("families", among=GROUPS["any"], default=())
    if not (group or needs or named):
        raise line.wrong("families", "families, a group or needs, to say which cases", "none")
    families = families_of(depth, named, group, needs)
    if not families:
        raise line.wrong(
            "families",
            f"a family that fits all of them at the depth {depth.value!r}",
            ", ".join(filter(None, (*named, group, needs))),
        )
    return CaseLine(depth, count, families)


def _question_line(line: Fields) -> QuestionLine:
    line.only(_QUESTIONS)
    low, high = line.pair("difficulty", 0.0, 1.0, default=(0.0, 1.0))
    return QuestionLine(
        line.texts("elements", among=ELEMENTS), line.whole("count", 1, 200), (low, high)
    )


def _can_be_met(top: Fields, blueprint: Blueprint) -> None:
    """Refuse a blueprint that no form can meet, saying which line and why."""
    shown = {one for line in blueprint.questions for one in line.elements}
    for line in blueprint.cases:
        shown |= elements_shown(line.depth, line.families)
    missing = [one for one in blueprint.elements if one not in shown]
    if missing:
        raise top.wrong(
            "elements", "only elements that its cases or questions show", ", ".join(missing)
        )
    least = blueprint.question_count * QUESTION_MINUTES + blueprint.break_minutes
    least += sum(line.count * LEAST_MINUTES[line.depth] for line in blueprint.cases)
    if least > blueprint.minutes:
        raise top.wrong(
            "minutes", f"{least:.0f} or more for its cases, questions and break", blueprint.minutes
        )
