"""A panel that shows a form or a list and tells what a person did with it."""

from collections.abc import Callable, Mapping, Sequence
from pathlib import Path
from typing import Any

from widgets.page.panel import Panel

from .joining import joined_file
from .style import joined_style

_HERE = Path(__file__).parent
Answer = Callable[[Mapping[str, Any]], None]


class FormPanel(Panel):
    """What the page asks for is drawn from `show`; what it sends goes to `answer`.

    The page sends `{"ask": "form", "browser_key": hex or null, "at_work": bool}`
    once, `{"send": button, "values": {name: text}}` and `{"open": row}`.
    """

    _esm = joined_file(_HERE / "prompt_panel.js")
    _css = joined_style(_HERE / "prompt_panel.css")

    def __init__(self, answer: Answer, **kwargs: Any) -> None:  # noqa: ANN401 (traits of any kind)
        self._answer = answer
        self._form: dict[str, Any] = {}
        self._told = 0  # how often a press was answered
        super().__init__(**kwargs)

    @property
    def drawn(self) -> bool:
        """Whether there is a form on the page yet."""
        return bool(self._form)

    def show(self, **form: Any) -> None:  # noqa: ANN401 (texts, fields, lists)
        """Draw a form: title, progress, words, fields, buttons, danger, alarm, said, code, list.

        `focus` may be true, for the title, or "key", for the first button; `top` brings the
        form to the top of the window. `draft` holds a `key`, under which this device keeps what is
        typed until `{"forget_draft": key}` is sent, and what to say when it is `back`.
        """
        self._form = form
        self._told += 1
        self.send({"form": form})

    def say(self, words: str) -> None:
        """Answer with a sentence under the form as it stands; with none, only free its keys."""
        self._told += 1
        self.send({"reply": {"done": False, "words": words, "seen": {}, "alarm": ""}})

    def hand_over(self, name: str, kind: str, file: bytes) -> None:
        """Send a file for the browser to save.

        Parameters
        ----------
        name, kind : str
            What the file is to be called, and its media type.
        file : bytes
            The file.
        """
        self._told += 1
        self.send({"file": {"name": name, "kind": kind}}, buffers=[file])

    def heard(self, content: Mapping[str, Any]) -> None:
        """Pass on what a person did; draw again for a page that was just opened."""
        if content.get("ask") == "form" and self._form:
            self.send({"form": self._form})
        told = self._told
        self._answer(content)
        if "send" in content and self._told == told:
            self.say("")  # what was pressed showed elsewhere, or nowhere: the page waits for a word


def text_field(name: str, label: str, value: str = "", **more: Any) -> dict[str, Any]:  # noqa: ANN401 (options of a field)
    """Return a field in which a line is typed."""
    return {"name": name, "kind": "text", "label": label, "value": value, **more}


def choice_field(
    name: str, label: str, options: Sequence[tuple[str, str]], value: str | None = None
) -> dict[str, Any]:
    """Return a field in which one of some options is chosen, the first if no other is said."""
    chosen = options[0][0] if value is None else value
    return {
        "name": name, "kind": "choice", "label": label, "options": list(options), "value": chosen
    }  # fmt: skip


def as_sentence(words: str) -> str:
    """Return what went wrong as a sentence of the page: a capital first, a full stop at its end."""
    return words[:1].upper() + words[1:] + ("" if words.endswith((".", "!", "?")) else ".")


def text_of(content: Mapping[str, Any], name: str) -> str:
    """Return a text that was typed, or an empty one if the page sent something else."""
    values = content.get("values")
    value = values.get(name) if isinstance(values, Mapping) else None
    if not isinstance(value, str):
        return ""
    try:
        value.encode()
    except UnicodeEncodeError:  # half of a surrogate pair: no text that could be typed or stored
        return ""
    return value
