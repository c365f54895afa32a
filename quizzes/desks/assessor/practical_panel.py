"""The observer's sheet of a practical on a real brake: on a tablet, element by element."""

import hashlib
import logging
from collections.abc import Callable, Mapping, Sequence
from typing import Any

from quizzes.access.table import Thing
from quizzes.analysis.quality.observers import pooled_words
from quizzes.desks.visitor import allowed, need, visitor
from quizzes.grading.words import TITLES
from quizzes.records import Records, RecordsError
from quizzes.records.attachments.photograph import LARGEST_BYTES
from quizzes.records.decisions.practical import (
    CRITICAL,
    MOST_PHOTOGRAPHS,
    Photo,
    Practical,
    Seen,
    typed_discs,
    typed_gaps,
)
from quizzes.records.kept_sitting import KeptSitting, read_kept
from quizzes.sittings.decided.deciding import observed
from quizzes.sittings.decided.dossier import Dossier, dossier
from quizzes.sittings.decided.observations import agreements
from quizzes.sittings.in_force import Clock, now
from widgets.page.prompt_panel import FormPanel, as_sentence, choice_field, text_field, text_of
from widgets.page.upload import Upload

from .practical_words import LOST, photographs, photographs_shown, sheets_told

_LOG = logging.getLogger("gap_and_lining")
_WORDS = (
    "For a practical on a real brake, filled in by whoever watches it: make safe first, by the "
    "maker’s data and the local rules; this sheet is not a permit. A second observer signs in and "
    "fills a sheet of their own. Name nobody in the notes."
)
_DRAFT = (
    "What you type stays on this device until you keep the sheet or sign out: a tablet may sleep "
    "or load the page again. Photographs are the exception: after loading the page again, choose "
    "them again."
)
_BACK = "What was typed here before is back."
_PHOTOGRAPHS_GONE = "Photographs chosen before are not: choose them again."
_WANTED = {
    "hoist": "Say which hoist it is, and where it stands.",
    "instruments": "Say which instruments were used, and their calibration.",
}
_YES = "yes"
_PRINTS = (
    ("print A4", "Print an empty sheet, A4"),
    ("print Letter", "Print an empty sheet, Letter"),
)


class PracticalPanel:
    """What an observer saw, what was read, photographs; kept as a row of the sitting.

    Parameters
    ----------
    store : Records
        Where it is kept.
    changed : callable
        Called when a sheet was kept.
    clock : callable
        Tells the time, UTC.
    """

    def __init__(self, store: Records, changed: Callable[[], None], clock: Clock = now) -> None:
        self._store, self._changed, self._clock = store, changed, clock
        self._found: Dossier | None = None
        self._photographs: dict[str, list[Photo]] = {}  # by sitting, until the sheet is kept
        self._upload = Upload(LARGEST_BYTES)
        self.form = FormPanel(self._answer)

    def open(self, sitting_id: str) -> None:
        """Show the sheet of a sitting."""
        self._found = dossier(self._store, sitting_id)
        self._show()

    def bring(self) -> None:
        """Show the sheet of the sitting that is open at the top of the window."""
        self._show(top=True)

    def _show(self, said: str = "", *, top: bool = False) -> None:
        found = self._found
        assert found is not None
        try:
            kept = read_kept(found.sitting.id, self._store.kept(found.sitting.id))
        except RecordsError as error:  # the other panels still show what they can
            self.form.show(title="Observed practical", words=[str(error)])
            return
        may = allowed(Thing.DECIDE) and found.standing.word is not None
        persons = self._store.persons()
        looks = next((one.id for one in persons if (one.name, one.number) == (_who(), "")), "")
        names = {one.id: one.name for one in persons}
        told = sheets_told(found.state, kept, names, looks, self._lost)
        back = _BACK if found.sitting.id in self._photographs else f"{_BACK} {_PHOTOGRAPHS_GONE}"
        photos = photographs_shown(found.state, looks)
        looked_at = [(button, f"Photograph {one.name}") for button, one in photos.items()]
        words = [_WORDS, *told, pooled_words(agreements(self._store).values())]
        self.form.show(
            title="Observed practical",
            words=[*words, _DRAFT] if may else words,
            fields=self._fields(found, kept, looks) if may else [],
            buttons=[("observe", "Keep this sheet"), *_PRINTS, *looked_at] if may else [],
            said=said,
            top=top,
            draft={"key": _draft_key(found.sitting.id), "back": back} if may else None,
        )

    def _fields(self, found: Dossier, kept: KeptSitting, looks: str) -> list[dict[str, Any]]:
        observers = found.state.observers
        others = observers.first is not None and observers.first.person_id != looks
        alone = observers.second is None and not others
        return [
            *_fields(kept, "second observer" if others else "observer"),
            *([_second(observers.awaited)] if alone else []),
            _photo(self._photographs.get(found.sitting.id, ())),
        ]

    def _answer(self, content: Mapping[str, Any]) -> None:
        if self._found is None:
            return
        try:
            if "piece" in content:
                need(Thing.DECIDE)
                self._take(content)
            elif content.get("send") == "observe":
                need(Thing.DECIDE)
                self._keep(self._found, content)
            elif content.get("send") in dict(_PRINTS):
                need(Thing.DECIDE)
                self._print(self._found, str(content["send"]).removeprefix("print "))
            elif str(content.get("send")).startswith("photograph "):
                need(Thing.DECIDE)
                self._hand_photograph(self._found, str(content["send"]))
        except (RecordsError, ValueError) as error:
            _LOG.warning("practical: %s", error)
            self.form.say(as_sentence(str(error)))

    def _print(self, found: Dossier, paper: str) -> None:
        # Late: slow to import, and few pages print.
        from quizzes.desks.printing.checklist import checklist_pdf  # noqa: PLC0415

        name = found.sitting.name or "name erased"
        file = checklist_pdf(name, found.sitting.id, paper, self._clock().date())
        self.form.hand_over(
            f"practical {found.sitting.id[:8]} {paper}.pdf", "application/pdf", file
        )
        self.form.say("The empty sheet is handed over. What is typed here stays.")

    def _hand_photograph(self, found: Dossier, button: str) -> None:
        persons = self._store.persons()
        looks = next((one.id for one in persons if (one.name, one.number) == (_who(), "")), "")
        photo = photographs_shown(found.state, looks).get(button)
        if photo is None:
            return
        content = self._store.photograph(found.sitting.person_id, photo.sha256)
        if content is None:
            raise ValueError(f"{photo.name}: {LOST}")
        self.form.hand_over(photo.name, photo.media_type, content)
        self.form.say(f"Handed over: {photo.name}, as it was handed in.")

    def _lost(self, photo: Photo) -> bool:
        assert self._found is not None
        return self._store.photograph(self._found.sitting.person_id, photo.sha256) is None

    def _take(self, content: Mapping[str, Any]) -> None:
        file = self._upload.take(content)
        if file is not None:
            assert self._found is not None
            here = self._photographs.setdefault(self._found.sitting.id, [])
            if len(here) >= MOST_PHOTOGRAPHS:
                raise ValueError(f"A sheet carries {MOST_PHOTOGRAPHS} photographs at most.")
            person_id = self._found.sitting.person_id
            kept = self._store.keep_photograph(person_id, file.content, file.name)
            if kept.sha256 not in {one.sha256 for one in here}:
                here.append(Photo(kept.sha256, kept.media_type, file.name))
            self.form.say(f"{file.name} is kept. {photographs(here)} on this sheet.")

    def _keep(self, found: Dossier, content: Mapping[str, Any]) -> None:
        kept = read_kept(found.sitting.id, self._store.kept(found.sitting.id))
        size = text_of(content, "size")
        if size not in {one.name for one in kept.sheet.sizes}:
            raise ValueError("Choose the size of the brake from the list.")
        for name, wanted in _WANTED.items():
            if not text_of(content, name).strip():
                raise ValueError(wanted)
        at = self._clock()
        sheet = Practical(
            size,
            text_of(content, "hoist"),
            text_of(content, "instruments"),
            {name: _seen(text_of(content, name)) for name in TITLES},
            text_of(content, "notes"),
            typed_gaps(text_of(content, "gaps")),
            typed_discs(text_of(content, "discs")),
            self._store.person(_who(), "", at).id,
            text_of(content, "role").strip() or "observer",
            tuple(self._photographs.get(found.sitting.id, ())),
            text_of(content, "second") == _YES,
        )
        observed(self._store, found, sheet, at)
        self._photographs.pop(found.sitting.id, None)
        self.form.send({"forget_draft": _draft_key(found.sitting.id)})
        self.open(found.sitting.id)
        self._show("Kept.")
        self._changed()


def _fields(kept: KeptSitting, role: str) -> list[dict[str, Any]]:
    labels = {
        name: f"{title} (critical)" if name in CRITICAL else title for name, title in TITLES.items()
    }
    sizes = [(one.name, one.name) for one in kept.sheet.sizes]
    marks = [(one.value, one.value) for one in (Seen.SHOWN, Seen.NOT_SHOWN, Seen.NOT_ASKED)]
    return [
        choice_field("size", "Size of the brake", [("", "choose"), *sizes]),
        text_field("hoist", "Hoist, and where it stands"),
        text_field("instruments", "Instruments, with their calibration"),
        text_field("role", "Your role", role),
        *(
            choice_field(name, label, marks, Seen.NOT_ASKED) | {"kind": "marks"}
            for name, label in labels.items()
        ),
        _long("gaps", "Gap readings, mm, a line each: angle, leaf that goes, leaf that does not"),
        _long("discs", "Disc readings, mm, a line each: angle, thickness over both linings"),
        _long("notes", "Notes", most=300),
    ]


def _photo(those: Sequence[Photo]) -> dict[str, Any]:
    return {
        "name": "photo",
        "kind": "file",
        "label": "A photograph; choose again for another",
        "accept": "image/jpeg,image/png,image/webp",
        "most": LARGEST_BYTES,
        "help": f"On this sheet so far: {photographs(those)}." if those else "",
    }


def _second(wanted: bool) -> dict[str, Any]:  # noqa: FBT001 (what a sheet holds)
    return choice_field(
        "second",
        "Does a second observer keep a sheet as well, without seeing this one?",
        [("no", "no"), (_YES, "yes")],
        _YES if wanted else "no",
    )


def _who() -> str:
    return visitor().name


def _draft_key(sitting_id: str) -> str:
    """Return under what a browser keeps a sheet that is not kept yet: one a person and sitting."""
    return hashlib.sha256(f"practical {sitting_id} {_who()}".encode()).hexdigest()[:32]


def _seen(word: str) -> Seen:
    return Seen(word) if word in set(Seen) else Seen.NOT_ASKED


def _long(name: str, label: str, most: int = 1000) -> dict[str, Any]:
    return {"name": name, "kind": "long", "label": label, "most": most}
