"""A signed record checked on a page: with nothing but its file and the issuer's public key."""

import datetime as dt
import logging
import tempfile
from collections.abc import Callable, Mapping
from pathlib import Path
from typing import Any

from ipywidgets import VBox, Widget

from quizzes.desks.sheets.result_sheets import sheet_html, shown
from quizzes.records.credentials.audit import checked_file, not_a_key, told
from quizzes.records.credentials.verifying import Finding, Verified
from quizzes.records.keys.errors import KeyFileError
from quizzes.records.keys.keeping import PUBLIC, default_folder
from widgets.page.prompt_panel import FormPanel, text_of
from widgets.page.upload import Upload, Uploaded

_LOG = logging.getLogger("gap_and_lining")
MOST_BYTES = 2_000_000
_FILES = {"record": "the record", "status": "the list of withdrawals", "issuers": "the issuers"}
_RECORD = (
    "Choose the signed record (JSON), or the PDF that carries it. Nothing leaves this "
    "machine and nothing is kept."
)
_ISSUER = (
    "You decide which issuer you trust. Get the issuer’s key, or its list of keys, from the issuer "
    "and never together with the record. If you leave this empty, this machine’s own keys count."
)
# What the page says of a finding at one glance; the sentence of the check stands under it.
_HEADLINES = {
    Finding.GOOD: "Good",
    Finding.TAMPERED: "Tampered with: do not accept it",
    Finding.UNREADABLE: "Unreadable: nothing could be checked",
    Finding.EXPIRED: "Expired: no longer valid",
    Finding.NOT_YET_VALID: "Not yet valid",
    Finding.WITHDRAWN: "Withdrawn: no longer valid",
    Finding.UNKNOWN_ISSUER: "Unknown issuer: who signed it is not known",
    Finding.BAD_KEY: "The issuer’s key cannot be used: nothing was checked",
    Finding.BAD_LIST: "The list of withdrawals cannot be used: the record was not judged",
}
_NOT_KNOWN = (
    Finding.UNREADABLE, Finding.UNKNOWN_ISSUER, Finding.BAD_KEY, Finding.BAD_LIST
)  # fmt: skip


class CheckPage:
    """The page: files in, one finding out.

    Parameters
    ----------
    clock : callable
        Tells the time, UTC.
    """

    def __init__(self, clock: Callable[[], dt.datetime] = lambda: dt.datetime.now(dt.UTC)) -> None:
        self._clock = clock
        self._files: dict[str, Uploaded] = {}
        self._upload = Upload(MOST_BYTES)
        self._form = FormPanel(self._answer)
        self._found = shown("")
        self.page = VBox([self._form, self._found]).add_class("gal-page-stack")
        self._show()

    def _show(self, key: str = "", *, reveal: bool = False) -> None:
        here = [f"{_FILES[field]}: {file.name}" for field, file in self._files.items()]
        self._form.show(
            title="What you were handed",
            words=[_RECORD, _ISSUER, f"Chosen: {'; '.join(here) or 'nothing yet'}."],
            fields=[
                _file("record", "The record (.json or .pdf)", ".json,.pdf"),
                _file("issuers", "The issuer’s list of keys, or public key (PEM)", ".json,.pem"),
                {
                    "name": "key",
                    "kind": "text",
                    "label": "Or the issuer’s key, as printed: did:key:…",
                    "most": 120,
                    "value": key,
                },
                _file("status", "The signed list of withdrawals, if you have one", ".json"),
            ],
            buttons=[("check", "Check it"), ("clear", "Begin again")],
            reveal=reveal,
        )

    def _answer(self, content: Mapping[str, Any]) -> None:
        try:
            if "piece" in content:
                self._take(content)
            elif content.get("send") == "check":
                self._check(text_of(content, "key").strip()[:120])
            elif content.get("send") == "clear":
                self._files, self._found.value = {}, ""
                self._show()
        except (ValueError, KeyFileError) as error:
            _LOG.warning("record check: %s", error)
            self._form.say(str(error))

    def _take(self, content: Mapping[str, Any]) -> None:
        if content.get("piece") == 0:  # refused or not, the file before it is no longer meant
            self._files.pop(str(content.get("field")), None)
            self._found.value = ""
        file = self._upload.take(content)
        if file is None:
            return
        if file.field not in _FILES:
            raise ValueError("That file does not belong to a field of this page.")
        self._files[file.field] = file
        self._form.say(
            f"{_FILES[file.field].capitalize()}: {file.name}, {len(file.content)} bytes."
        )

    def _check(self, key: str) -> None:
        if "record" not in self._files:
            raise ValueError("Choose the record first: its JSON file, or the PDF that carries it.")
        if key and not key.startswith("did:"):  # anything else would be a file of this machine
            self._found.value = ""
            raise not_a_key(key)
        with tempfile.TemporaryDirectory(prefix="gal-check-") as folder:
            paths = {field: Path(folder, field, file.name) for field, file in self._files.items()}
            for field, path in paths.items():
                path.parent.mkdir()
                path.write_bytes(self._files[field].content)
            issuers = [str(paths["issuers"])] if "issuers" in paths else []
            issuers += [key] if key else []
            found = checked_file(
                paths["record"], issuers or _own(), self._clock(), paths.get("status")
            )
        self._found.value = _sheet(found)
        self._show(key, reveal=True)  # what was found stands below a phone’s edge


def _own() -> list[str]:
    path = default_folder() / PUBLIC
    return [str(path)] if path.is_file() else []


def _sheet(found: Verified) -> str:
    says = told(found.credential) if found.credential else ()
    return sheet_html(
        "checked",
        headline=_HEADLINES[found.finding],
        good=found.finding is Finding.GOOD,
        refused=found.finding not in _NOT_KNOWN,
        lines=found.sentences,
        says=says,
    )


def _file(name: str, label: str, accept: str) -> dict[str, Any]:
    return {"name": name, "kind": "file", "label": label, "accept": accept, "most": MOST_BYTES}


def check_page() -> Widget:
    """Return the page that checks a record."""
    return CheckPage().page
