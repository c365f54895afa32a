"""A form as a trainer typed it: read with a sentence for each fault, and written as TOML."""

import json
import re
import tempfile
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

from quizzes.cases.case import Depth
from quizzes.cases.groups import GROUPS, families_of
from widgets.brake.sizes.readable import Fault

from .blueprint import READY, Blueprint, BlueprintError, CaseLine, QuestionLine, load_blueprint
from .blueprint_file import LONGEST_TEXT
from .ending import Ending

MOST_ROWS = 40  # of cases, and of questions
MOST_TROUBLES = 12  # sentences at once
_ID = re.compile(r"[a-z][a-z0-9_]{0,39}", re.ASCII)
_WHOLE = re.compile(r"\d{1,6}", re.ASCII)
_SHARE = re.compile(r"\d(\.\d{1,4})?|\.\d{1,4}", re.ASCII)
_WORDS = {
    "id": "Name of the file",
    "title": "Title",
    "edition": "Edition",
    "minutes": "Minutes",
    "break_minutes": "Break",
    "avoid_last": "Sittings without the same case",
    "sizes": "Sizes",
    "elements": "Elements",
    "ends": "Ends with",
    "cases": "Cases",
    "questions": "Questions",
    "count": "how many",
    "depth": "depth",
    "group": "group",
    "families": "families",
    "difficulty": "difficulty",
}


class DraftError(ValueError):
    """A form that cannot be; `troubles` holds a sentence for each reason."""

    def __init__(self, troubles: Sequence[str]) -> None:
        self.troubles = tuple(troubles)[:MOST_TROUBLES]
        super().__init__(" ".join(self.troubles))


@dataclass(slots=True)
class _Reader:
    """Reads what was typed, and goes on after a fault, so that all are told at once."""

    troubles: list[str] = field(default_factory=list)

    def wrong(self, where: str, expected: str, got: object) -> None:
        """Note that something else was expected."""
        self.troubles.append(f"{where}: expected {expected}, got {got!r:.60}.")

    def text(self, where: str, typed: object) -> str:
        """Return a text of one line that can be kept, or note why not."""
        good = isinstance(typed, str) and _is_plain(typed) and len(typed.strip()) <= LONGEST_TEXT
        if not good or not str(typed).strip():
            self.wrong(where, f"1 to {LONGEST_TEXT} characters in one line", typed)
            return ""
        return str(typed).strip()

    def whole(self, where: str, typed: object, low: int, high: int) -> int:
        """Return a whole number from low to high, or note why not."""
        given = str(typed).strip() if isinstance(typed, str | int) else ""
        if not _WHOLE.fullmatch(given) or not low <= int(given) <= high:
            self.wrong(where, f"a whole number from {low} to {high}", typed)
            return low
        return int(given)

    def share(self, where: str, typed: object) -> float:
        """Return a number from 0 to 1, or note why not."""
        given = typed.strip() if isinstance(typed, str) else ""
        if not _SHARE.fullmatch(given) or not float(given) <= 1:
            self.wrong(where, "a number from 0 to 1, with a point", typed)
            return 0.0
        return float(given)

    def several(self, where: str, typed: object) -> list[str]:
        """Return names with semicolons between them, each once; some names hold commas."""
        if not isinstance(typed, str) or not _is_plain(typed) or len(typed) > 4_000:
            self.wrong(where, "names with semicolons between them", typed)
            return []
        names = [name.strip() for name in typed.split(";")]
        return list(dict.fromkeys(name for name in names if name))

    def rows(
        self, where: str, typed: object, cells: int, *, more: bool = False
    ) -> Iterator[tuple[str, list[Any]]]:
        """Return each row with the words for its place, or note that it is none."""
        if not isinstance(typed, list) or len(typed) > MOST_ROWS:
            self.wrong(where, f"at most {MOST_ROWS} rows", typed)
            return
        for number, row in enumerate(typed, start=1):
            place = f"{where}, row {number}"
            if isinstance(row, list) and len(row) in {cells, cells + more}:
                yield place, row
            else:
                self.wrong(place, f"{cells} cells", row)


def _is_plain(text: str) -> bool:
    return text.isprintable() and not any("\ud800" <= sign <= "\udfff" for sign in text)


def read_draft(typed: object) -> dict[str, Any]:
    """Return what was typed as the table of a blueprint's file.

    Parameters
    ----------
    typed : object
        What the page sent: texts by name; `cases` rows of depth, count, group, families;
        `questions` rows of elements, count, least and largest difficulty, and ids always asked.

    Raises
    ------
    DraftError
        With a sentence for each thing that cannot be.
    """
    if not isinstance(typed, Mapping):
        raise DraftError(["No form came with that. Load the page again."])
    reader = _Reader()
    table: dict[str, Any] = {
        "id": _id(reader, typed.get("id")),
        "title": reader.text("Title", typed.get("title")),
        "edition": str(reader.whole("Edition", typed.get("edition"), 1, 9_999)),
        "minutes": reader.whole("Minutes", typed.get("minutes"), 1, 600),
        "break_minutes": reader.whole("Break", typed.get("break_minutes"), 0, 120),
        "avoid_last": reader.whole(_WORDS["avoid_last"], typed.get("avoid_last"), 0, 100),
        "ends": reader.text(_WORDS["ends"], typed.get("ends", Ending.PASSED.value)),
    }
    for key in ("sizes", "elements"):
        if named := reader.several(_WORDS[key], typed.get(key, "")):
            table[key] = named
    table["cases"] = [
        _case_row(reader, place, row)
        for place, row in reader.rows("Cases", typed.get("cases"), 4, more=True)
    ]
    table["questions"] = [
        _question_row(reader, place, row)
        for place, row in reader.rows("Questions", typed.get("questions"), 4, more=True)
    ]
    if reader.troubles:
        raise DraftError(reader.troubles)
    return table


def _id(reader: _Reader, typed: object) -> str:
    if not isinstance(typed, str) or not _ID.fullmatch(typed):
        reader.wrong(_WORDS["id"], "small letters, digits and _, a letter first, at most 40", typed)
        return ""
    if typed in READY:
        reader.troubles.append(f"{_WORDS['id']}: {typed!r} comes with the suite; choose another.")
    return typed


def _case_row(reader: _Reader, place: str, row: Sequence[object]) -> dict[str, Any]:
    depth, count, group, families, *more = row
    found: dict[str, Any] = {
        "depth": reader.text(f"{place}, depth", depth),
        "count": reader.whole(f"{place}, how many", count, 1, 100),
    }
    if group != "":
        found["group"] = reader.text(f"{place}, group", group)
    if named := reader.several(f"{place}, families", families):
        found["families"] = named
    return found | _kept_on(reader, place, more[0] if more else {})


def _kept_on(reader: _Reader, place: str, more: object) -> dict[str, Any]:
    """Return what a row of the form that was the start says besides, which the page gives back."""
    if not isinstance(more, Mapping) or not all(_is_kept_on(*one) for one in more.items()):
        reader.wrong(place, "what the form that it began from says of this row", more)
        return {}
    return {str(key): value for key, value in more.items()}


def _is_kept_on(key: object, value: object) -> bool:
    if key in {"own_test", "others_test"}:
        return value is True
    kind = {"instead": str, "bands": int}.get(str(key))
    return kind is not None and isinstance(value, list) and all(type(one) is kind for one in value)


def _question_row(reader: _Reader, place: str, row: Sequence[object]) -> dict[str, Any]:
    elements, count, low, high, *more = row
    ends = (("from", low), ("to", high))
    made = {
        "elements": reader.several(f"{place}, elements", elements),
        "count": reader.whole(f"{place}, how many", count, 1, 200),
        "difficulty": [reader.share(f"{place}, difficulty {end}", one) for end, one in ends],
    }
    always = more and reader.several(f"{place}, always", more[0])
    return made | ({"always": always} if always else {})


def as_toml(table: Mapping[str, Any]) -> str:
    """Return a blueprint's table as the text of its file."""
    lines = [f"{key} = {_value(value)}" for key, value in table.items() if not _is_rows(value)]
    for name in ("cases", "questions"):
        for row in table.get(name, ()):
            lines += [
                "",
                f"[[{name}]]",
                *(f"{key} = {_value(value)}" for key, value in row.items()),
            ]
    return "\n".join(lines) + "\n"


def _is_rows(value: object) -> bool:
    return isinstance(value, list) and (not value or isinstance(value[0], dict))


def _value(value: Any) -> str:  # noqa: ANN401 (text, number or list of them)
    # A JSON text of printable characters is a basic string of TOML, too (toml.io, v1.0.0).
    return json.dumps(value, ensure_ascii=False)


def blueprint_of(table: Mapping[str, Any]) -> Blueprint:
    """Return the blueprint that a draft's table makes.

    Raises
    ------
    DraftError
        If it cannot be one; the sentence names the row and the reason.
    """
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / f"{table['id']}.toml"
        path.write_text(as_toml(table), encoding="utf-8")
        try:
            return load_blueprint(path)
        except BlueprintError as error:
            troubles = [on_the_desk(fault) for fault in error.faults] or [str(error)]
            raise DraftError(troubles) from None


def on_the_desk(fault: Fault) -> str:
    """Return a sentence about a fault of a file in words of the desk: its row, not its line.

    Examples
    --------
    >>> on_the_desk(Fault(("cases", 1, "count"), "a whole number", "0"))
    'Cases, row 2, how many: expected a whole number, got 0.'
    """
    names = [step for step in fault.place if isinstance(step, str)]
    words = _WORDS.get(names[-1], names[-1]) if names else "The form"
    if len(names) > 1:
        row = int(fault.place[1]) + 1
        words = f"{_WORDS[names[0]]}, row {row}, {words.lower()}"
    return f"{words}: expected {fault.expected}, got {fault.got}."


def draft_of(blueprint: Blueprint) -> dict[str, Any]:
    """Return a blueprint as the page shows it for writing: the way back from `read_draft`."""
    return {
        "id": blueprint.id,
        "title": blueprint.title,
        "edition": blueprint.edition,
        "minutes": str(blueprint.minutes),
        "break_minutes": str(blueprint.break_minutes),
        "avoid_last": str(blueprint.avoid_last),
        "sizes": "; ".join(blueprint.sizes),
        "elements": "; ".join(blueprint.elements),
        "ends": blueprint.ends.value,
        "cases": [
            [
                line.depth.value,
                str(line.count),
                *_group_and_families(line.depth, line.families),
                _more_of(line),
            ]
            for line in blueprint.cases
        ],
        "questions": [_typed_question(line) for line in blueprint.questions],
    }


def _typed_question(line: QuestionLine) -> list[str]:
    shares = (f"{one:g}" for one in line.difficulty)
    return ["; ".join(line.elements), str(line.count), *shares, "; ".join(line.always)]


def _more_of(line: CaseLine) -> dict[str, Any]:
    """Return what a row says besides what the page has fields for."""
    said = {key: getattr(line, key) for key in ("instead", "bands", "own_test", "others_test")}
    return {key: value if value is True else list(value) for key, value in said.items() if value}


def _group_and_families(depth: Depth, families: Sequence[str]) -> tuple[str, str]:
    for group in GROUPS:
        if families_of(depth, (), group, "") == tuple(families):
            return group, ""
    return "", "; ".join(families)
