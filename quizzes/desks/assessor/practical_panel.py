"""The observer's sheet of a practical on a real brake: on a tablet, element by element."""

import logging
from collections.abc import Callable, Mapping, Sequence
from typing import Any

from quizzes.access.table import Thing
from quizzes.analysis.quality.observers import pooled_words
from quizzes.desks.visitor import allowed, need, visitor
from quizzes.grading.words import TITLES
from quizzes.records import Records, RecordsError
from quizzes.records.attachments.keeping import photograph_kept
from quizzes.records.attachments.photograph import LARGEST_BYTES
from quizzes.records.decisions.practical import (
    CRITICAL,
    MOST_PHOTOGRAPHS,
    Photo,
    Practical,
    Seen,
    agreement,
    typed_discs,
    typed_gaps,
)
from quizzes.records.kept_sitting import KeptSitting, read_kept
from quizzes.sittings.decided.deciding import Dossier, dossier, observed
from quizzes.sittings.decided.observations import agreements
from quizzes.sittings.in_force import Clock, now
from widgets.bench.words import DECISION_WORDS
from widgets.page.prompt_panel import FormPanel, as_sentence, choice_field, text_field, text_of
from widgets.page.upload import Upload

_LOG = logging.getLogger("gap_and_lining")
_WORDS = (
    "For a practical on a real brake, filled in by whoever watches it: make safe first, by the "
    "maker’s data and the local rules; this sheet is not a permit. A second observer fills a sheet "
    "of their own. Name nobody in the notes."
)
_WANTED = {
    "hoist": "Say which hoist it is, and where it stands.",
    "instruments": "Say which instruments were used, and their calibration.",
}
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
        self._photographs: list[Photo] = []
        self._upload = Upload(LARGEST_BYTES)
        self.form = FormPanel(self._answer)

    def open(self, sitting_id: str) -> None:
        """Show the sheet of a sitting."""
        self._found, self._photographs = dossier(self._store, sitting_id), []
        self._show()

    def _show(self, said: str = "") -> None:
        found = self._found
        assert found is not None
        try:
            kept = read_kept(found.sitting.id, self._store.kept(found.sitting.id))
        except RecordsError as error:  # the other panels still show what they can
            self.form.show(title="Observed practical", words=[str(error)])
            return
        may = allowed(Thing.DECIDE) and found.standing.word is not None
        self.form.show(
            title="Observed practical",
            words=[_WORDS, *_sheets(found, kept), pooled_words(agreements(self._store).values())],
            fields=_fields(kept) if may else [],
            buttons=[("observe", "Keep this sheet"), *_PRINTS] if may else [],
            said=said,
        )

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

    def _take(self, content: Mapping[str, Any]) -> None:
        file = self._upload.take(content)
        if file is not None:
            if len(self._photographs) >= MOST_PHOTOGRAPHS:
                raise ValueError(f"A sheet carries {MOST_PHOTOGRAPHS} photographs at most.")
            kept = photograph_kept(file.content, file.name)
            if kept.sha256 not in {one.sha256 for one in self._photographs}:
                self._photographs.append(Photo(kept.sha256, kept.media_type, file.name))
            self.form.say(f"{file.name} is kept. {_photographs(self._photographs)} on this sheet.")

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
            self._store.person(visitor().name, "", at).id,
            text_of(content, "role").strip() or "observer",
            tuple(self._photographs),
        )
        observed(self._store, found, sheet, at)
        self.open(found.sitting.id)
        self._show("Kept.")
        self._changed()


def _sheets(found: Dossier, kept: KeptSitting) -> list[str]:
    """Return what the sheets that are kept say, and how two observers agree."""
    sheets = [one.act for one in found.state.practicals if isinstance(one.act, Practical)]
    lines = [line for sheet in sheets for line in _sheet(sheet, kept)]
    if len(sheets) > 1:
        lines.append(f"The two observers: {agreement(sheets[0], sheets[1]).words}")
    return lines or ["No practical has been observed yet."]


def _sheet(sheet: Practical, kept: KeptSitting) -> list[str]:
    missed = ", ".join(TITLES[name] for name in sheet.missed)
    lacking = f"lacking: {missed}" if missed else "nothing lacking"
    marked = f"{len(sheet.seen)} elements marked"
    lines = [f"{sheet.size_name}, {sheet.hoist}: {marked}; {lacking}."]
    if sheet.gaps or sheet.discs:
        conclusion = sheet.concluded(kept.sheet.size(sheet.size_name)).outcome
        asked = DECISION_WORDS[conclusion] if conclusion else "nothing yet, too few"
        lines.append(f"The readings typed there support: {asked}.")
    if sheet.photographs:
        lines.append(f"{_photographs(sheet.photographs)} kept, each with its digest.")
    return lines


def _fields(kept: KeptSitting) -> list[dict[str, Any]]:
    labels = {
        name: f"{title} (critical)" if name in CRITICAL else title for name, title in TITLES.items()
    }
    sizes = [(one.name, one.name) for one in kept.sheet.sizes]
    marks = [(one.value, one.value) for one in (Seen.SHOWN, Seen.NOT_SHOWN, Seen.NOT_ASKED)]
    return [
        choice_field("size", "Size of the brake", [("", "choose"), *sizes]),
        text_field("hoist", "Hoist, and where it stands"),
        text_field("instruments", "Instruments, with their calibration"),
        text_field("role", "Your role", "observer"),
        *(
            choice_field(name, label, marks, Seen.NOT_ASKED) | {"kind": "marks"}
            for name, label in labels.items()
        ),
        _long("gaps", "Gap readings, mm, a line each: angle, leaf that goes, leaf that does not"),
        _long("discs", "Disc readings, mm, a line each: angle, thickness over both linings"),
        _long("notes", "Notes", most=300),
        {
            "name": "photo",
            "kind": "file",
            "label": "A photograph; choose again for another",
            "accept": "image/jpeg,image/png,image/webp",
            "most": LARGEST_BYTES,
        },
    ]


def _photographs(those: Sequence[Photo]) -> str:
    return f"{len(those)} photograph{'' if len(those) == 1 else 's'}"


def _seen(word: str) -> Seen:
    return Seen(word) if word in set(Seen) else Seen.NOT_ASKED


def _long(name: str, label: str, most: int = 1000) -> dict[str, Any]:
    return {"name": name, "kind": "long", "label": label, "most": most}
