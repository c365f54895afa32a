"""The forms that can be sat: three brakes, the ready blueprints, and the trainer's own."""

import logging
import os
from collections.abc import Mapping
from dataclasses import dataclass, field
from functools import lru_cache
from pathlib import Path

from quizzes.cases.blueprint import READY, Blueprint, BlueprintError, load_blueprint
from quizzes.cases.case import Case
from quizzes.cases.form_drawing import draw_form as draw_of_blueprint
from quizzes.cases.form_drawing import form_edition as edition_of_blueprint
from quizzes.cases.forms import FORMS as PLAIN_FORMS
from quizzes.cases.forms import draw_form as draw_plain
from quizzes.questions.bank import the_bank
from quizzes.questions.choosing import NoQuestionError, choose_all
from quizzes.questions.items import Item
from widgets.brake.sheet import LimitsSheet

_LOG = logging.getLogger("gap_and_lining")


@dataclass(frozen=True, slots=True)
class Drawn:
    """What one person gets: brakes, questions, and where the break falls."""

    cases: tuple[Case, ...] = field(repr=False)
    items: tuple[Item, ...] = field(default=(), repr=False)
    break_after: int = 0
    minutes: float = 0.0


@dataclass(frozen=True, slots=True)
class Offer:
    """A form as it is offered.

    Attributes
    ----------
    id, title, words : str
        What it is called; what it asks, in a sentence.
    blueprint : Blueprint or None
        None for the plain form of three brakes.
    """

    id: str
    title: str
    words: str
    blueprint: Blueprint | None = None

    @property
    def edition(self) -> str:
        """Edition of the form, with that of the case families."""
        if self.blueprint is None:
            return PLAIN_FORMS[self.id].edition
        return edition_of_blueprint(self.blueprint)

    @property
    def avoid_last(self) -> int:
        """How many of a person's last sittings share no case with this one."""
        return self.blueprint.avoid_last if self.blueprint else 0

    def draw(self, sheet: LimitsSheet, key: bytes, avoid: frozenset[str] = frozenset()) -> Drawn:
        """Return the form of one sitting.

        Raises
        ------
        ValueError
            If it cannot be drawn from this sheet, or the bank has too few questions;
            the sentence says where and why.
        """
        if self.blueprint is None:
            return Drawn(draw_plain(PLAIN_FORMS[self.id], sheet, key))
        form = draw_of_blueprint(self.blueprint, sheet, key, avoid)
        places = [(slot.element, slot.difficulty, slot.key) for slot in form.questions]
        items = tuple(item for item, _ in choose_all(the_bank(), places))
        return Drawn(form.cases, items, form.break_after, form.minutes)


def offers() -> Mapping[str, Offer]:
    """Return every form that can be sat, by id, in the order they are offered."""
    plain = [
        Offer(
            form.id, form.title, f"{len(form.families)} whole jobs on {len(form.families)} hoists."
        )
        for form in PLAIN_FORMS.values()
    ]
    found = [*plain, *(_offer(path) for path in READY.values())]
    own, _ = own_blueprints()
    return {offer.id: offer for offer in [*found, *own]}


def own_blueprints() -> tuple[tuple[Offer, ...], tuple[str, ...]]:
    """Return the trainer's own forms (`GAL_BLUEPRINTS`), and a sentence for each bad file."""
    folder = own_folder()
    good: list[Offer] = []
    bad: list[str] = []
    for path in sorted(folder.glob("*.toml")) if folder else []:
        try:
            good.append(_offer(path))
        except (BlueprintError, NoQuestionError, OSError) as error:
            _LOG.warning("blueprint refused: %s", error)
            bad.append(str(error))
    return tuple(good), tuple(bad)


def own_folder() -> Path | None:
    """Return the folder of the trainer's own blueprints, or None if there is none."""
    named = os.environ.get("GAL_BLUEPRINTS")
    return Path(named) if named else None


def _offer(path: Path) -> Offer:
    changed = path.stat().st_mtime_ns
    blueprint = _loaded(path, changed)
    return Offer(blueprint.id, blueprint.title, words_of(blueprint), blueprint)


@lru_cache(maxsize=64)
def _loaded(path: Path, _changed: int) -> Blueprint:
    return load_blueprint(path)


def words_of(blueprint: Blueprint) -> str:
    """Return what a form asks, in a sentence."""
    cases = blueprint.case_count()
    parts = [f"{cases} brakes"]
    if blueprint.question_count:
        parts.append(f"{blueprint.question_count} questions")
    rest = f", a break of {blueprint.break_minutes} minutes" if blueprint.break_minutes else ""
    return f"{' and '.join(parts)}, about {blueprint.minutes} minutes{rest}."
