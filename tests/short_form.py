"""A form of three whole jobs, for tests of what follows a sitting: it is soon worked through.

It may end in "competent", which no form of three jobs may outside of tests.
"""

from pathlib import Path

import pytest

from quizzes.forms.blueprint import READY, load_blueprint
from quizzes.forms.offered import Offer, words_of

PATH = Path(__file__).with_name("three_brakes.toml")
_BLUEPRINT = load_blueprint(PATH)
THREE_BRAKES = Offer(_BLUEPRINT.id, _BLUEPRINT.title, words_of(_BLUEPRINT), _BLUEPRINT)
BRAKES = _BLUEPRINT.case_count()


def offered(patch: pytest.MonkeyPatch) -> None:
    """Let a page offer the form beside the ready ones, for as long as the patch lasts."""
    patch.setitem(READY, THREE_BRAKES.id, PATH)
