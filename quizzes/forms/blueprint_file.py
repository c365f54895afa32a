"""The table in a blueprint's file: which keys it has, and what may stand at each."""

from typing import Annotated

from pydantic import AfterValidator, BaseModel, ConfigDict, Field, model_validator

from quizzes.cases.case import Depth
from quizzes.cases.groups import ELEMENTS, GROUPS, elements_shown, families_of
from quizzes.cases.strata import STRATA
from widgets.brake.judgement.rules import Outcome
from widgets.brake.sizes.readable import Among, Expected, Listed, Place, Text, Whole, refusal

from .difficulty import QUESTION_MINUTES, READING_MINUTES
from .ending import Ending

# Both stand in a form's edition, of which a record keeps 80 characters.
LONGEST_ID, LONGEST_EDITION = 40, 30
LONGEST_TEXT = 80
MOST_ENTRIES = 100
LEAST_MINUTES = {Depth.READING: READING_MINUTES, Depth.BENCH: 2.0, Depth.WORK_ORDER: 5.0}


def _each_once(values: list[str]) -> list[str]:
    if len(set(values)) < len(values):
        raise refusal("each only once")
    return values


def _rising(values: list[float]) -> list[float]:
    if values != sorted(values):
        raise refusal("the smaller first")
    return values


_TEXTS = (
    Listed(1, MOST_ENTRIES, f"a list of 1 to {MOST_ENTRIES} texts"),
    AfterValidator(_each_once),
)
_Texts = Annotated[list[Annotated[str, Text(LONGEST_TEXT)]], *_TEXTS]
_Elements = Annotated[list[Annotated[str, Among(ELEMENTS)]], *_TEXTS]
_Families = Annotated[list[Annotated[str, Among(GROUPS["any"])]], *_TEXTS]
_Bands = Annotated[
    list[Annotated[int, Whole(0, len(STRATA) - 1)]],
    Listed(0, MOST_ENTRIES, f"a list of up to {MOST_ENTRIES} bands"),
]
_Difficulty = Annotated[
    list[Annotated[float, Field(ge=0, le=1, strict=True)]],
    Field(min_length=2, max_length=2),
    AfterValidator(_rising),
    Expected("two numbers from 0 to 1, the smaller first"),
]


class CaseTable(BaseModel):
    """One `[[cases]]`."""

    model_config = ConfigDict(frozen=True, extra="forbid")

    depth: Annotated[str, Among(tuple(one.value for one in Depth))]
    count: Annotated[int, Whole(1, 100)]
    group: Annotated[str, Among(tuple(GROUPS), or_empty=True)] = ""
    needs: Annotated[str, Among(tuple(one.value for one in Outcome), or_empty=True)] = ""
    families: _Families = []
    instead: _Families = []
    bands: _Bands = []
    own_test: bool = False
    others_test: bool = False

    @property
    def all_families(self) -> tuple[str, ...]:
        """The families that fit all that is asked for."""
        return families_of(Depth(self.depth), tuple(self.families), self.group, self.needs)

    @model_validator(mode="after")
    def _names_some(self) -> "CaseTable":
        if not (self.group or self.needs or self.families):
            raise refusal("families, a group or needs, to say which cases", "families")
        if self.own_test and self.others_test:
            raise refusal("one of own_test and others_test", "others_test", "both")
        if self.bands and len(self.bands) != self.count:
            raise refusal(
                f"a band for each of its {self.count} cases", "bands", str(len(self.bands))
            )
        if families_of(Depth(self.depth), tuple(self.instead), "", "") != tuple(self.instead) and (
            self.instead
        ):
            raise refusal(f"families that can be asked at the depth {self.depth!r}", "instead")
        if not self.all_families:
            asked = ", ".join(filter(None, (*self.families, self.group, self.needs)))
            raise refusal(
                f"a family that fits all of them at the depth {self.depth!r}", "families", asked
            )
        return self


class QuestionTable(BaseModel):
    """One `[[questions]]`."""

    model_config = ConfigDict(frozen=True, extra="forbid")

    elements: _Elements
    count: Annotated[int, Whole(1, 200)]
    difficulty: _Difficulty = [0.0, 1.0]
    always: _Texts | None = None

    @model_validator(mode="after")
    def _counts_them(self) -> "QuestionTable":
        if len(self.always or ()) > self.count:
            raise refusal(f"{self.count} ids or fewer, as many as its count", "always")
        return self


class BlueprintTable(BaseModel):
    """The whole file."""

    model_config = ConfigDict(frozen=True, extra="forbid")

    id: Annotated[str, Text(LONGEST_ID)]
    title: Annotated[str, Text(LONGEST_TEXT)]
    edition: Annotated[str, Text(LONGEST_EDITION)]
    minutes: Annotated[int, Whole(1, 600)]
    break_minutes: Annotated[int, Whole(0, 120)] = 0
    sizes: _Texts = []
    avoid_last: Annotated[int, Whole(0, 100)] = 3
    elements: _Elements = []
    ends: Annotated[str, Among(tuple(one.value for one in Ending))] = Ending.PASSED.value
    cooling_off_h: Annotated[int, Whole(0, 8760)] | None = None
    cases: Annotated[
        list[CaseTable], Listed(1, MOST_ENTRIES, f"1 to {MOST_ENTRIES} tables [[cases]]")
    ]
    questions: Annotated[
        list[QuestionTable], Listed(0, MOST_ENTRIES, f"0 to {MOST_ENTRIES} tables [[questions]]")
    ] = []

    @model_validator(mode="after")
    def _can_be_met(self) -> "BlueprintTable":
        """Refuse what no form can meet."""
        always = [one for line in self.questions for one in line.always or ()]
        if len(set(always)) < len(always):
            raise refusal("each question in one row only", "always")
        shown = {one for line in self.questions for one in line.elements}
        for line in self.cases:
            shown |= elements_shown(Depth(line.depth), line.all_families)
        missing = [one for one in self.elements if one not in shown]
        if missing:
            expected = "only elements that its cases or questions show"
            raise refusal(expected, "elements", ", ".join(missing))
        least = sum(line.count for line in self.questions) * QUESTION_MINUTES + self.break_minutes
        least += sum(line.count * LEAST_MINUTES[Depth(line.depth)] for line in self.cases)
        if least > self.minutes:
            raise refusal(f"{least:.0f} or more for its cases, questions and break", "minutes")
        return self


def known_keys(place: Place) -> str:
    """Return in words which keys a table has in which an unknown one stands."""
    tables: dict[str, type[BaseModel]] = {"cases": CaseTable, "questions": QuestionTable}
    model = tables[str(place[0])] if len(place) > 1 else BlueprintTable
    return f"one of the keys {', '.join(sorted(model.model_fields))}"
