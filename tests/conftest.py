"""What all tests share: how hypothesis searches, and which tests stay together on one worker.

On a desk hypothesis searches anew each time; where a run must be repeatable, always the same.
"""

import os
from typing import Any

import pytest
from hypothesis import HealthCheck, settings
from xdist.scheduler import LoadScopeScheduling

# A shared machine stalls now and then; that is no fault of the code under test.
_PATIENT = {"deadline": None, "suppress_health_check": [HealthCheck.too_slow]}

settings.register_profile("desk", **_PATIENT)
settings.register_profile("ci", derandomize=True, print_blob=True, **_PATIENT)
settings.load_profile("ci" if os.environ.get("CI") else "desk")

_BROWSER = "tests/browser/"


class ByFile(LoadScopeScheduling):
    """Gives a file's tests to one worker, as they share what it sets up; and the browser's to one.

    Two browsers beside each other would wait for each other's pages.
    """

    def _split_scope(self, nodeid: str) -> str:
        path = nodeid.split("::", 1)[0]
        return _BROWSER if path.startswith(_BROWSER) else path


@pytest.hookimpl(optionalhook=True)
def pytest_xdist_make_scheduler(config: pytest.Config, log: Any) -> ByFile:
    """Let the workers share the tests by file."""
    return ByFile(config, log)


def pytest_collection_modifyitems(items: list[pytest.Item]) -> None:
    """Put the browser tests first: they take longest, and the rest is done beside them."""
    items.sort(key=lambda item: not item.nodeid.startswith(_BROWSER))
