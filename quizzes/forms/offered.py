"""The forms that can be sat: the ready blueprints and the trainer's own."""

import hashlib
import logging
import os
from collections.abc import Mapping
from dataclasses import dataclass, field
from functools import lru_cache
from pathlib import Path

import platformdirs

from quizzes.cases.case import Case
from quizzes.forms.blueprint import READY, Blueprint, BlueprintError, load_blueprint
from quizzes.forms.drawing import draw_form as draw_of_blueprint
from quizzes.forms.drawing import form_edition as edition_of_blueprint
from quizzes.questions.choosing import choose_all
from quizzes.questions.items import Item
from quizzes.questions.own import bank_in_force
from widgets.brake.sizes.sheet import LimitsSheet

_LOG = logging.getLogger("gap_and_lining")
MOST_OWN = 200  # blueprints of one's own


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
    blueprint : Blueprint
        What it must hold.
    """

    id: str
    title: str
    words: str
    blueprint: Blueprint

    @property
    def edition(self) -> str:
        """Edition of the form, with that of the case families."""
        return edition_of_blueprint(self.blueprint)

    @property
    def avoid_last(self) -> int:
        """How many of a person's last sittings share no case with this one."""
        return self.blueprint.avoid_last

    @property
    def break_minutes(self) -> int:
        """How long the break in it is; 0 for none."""
        return self.blueprint.break_minutes

    def draw(self, sheet: LimitsSheet, key: bytes, avoid: frozenset[str] = frozenset()) -> Drawn:
        """Return the form of one sitting.

        Raises
        ------
        ValueError
            If it cannot be drawn from this sheet, or the bank has too few questions;
            the sentence says where and why.
        """
        form = draw_of_blueprint(self.blueprint, sheet, key, avoid)
        chosen = choose_all(bank_in_force(sheet), form.questions, sheet)
        items = tuple(item for item, _ in chosen)
        return Drawn(form.cases, items, form.break_after, form.minutes)


def form_edition(offer: Offer, sheet: LimitsSheet) -> str:
    """Return the edition of a form on a limits sheet; another of either draws other brakes."""
    mark = hashlib.sha256(repr((sheet.sizes, offer.blueprint)).encode()).hexdigest()[:12]
    return f"{offer.edition} on {mark}"


def offers() -> Mapping[str, Offer]:
    """Return every form that can be sat, by id, in the order they are offered."""
    found = [_offer(path) for path in READY.values()]
    own, _ = own_blueprints()
    return {offer.id: offer for offer in [*found, *own]}


def own_blueprints() -> tuple[tuple[Offer, ...], tuple[str, ...]]:
    """Return the trainer's own forms, and a sentence for each file that is none."""
    good: list[Offer] = []
    bad: list[str] = []
    taken = {*READY}
    for path in own_files():
        try:
            offer = _offer(path)
        except (BlueprintError, OSError) as error:
            _LOG.warning("blueprint refused: %s", error)
            bad.append(str(error))
            continue
        if lack := offer.blueprint.lacks_for_its_word:
            bad.append(f'{path.name}, ends: "competent" needs {lack}; an exercise ends "passed".')
            continue
        if offer.id in taken:
            bad.append(f"{path.name}: its id {offer.id!r} is that of another form; choose another.")
            continue
        taken.add(offer.id)
        good.append(offer)
    return tuple(good), tuple(bad)


def own_files() -> list[Path]:
    """Return the files of the trainer's own blueprints, in order; none without the folder."""
    folder = own_folder()
    try:
        return sorted(folder.glob("*.toml"))[:MOST_OWN] if folder.is_dir() else []
    except OSError as error:
        _LOG.warning("folder of blueprints not read: %s", error)
        return []


def own_folder() -> Path:
    """Return the folder of the trainer's own blueprints: `GAL_BLUEPRINTS`, or this user's own."""
    named = os.environ.get("GAL_BLUEPRINTS")
    if named:
        return Path(named)
    return platformdirs.user_config_path("gap-and-lining", appauthor=False) / "forms"


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
    length = f"{' and '.join(parts)}, about {blueprint.minutes} minutes{rest}."
    return f"{length} {blueprint.ends.said_before}"
