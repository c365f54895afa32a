"""A machine that fails in the middle: disk full, power gone, another program's lock."""

import contextlib
import os
import shutil
import sqlite3
import subprocess
import sys
import threading
import time
from datetime import UTC, datetime
from pathlib import Path

import pytest

from quizzes.records import Records, RecordsError, Start, create
from quizzes.records.auditing.audit import audited
from quizzes.records.keeping.copying import backed_up

NOON = datetime(2026, 11, 28, 12, tzinfo=UTC)
ROOT = Path(__file__).parents[2]
BIG = {"words": "x" * 60_000}


def begun(store):
    return store.begin_sitting(Start("Ada", "form", "1", "test", "0" * 64, "0", "1", NOON)).id


@pytest.fixture
def small_disk(tmp_path):
    """A disk of one megabyte."""
    if os.name != "posix" or os.geteuid() != 0 or not shutil.which("mount"):
        pytest.skip("only root mounts a disk")
    disk = tmp_path / "disk"
    disk.mkdir()
    mounted = subprocess.run(
        ["mount", "-t", "tmpfs", "-o", "size=1m", "tmpfs", str(disk)], check=False
    )
    if mounted.returncode:
        pytest.skip("this machine lets nobody mount a disk")
    yield disk
    subprocess.run(["umount", "-l", str(disk)], check=True)


def fill(store, sitting, acknowledged):
    """Act until there is no room."""
    for step in range(100):
        store.append(sitting, 0, step, BIG, {}, NOON)
        acknowledged.append(step)


def test_a_full_disk_is_said_and_what_was_acknowledged_stays(small_disk):
    """The act that did not fit has not happened; with room again the sitting goes on."""
    url = f"sqlite:///{small_disk / 'records.sqlite'}"
    create(url)
    with Records(url) as store:
        sitting, acknowledged = begun(store), []
        with pytest.raises(RecordsError, match="no room left"):
            fill(store, sitting, acknowledged)
        subprocess.run(["mount", "-o", "remount,size=4m", str(small_disk)], check=True)
        kept = len(store.events(sitting, 0))
        store.append(sitting, 0, kept, {"after": "room"}, {}, NOON)
        found = audited(store)

    assert kept == len(acknowledged) > 3
    assert found.check.sound


def test_a_disk_that_is_full_already_is_said_by_the_store_and_by_a_backup(small_disk, tmp_path):
    """Even to be read a store needs a file beside it; a backup is named, and not its draft."""
    there, elsewhere = (f"sqlite:///{one / 'records.sqlite'}" for one in (small_disk, tmp_path))
    for url in (there, elsewhere):
        create(url)
    with (small_disk / "filling").open("wb", buffering=0) as file, contextlib.suppress(OSError):
        while True:
            file.write(bytes(4096))

    with pytest.raises(RecordsError, match="no room left"), Records(there) as store:
        begun(store)
    with pytest.raises(RecordsError, match=r"/a\.backup has no room left"):
        backed_up(elsewhere, small_disk / "a.backup")
    assert {one.name for one in small_disk.glob("*backup*")} == set()


def test_a_lock_that_goes_is_waited_for(tmp_path):
    """A backup program holds the file for half a second: the act is kept, late."""
    path = tmp_path / "records.sqlite"
    create(f"sqlite:///{path}")
    with Records(f"sqlite:///{path}", patience_s=10) as store:
        sitting = begun(store)
        other = sqlite3.connect(path, isolation_level=None, check_same_thread=False)
        other.execute("BEGIN IMMEDIATE")
        letting_go = threading.Timer(0.5, lambda: other.execute("ROLLBACK"))
        letting_go.start()
        store.append(sitting, 0, 0, {}, {}, NOON)
        letting_go.join()
        other.close()

        assert len(store.events(sitting, 0)) == 1


DIES = """
import os, sys
from datetime import UTC, datetime
from quizzes.records import Records

store = Records(sys.argv[1])
store.finish_sitting(sys.argv[2], {"outcome": "competent"}, datetime.now(UTC))
os.kill(os.getpid(), 9)
"""


def test_an_outcome_is_there_after_death_between_stored_and_shown(tmp_path):
    """Nothing was shown and no head was signed; whoever opens the page again finds the outcome."""
    url = f"sqlite:///{tmp_path / 'records.sqlite'}"
    create(url)
    with Records(url) as store:
        sitting = begun(store)
        subprocess.run([sys.executable, "-c", DIES, url, sitting], cwd=ROOT, check=False)
        outcomes, found = store.outcomes(sitting), audited(store)

    assert [one.content["outcome"] for one in outcomes] == ["competent"]
    assert found.sound


@pytest.mark.overnight
def test_a_lock_of_half_a_minute_is_waited_for(tmp_path):
    """With the patience in use: the act is kept, late, and once; reading goes on meanwhile."""
    path = tmp_path / "records.sqlite"
    create(f"sqlite:///{path}")
    with Records(f"sqlite:///{path}") as store:
        sitting = begun(store)
        other = sqlite3.connect(path, isolation_level=None, check_same_thread=False)
        other.execute("BEGIN IMMEDIATE")
        letting_go = threading.Timer(30, lambda: other.execute("ROLLBACK"))
        letting_go.start()
        began = time.monotonic()
        assert store.events(sitting, 0) == ()
        store.append(sitting, 0, 0, {}, {}, NOON)
        waited_s = time.monotonic() - began
        letting_go.join()
        other.close()

        assert waited_s > 29
        assert len(store.events(sitting, 0)) == 1
