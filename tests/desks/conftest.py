"""A store of a test's own for every desk, an invented class in it, and what forms send."""

import hashlib
import itertools
import shutil
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from types import SimpleNamespace

import pytest

from quizzes import records
from quizzes.records import Records
from quizzes.server.demo_class import people, sittings
from widgets.page.prompt_panel import FormPanel


@contextmanager
def known_keys(no_forms: Path) -> Iterator[None]:
    """Sittings get known keys, so that a run that fails can be run again; no form of anybody's."""
    count = itertools.count()
    known = SimpleNamespace(
        token_bytes=lambda size: hashlib.sha256(f"desks {next(count)}".encode()).digest()[:size]
    )
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr("quizzes.sittings.run.secrets", known)
        patch.setenv("GAL_BLUEPRINTS", str(no_forms))
        yield


@pytest.fixture(autouse=True, scope="module")
def dice(tmp_path_factory):
    """Every file of tests begins with the same keys."""
    with known_keys(tmp_path_factory.mktemp("no_forms")):
        yield


@pytest.fixture
def store_file(tmp_path, monkeypatch) -> Path:
    """An empty record store, in force for every page of the test."""
    path = tmp_path / "records.sqlite"
    monkeypatch.setenv("GAL_RECORDS", f"sqlite:///{path}")
    monkeypatch.setenv("GAL_PLACE", "web")
    monkeypatch.setenv("GAL_KEYS", str(tmp_path / "keys"))  # two copies of one store would quarrel
    monkeypatch.delenv("GAL_LIMITS", raising=False)
    records.create(records.default_url())
    return path


@pytest.fixture
def store(store_file):
    """The store, opened beside the pages, as another program would."""
    with Records(records.default_url()) as opened:
        yield opened


@pytest.fixture(scope="session")
def demo_file(tmp_path_factory) -> Path:
    """A store with the invented class in it; made once, since its people really work."""
    path = tmp_path_factory.mktemp("demo") / "records.sqlite"
    with known_keys(tmp_path_factory.mktemp("no_forms")), pytest.MonkeyPatch.context() as patch:
        patch.setenv("GAL_KEYS", str(path.parent / "keys"))
        records.create(f"sqlite:///{path}")
        people.set_up_room(f"sqlite:///{path}")
        sittings.fill(f"sqlite:///{path}")
    return path


@pytest.fixture
def demo_class(demo_file, store_file) -> None:
    """The store in force holds the invented class."""
    shutil.copyfile(demo_file, store_file)
    shutil.copytree(demo_file.parent / "keys", store_file.parent / "keys")


@pytest.fixture
def sent(monkeypatch) -> list[dict]:
    """Messages that forms send to the page, in order."""
    messages = []
    monkeypatch.setattr(
        FormPanel, "send", lambda _, content, buffers=None: messages.append(content)
    )
    return messages


@pytest.fixture
def handed(monkeypatch):
    """Files that the page handed over, in order."""
    files = []
    monkeypatch.setattr(FormPanel, "hand_over", lambda _, *file: files.append(file))
    return files
