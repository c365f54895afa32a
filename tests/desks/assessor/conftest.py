"""A store with three people in it, and whoever has signed in at the assessor's desk."""

import shutil

import pytest

from quizzes import records
from quizzes.desks import visitor as desk
from quizzes.desks.assessor import decision_panel, practical_panel
from quizzes.desks.visitor import Visitor
from quizzes.server.demo_class import people, sittings
from tests.desks.assessor.laid_open import BAD, GOOD
from tests.short_form import THREE_BRAKES, offered


@pytest.fixture(scope="session")
def three_people(tmp_path_factory):
    """A store in which one worked well, one left the hoist unlocked, and one is not finished."""
    path = tmp_path_factory.mktemp("three") / "records.sqlite"
    with pytest.MonkeyPatch.context() as patch:
        patch.setenv("GAL_KEYS", str(path.parent / "keys"))
        offered(patch)
        short = THREE_BRAKES.id
        patch.setattr(
            people, "CLASS", ((GOOD, "careful", short), (BAD, "isolation-skipped", short))
        )
        patch.setattr(sittings, "ALONE", ("Thessaly Brockvane", "careful", short))
        patch.setattr(sittings, "_answer", lambda _: None)
        records.create(f"sqlite:///{path}")
        people.set_up_room(f"sqlite:///{path}")
        sittings.fill(f"sqlite:///{path}")
    return path


@pytest.fixture
def small_class(three_people, store_file):
    """The store in force holds those three."""
    shutil.copyfile(three_people, store_file)
    shutil.copytree(three_people.parent / "keys", store_file.parent / "keys")


@pytest.fixture
def at_the_desk(monkeypatch):
    """Ann Okoro has signed in as an assessor; call it with a name for somebody else."""

    def sign_in(name, role="assessor"):
        for module in (desk, decision_panel, practical_panel):
            monkeypatch.setattr(module, "visitor", lambda: Visitor(role, name=name))

    sign_in("Ann Okoro")
    return sign_in
