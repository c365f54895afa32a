"""A form on a page: whoever presses a key gets an answer, whatever the page does with the press."""

import pytest

from tests.desks.pages import tell_panel
from widgets.page.panel import FAILED
from widgets.page.prompt_panel import FormPanel


def fails(_):
    raise RuntimeError


@pytest.fixture
def sent(monkeypatch):
    messages = []
    monkeypatch.setattr(
        FormPanel, "send", lambda _, content, buffers=None: messages.append(content)
    )
    return messages


@pytest.mark.parametrize(("answer", "words"), [(lambda _: None, ""), (fails, FAILED)])
def test_a_press_that_shows_nothing_here_frees_the_keys(sent, answer, words):
    """The page shuts its keys until it hears: silence would shut them for good."""
    tell_panel(FormPanel(answer), {"send": "go", "values": {}})

    assert [message["reply"]["words"] for message in sent] == [words]


@pytest.mark.parametrize(
    "answer",
    [
        lambda panel: panel.show(title="Next"),
        lambda panel: panel.say("No."),
        lambda panel: panel.hand_over("a.csv", "text/csv", b"a"),
    ],
)
def test_a_press_that_is_answered_is_answered_once(sent, answer):
    """A form, a sentence and a file each free the keys by themselves."""
    panel = FormPanel(lambda _: answer(panel))
    tell_panel(panel, {"send": "go", "values": {}})

    assert len(sent) == 1
