"""A PostgreSQL whose processes are killed while people work: nothing acknowledged is lost or twice."""

import os
import shutil
import signal
import subprocess
from contextlib import ExitStack, suppress
from pathlib import Path

import psutil
import pytest

from quizzes.records import Records, RecordsError, create
from tests.records.test_many_writers import EACH_ITS_OWN, NOON, begun, go, writer
from tests.waiting import comes_true

pytestmark = pytest.mark.long


class Server:
    """A PostgreSQL of this test's own: a folder, a socket in it, processes that may be killed."""

    def __init__(self, folder: Path, programs: Path) -> None:
        self._folder, self._programs = folder, programs
        self.url = f"postgresql+psycopg://suite@/postgres?host={folder}"
        self._run("initdb", "-U", "suite", "-A", "trust", "-E", "UTF8", "--locale=C.UTF-8")

    def start(self) -> None:
        options = f"-k {self._folder} -c listen_addresses="
        self._run("pg_ctl", "-l", str(self._folder / "log"), "-w", "-o", options, "start")

    def stop(self) -> None:
        self._run("pg_ctl", "-m", "immediate", "stop", check=False)

    def postmaster(self) -> psutil.Process:
        lines = (self._folder / "data" / "postmaster.pid").read_text("utf-8").splitlines()
        return psutil.Process(int(lines[0]))

    def backends(self) -> list[psutil.Process]:
        """Return the processes that serve one connection each."""
        return [
            p for p in self.postmaster().children() if "suite postgres" in " ".join(p.cmdline())
        ]

    def _run(self, program: str, *words: str, check: bool = True) -> None:
        as_user = {"user": "postgres", "group": "postgres"} if os.geteuid() == 0 else {}
        subprocess.run(
            [self._programs / program, "-D", self._folder / "data", *words],
            check=check, cwd="/", stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL, **as_user,
        )  # fmt: skip


@pytest.fixture(scope="module")
def server(tmp_path_factory):
    """A server with a store in it."""
    found = sorted(Path("/usr/lib/postgresql").glob("*/bin/initdb"))
    if not found:
        pytest.skip("PostgreSQL is not installed here")
    # A socket's path may have 107 bytes, and the server's own user must reach it.
    folder = Path("/tmp") / f"gal_{os.getpid()}"
    folder.mkdir(mode=0o755)
    if os.geteuid() == 0:
        shutil.chown(folder, "postgres", "postgres")
    made = Server(folder, found[-1].parent)
    try:
        made.start()
        create(made.url)
        yield made
    finally:
        made.stop()
        shutil.rmtree(folder, ignore_errors=True)


def working(stack, url, sitting, already):
    """Let a process write and say each act that is kept, until something happens to it."""
    script = EACH_ITS_OWN.replace("range(int(sys.argv[3]))", f"range({already}, 100_000)")
    process = writer(stack, script, url, sitting, 0)
    go([process])
    for _ in range(20):
        process.stdout.readline()
    return process


def kill_backends(server):
    first, *others = server.backends()
    first.send_signal(signal.SIGKILL)
    for backend in others:
        with suppress(psutil.NoSuchProcess):  # the postmaster ends them once one was killed
            backend.send_signal(signal.SIGKILL)


def kill_all(server):
    """Kill the postmaster first, so that nobody cleans up, and start it again once all are gone."""
    postmaster = server.postmaster()
    everybody = [postmaster, *postmaster.children(recursive=True)]
    postmaster.send_signal(signal.SIGKILL)
    for process in everybody[1:]:
        with suppress(psutil.NoSuchProcess):
            process.send_signal(signal.SIGKILL)
    psutil.wait_procs(everybody, timeout=20)
    server.start()


def answers(url):
    """Return whether the store can be used; a server that was killed recovers first."""
    try:
        with Records(url) as store:
            return bool(store.ledger_id())
    except RecordsError:
        return False


@pytest.mark.parametrize("kill", [kill_backends, kill_all], ids=["backends", "postmaster"])
def test_what_was_acknowledged_survives_the_database(server, kill):
    """Every act that was said stands there once; everybody goes on afterwards, at the next step."""
    assert comes_true(lambda: answers(server.url), patience_s=60)
    with Records(server.url) as store, ExitStack() as stack:
        sitting = begun(store).id
        process = working(stack, server.url, sitting, 0)
        kill(server)
        assert comes_true(lambda: answers(server.url), patience_s=60)
        process.kill()  # it may have been told, or not have noticed
        acknowledged = 20 + len(process.stdout.read().splitlines())
        events = store.events(sitting, 0)

        # The last one may have been committed and not yet said.
        assert len(events) in (acknowledged, acknowledged + 1)
        assert [event.step for event in events] == list(range(len(events)))
        store.append(sitting, 0, len(events), {"after": "the kill"}, {}, NOON)
        assert store.check().sound
