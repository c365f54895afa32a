"""Two servers on one store, kernels and a server killed in the middle of sittings: nothing lost."""

import os
import signal

import pytest

from quizzes.forms.offered import offers
from quizzes.records import Records, create
from quizzes.sittings.run import SittingRun, begin, now
from tests.server.house import notebook, start, stop
from tests.waiting import comes_true
from widgets.brake.sizes.sheet import INVENTED, load_sheet

pytestmark = pytest.mark.overnight
OWNERS = ("0" * 64, "1" * 64)
# A page at which somebody works without a pause; each act is told once it was kept.
WORKS = """
import os, threading
from quizzes.records import Records, default_url
from quizzes.sittings.run import SittingRun
from widgets.bench.actions import Look
def work():
    store = Records(default_url())
    session = SittingRun(store, store.open_sitting('{owner}')).session()
    with open('{told}', 'a', encoding='utf-8') as told:
        for _ in range(400):
            session.act(Look('springs'))
            print(len(session.events), file=told, flush=True)
threading.Thread(target=work, daemon=True).start()
"""


def told_in(path):
    return [int(line) for line in path.read_text("utf-8").split()] if path.exists() else []


def holds(url, sitting, told):
    """Return whether a sitting's log has every act that was told, each once, and no hole."""
    with Records(url) as store:
        steps = [event.step for event in store.events(sitting.id, 0)]
        SittingRun(store, store.sitting(sitting.id)).session()  # it can be taken up
        return steps == list(range(len(steps))) and len(steps) - max(told) in (0, 1)


def test_nothing_acknowledged_is_lost_or_twice(tmp_path):
    """A kernel is killed, then a whole server; each sitting goes on at its next step elsewhere."""
    url = f"sqlite:///{tmp_path / 'records.sqlite'}"
    create(url)
    with Records(url) as store:
        begun = {"name": "Ada", "started_at": now(), "place": "web"}
        sheet, form = load_sheet(INVENTED), offers()["class_exercise"]
        sittings = [begin(store, form, sheet, begun | {"owner": owner}) for owner in OWNERS]
    told = [tmp_path / f"told {number}" for number in range(2)]
    (tmp_path / "lessons").mkdir()
    for number, owner in enumerate(OWNERS):
        page = WORKS.format(owner=owner, told=told[number])
        notebook(tmp_path / "lessons" / f"work{number}.ipynb", "Work", "# Work", page)
    houses = [start(tmp_path, warm=True), start(tmp_path, warm=True)]
    try:
        for number, house in enumerate(houses):
            house.get(f"/voila/render/work{number}.ipynb")
        assert comes_true(lambda: all(len(told_in(path)) > 10 for path in told), 60)
        for kernel in houses[0].kernels():
            os.kill(kernel, signal.SIGKILL)
        stop(houses[1], signal.SIGKILL)
        assert comes_true(lambda: not houses[0].kernels(), 20)
        before = [told_in(path) for path in told]
        held = [holds(url, *pair) for pair in zip(sittings, before, strict=True)]
        for number in range(2):  # both go on at the server that is left
            houses[0].get(f"/voila/render/work{number}.ipynb")
        assert comes_true(
            lambda: all(len(told_in(p)) > len(b) + 5 for p, b in zip(told, before, strict=True)), 60
        )
    finally:
        stop(houses[0])

    assert held == [True, True]
    with Records(url) as store:
        assert store.check().sound
        for sitting, path in zip(sittings, told, strict=True):
            steps = [event.step for event in store.events(sitting.id, 0)]
            assert steps == list(range(len(steps)))
            assert sorted(set(told_in(path))) == sorted(told_in(path))
