"""A store with two sittings, made once, and a copy of it for each test to bend."""

import shutil
from datetime import timedelta

import pytest

from quizzes.records import Records, create
from tests.records.auditing.bending import NOON, sat


@pytest.fixture
def house(tmp_path, monkeypatch):
    """The folder of the keys."""
    monkeypatch.setenv("GAL_KEYS", str(tmp_path / "keys"))
    return tmp_path / "keys"


@pytest.fixture(scope="module")
def made(tmp_path_factory):
    """A store with two sittings of three events each, closed, and the keys that signed it."""
    folder = tmp_path_factory.mktemp("made")
    path = folder / "records.sqlite"
    with pytest.MonkeyPatch.context() as patch:
        patch.setenv("GAL_KEYS", str(folder / "keys"))
        create(f"sqlite:///{path}")
        with Records(f"sqlite:///{path}") as store:
            sat(store, "Ilka Torvane", NOON)
            sat(store, "Bram Quillet", NOON + timedelta(hours=1))
    return folder


@pytest.fixture
def file(made, tmp_path, house):
    """The file of a copy of that store, with a copy of its keys."""
    shutil.copytree(made, tmp_path, dirs_exist_ok=True)
    return tmp_path / "records.sqlite"
