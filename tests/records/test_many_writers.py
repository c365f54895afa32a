"""Every open page is a process of its own: what happens when they write at once, or die."""

import hashlib
import os
import subprocess
import sys
import uuid
from concurrent.futures import ThreadPoolExecutor
from contextlib import ExitStack
from datetime import UTC, datetime
from pathlib import Path

import pytest
from sqlalchemy import create_engine, text
from sqlalchemy.engine import make_url

from quizzes.records import Records, Start, create

NOON = datetime(2026, 11, 25, 12, 0, tzinfo=UTC)
ROOT = Path(__file__).parents[2]
WRITERS = 8
MANY = 40

EACH_ITS_OWN = """
import sys
from datetime import UTC, datetime
from quizzes.records import Records

with Records(sys.argv[1]) as records:
    print("ready", flush=True)
    sys.stdin.readline()
    slot = int(sys.argv[4]) if len(sys.argv) > 4 else 0
    for step in range(int(sys.argv[3])):
        records.append(sys.argv[2], slot, step, {"step": step}, {}, datetime.now(UTC))
        print(step, flush=True)
"""

ALL_IN_ONE = """
import sys
from datetime import UTC, datetime
from quizzes.records import Records, StaleSitting

with Records(sys.argv[1]) as records:
    print("ready", flush=True)
    sys.stdin.readline()
    for count in range(int(sys.argv[3])):
        while True:
            step = len(records.events(sys.argv[2], 0))
            try:
                records.append(sys.argv[2], 0, step, {"by": sys.argv[4]}, {}, datetime.now(UTC))
                break
            except StaleSitting:
                print("stale", flush=True)
"""


@pytest.fixture(params=["sqlite", "postgresql"])
def url(request, tmp_path):
    """A new store; on PostgreSQL in a schema of its own on the server of GAL_TEST_POSTGRES."""
    if request.param == "sqlite":
        address = f"sqlite:///{tmp_path / 'records.sqlite'}"
        create(address)
        yield address
        return
    server = os.environ.get("GAL_TEST_POSTGRES")
    if not server:
        pytest.skip("GAL_TEST_POSTGRES names no PostgreSQL server")
    schema = f"gal_{uuid.uuid4().hex}"
    engine = create_engine(server)
    with engine.begin() as connection:
        connection.execute(text(f"CREATE SCHEMA {schema}"))
    options = {"options": f"-csearch_path={schema}"}
    address = make_url(server).update_query_dict(options).render_as_string(hide_password=False)
    create(address)
    yield address
    with engine.begin() as connection:
        connection.execute(text(f"DROP SCHEMA {schema} CASCADE"))
    engine.dispose()


def begun(records, number=0):
    owner = hashlib.sha256(bytes([number])).hexdigest()
    return records.begin_sitting(Start("Ada", "form", "1", "test", owner, "0.1", "1", NOON))


def writer(stack, script, *arguments):
    """Start a process that has the store open and waits for a line to begin."""
    path = os.pathsep.join([str(ROOT), os.environ.get("PYTHONPATH", "")])
    process = subprocess.Popen(
        [sys.executable, "-c", script, *map(str, arguments)],
        stdin=subprocess.PIPE,
        stdout=subprocess.PIPE,
        text=True,
        env=os.environ | {"PYTHONPATH": path},
    )
    stack.enter_context(process)
    stack.callback(process.kill)
    return process


def go(processes):
    """Let all of them begin at the same moment."""
    for process in processes:
        assert process.stdout.readline() == "ready\n"
    for process in processes:
        process.stdin.write("go\n")
        process.stdin.flush()


def test_eight_processes_writing_at_once_lose_nothing(url):
    """Eight pages, 20 actions each: every one that was acknowledged is there, in a sound chain."""
    with Records(url) as records, ExitStack() as stack:
        sittings = [begun(records, number).id for number in range(WRITERS)]
        processes = [writer(stack, EACH_ITS_OWN, url, sitting, 20) for sitting in sittings]
        go(processes)
        said = [process.communicate()[0].split() for process in processes]

        assert [process.returncode for process in processes] == [0] * WRITERS
        assert said == [[str(step) for step in range(20)]] * WRITERS
        for sitting in sittings:
            assert [event.step for event in records.events(sitting, 0)] == list(range(20))
            assert records.verify(sitting).sound


def test_forty_writers_at_once_lose_nothing_and_lock_nobody_out(url):
    """Forty stores open at once, five acts each: all acknowledged, each once, one sound chain."""
    with Records(url) as records:
        sittings = [begun(records, number).id for number in range(MANY)]
        with ThreadPoolExecutor(MANY) as pool:
            done = list(pool.map(lambda sitting: five_acts(url, sitting), sittings))

        assert done == [5] * MANY
        assert all(len(records.events(sitting, 0)) == 5 for sitting in sittings)
        assert records.check().sound


def five_acts(url, sitting):
    with Records(url) as own:
        for step in range(5):
            own.append(sitting, 0, step, {"step": step}, {}, NOON)
    return 5


def test_eight_tabs_of_one_sitting_write_each_step_once(url):
    """Who comes second reloads and goes on: no step twice, none missing, one chain."""
    with Records(url) as records, ExitStack() as stack:
        sitting = begun(records).id
        processes = [
            writer(stack, ALL_IN_ONE, url, sitting, 5, number) for number in range(WRITERS)
        ]
        go(processes)
        said = [process.communicate()[0] for process in processes]
        events = records.events(sitting, 0)

        assert [process.returncode for process in processes] == [0] * WRITERS
        assert "stale" in "".join(said)  # else they never met, and this shows nothing
        assert [event.step for event in events] == list(range(5 * WRITERS))
        written_by = [event.action["by"] for event in events]
        assert {by: written_by.count(by) for by in written_by} == {
            str(number): 5 for number in range(WRITERS)
        }
        assert records.verify(sitting).sound


def test_two_cases_of_one_sitting_can_be_written_at_once(url):
    """Their events share one chain, and neither is told to reload on the other's account."""
    with Records(url) as records, ExitStack() as stack:
        sitting = begun(records).id
        processes = [writer(stack, EACH_ITS_OWN, url, sitting, 40, slot) for slot in range(2)]
        go(processes)
        for process in processes:
            process.communicate()

        assert [process.returncode for process in processes] == [0, 0]
        for slot in range(2):
            assert [event.step for event in records.events(sitting, slot)] == list(range(40))
        assert records.verify(sitting).entries == 81  # its beginning, and the events


def test_a_killed_writer_leaves_a_sound_chain(url):
    """After kill -9 in mid-writing, all that was acknowledged is there, and the page can go on.

    A killed process only: whether a power cut is survived rests on synchronous=FULL and the disk.
    """
    with Records(url) as records, ExitStack() as stack:
        sitting = begun(records).id
        for _ in range(2):
            already = len(records.events(sitting, 0))
            script = EACH_ITS_OWN.replace("range(int(sys.argv[3]))", f"range({already}, 100_000)")
            process = writer(stack, script, url, sitting, 0)
            go([process])
            for _ in range(25):
                process.stdout.readline()
            process.kill()
            # Not `communicate`: it would leave out what the lines before have read ahead.
            acknowledged = already + 25 + len(process.stdout.read().splitlines())
            process.wait()
            events = records.events(sitting, 0)

            # The last one may have been committed and not yet said.
            assert len(events) in (acknowledged, acknowledged + 1)
            assert [event.step for event in events] == list(range(len(events)))
            assert records.verify(sitting).sound
        records.append(sitting, 0, len(events), {}, {}, NOON)


LOOKS = """
import sys
from quizzes.records import Records
with Records(sys.argv[1]) as records:
    print([row.name for row in records.results()])
"""


def test_a_store_opened_twice_in_one_process_keeps_what_another_would_lose(tmp_path):
    """A second opening leaves the first one's locks alone, or a program that ends deletes the log.

    Outside check: closing any descriptor of a file gives up all of the process's locks on it
    (POSIX.1-2017, fcntl; "How To Corrupt An SQLite Database File", section 2.2, SQLite's site).
    """
    url = f"sqlite:///{tmp_path / 'records.sqlite'}"
    create(url)

    def looked() -> str:
        """What a program finds that opens the store, looks and ends."""
        asked = [sys.executable, "-c", LOOKS, url]
        return subprocess.run(asked, cwd=ROOT, text=True, capture_output=True, check=True).stdout

    with Records(url) as first, Records(url):
        first.results()
        looked()
        first.begin_sitting(Start("Ada Quern", "x", "1", "web", "ab" * 32, "x", "1", NOON))
        found = looked()

    assert "Ada Quern" in found
