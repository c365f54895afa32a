"""A file in pieces: whole and in order, or one sentence."""

import base64

import pytest

from widgets.page.panel import is_small
from widgets.page.upload import PIECE, Upload


def pieces(content, name="record.json"):
    text = base64.b64encode(content).decode()
    cut = [text[at : at + PIECE] for at in range(0, len(text), PIECE)] or [""]
    told = {"of": len(cut), "field": "record", "name": name}
    return [{**told, "piece": at, "text": one} for at, one in enumerate(cut)]


def take_all(upload, messages):
    return [upload.take(one) for one in messages]


@pytest.mark.parametrize("size", [0, 1, 11_250, 11_251, 40_000])
def test_a_file_comes_together_from_messages_that_a_page_may_send(size):
    """Whatever its length; each message is one that the border lets through."""
    content = bytes(at % 251 for at in range(size))
    upload, sent = Upload(100_000), pieces(content, "../../etc/record\x07.json")
    *before, last = [upload.take(one) for one in sent]

    assert all(is_small(one) for one in sent)
    assert not any(before)
    assert last.content == content
    assert last.name == "record.json"


@pytest.mark.parametrize(
    ("messages", "words"),
    [
        (pieces(bytes(60_000)), "larger than 50,000 bytes"),
        ([{**pieces(b"x")[0], "of": 10**9}], "larger than"),
        ([{**pieces(b"x")[0], "text": "x" * (PIECE + 1)}], "larger than"),
        (pieces(bytes(30_000))[1:], "did not arrive whole"),
        ([{**pieces(b"x")[0], "text": "no base64!"}], "did not arrive whole"),
        ([{"piece": "0", "of": 1, "text": ""}], "did not arrive whole"),
    ],
)
def test_what_is_too_large_or_no_file_is_refused(messages, words):
    """And the next file is taken all the same."""
    upload = Upload(50_000)
    with pytest.raises(ValueError, match=words):
        take_all(upload, messages)

    assert upload.take(pieces(b"good")[0]).content == b"good"
