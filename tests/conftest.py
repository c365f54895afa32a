"""What all tests share: how hypothesis searches, and which tests stay together on one worker.

On a desk hypothesis searches again each time; where a run must be repeatable, always the same.
"""

import gc
import os
from collections.abc import Iterator
from typing import Any

import pytest
from hypothesis import HealthCheck, settings
from xdist.scheduler import LoadScopeScheduling

# A shared machine stalls now and then; that is no fault of the code under test.
_PATIENT = {"deadline": None, "suppress_health_check": [HealthCheck.too_slow]}

settings.register_profile("desk", **_PATIENT)
# A quarter of the library's number of examples; `desk` has all of them, and others each time.
settings.register_profile("ci", max_examples=25, derandomize=True, print_blob=True, **_PATIENT)
settings.load_profile("ci" if os.environ.get("CI") else "desk")

_BROWSER = "tests/browser/"
# Two groups of about the same length, side by side: each has a browser, a server and a port.
_SEEN_PAGES = {"test_every_page.py", "test_living_page.py", "test_pages_laid_out.py"}
_MOST_WORKERS = 4
# What GAL_LONG must be for a marker; .ci/run sets 1, and 2 is for the night.
_LONG = {"long": 1, "overnight": 2}


class ByFile(LoadScopeScheduling):
    """Gives a file's tests to one worker, as they share what it sets up; the browser's to two."""

    def _split_scope(self, nodeid: str) -> str:
        path = nodeid.split("::", 1)[0]
        if not path.startswith(_BROWSER):
            return path
        return "seen pages" if path.removeprefix(_BROWSER) in _SEEN_PAGES else "worked pages"


@pytest.hookimpl(optionalhook=True)
def pytest_xdist_make_scheduler(config: pytest.Config, log: Any) -> ByFile:
    """Let the workers share the tests by file."""
    return ByFile(config, log)


@pytest.hookimpl(optionalhook=True)
def pytest_xdist_auto_num_workers() -> int:
    """Return one worker more than there are cores: two of them wait for their browsers' pages."""
    return min((os.cpu_count() or 1) + 1, _MOST_WORKERS)


def pytest_collection_modifyitems(items: list[pytest.Item]) -> None:
    """Put the browser tests first, as they take longest; leave the long ones out unless wanted."""
    items.sort(key=lambda item: not item.nodeid.startswith(_BROWSER))
    asked = int(os.environ.get("GAL_LONG") or 0)
    for item in items:
        for marker, level in _LONG.items():
            if item.get_closest_marker(marker) and asked < level:
                item.add_marker(pytest.mark.skip(reason=f"takes long: GAL_LONG={level} runs it"))


def pytest_collection_finish() -> None:
    """Let the collector of garbage leave alone what collecting has made: it stays to the end."""
    gc.collect()
    gc.freeze()


@pytest.fixture(autouse=True, scope="session")
def own_keys(tmp_path_factory: pytest.TempPathFactory) -> Iterator[None]:
    """Signing keys of the tests' own: nobody's real ones are made, read or changed."""
    with pytest.MonkeyPatch.context() as patch:
        patch.setenv("GAL_KEYS", str(tmp_path_factory.mktemp("keys")))
        yield
