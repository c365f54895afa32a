"""`python -m quizzes keys`: shows what may be shown, makes a first key, changes it."""

import getpass

import pytest

from quizzes.__main__ import main
from quizzes.records.keys.command import PASSPHRASE
from quizzes.records.keys.keeping import PUBLIC, SECRET, loaded_key


@pytest.fixture(autouse=True)
def own_folder(tmp_path, monkeypatch):
    """No test looks at the keys of whoever runs it."""
    monkeypatch.setenv("GAL_KEYS", str(tmp_path / "keys"))
    monkeypatch.delenv(PASSPHRASE, raising=False)


def said(capsys, *words):
    """Return the exit code of a command and all that it printed."""
    code = main(["keys", *words])
    out = capsys.readouterr()
    return code, out.out, out.err


def test_without_a_key_one_learns_how_to_make_one(capsys, tmp_path):
    """Nothing is made by looking."""
    code, out, err = said(capsys)

    assert (code, out) == (2, "")
    assert "keys --house NAME" in err
    assert not (tmp_path / "keys").exists()


def test_a_first_key_is_made_and_shown_by_its_public_half(capsys, tmp_path):
    """Twice asked for, it is the same; the secret is nowhere in the words."""
    first = said(capsys, "--house", "Quince Lane")
    key = loaded_key(tmp_path / "keys" / SECRET)

    assert first == said(capsys, "--house", "Quince Lane") == said(capsys)
    assert first[0] == 0
    assert key.public.did in first[1]
    assert str(tmp_path / "keys" / PUBLIC) in first[1]
    assert key.secret.private_bytes_raw().hex() not in first[1]


def test_a_changed_key_is_shown_beside_the_old_one(capsys):
    """The old one with its end, the new one in use."""
    said(capsys, "--house", "Quince Lane")
    code, out, _ = said(capsys, "--change")
    lines = out.splitlines()

    assert code == 0
    assert " until 20" in lines[0]
    assert lines[1].endswith("in use")
    assert lines[0].split()[0] != lines[1].split()[0]


def test_a_key_with_a_passphrase_is_changed_with_it_only(capsys, monkeypatch):
    """From the environment or typed unseen; a wrong one changes nothing and is not repeated."""
    monkeypatch.setenv(PASSPHRASE, "leaf and lining")
    said(capsys, "--house", "Quince Lane")
    before = said(capsys)
    monkeypatch.setenv(PASSPHRASE, "another")
    code, out, err = said(capsys, "--change")

    assert (code, out) == (2, "")
    assert "wrong passphrase" in err
    assert "another" not in err
    assert said(capsys) == before
    monkeypatch.setattr(getpass, "getpass", lambda _: "leaf and lining")
    assert said(capsys, "--change", "--passphrase")[0] == 0
    assert said(capsys) != before


def test_a_name_that_cannot_be_is_refused(capsys, tmp_path):
    """Before a key is made."""
    code, _, err = said(capsys, "--house", "\u202eelse")

    assert code == 2
    assert "control characters" in err
    assert not (tmp_path / "keys" / SECRET).exists()
