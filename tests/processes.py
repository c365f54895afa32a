"""Processes as every system knows them: who runs, what they were told, where they listen."""

import os
import signal
import subprocess
import sys
from collections.abc import Iterable
from pathlib import Path

import psutil
import pytest

# A program cannot send Ctrl-C to a program in another console, and kernels talk over TCP there.
ON_WINDOWS = sys.platform == "win32"
signals = pytest.mark.skipif(ON_WINDOWS, reason="Windows has no signal that asks a program to end")
private_sockets = pytest.mark.skipif(
    ON_WINDOWS, reason="on Windows kernels talk over TCP on the loopback address"
)


def is_running(pid: int) -> bool:
    """Return whether a process is there and is not merely waiting to be counted."""
    try:
        return psutil.Process(pid).status() != psutil.STATUS_ZOMBIE
    except psutil.NoSuchProcess:
        return False


def below(pid: int) -> list[int]:
    """Return the running processes that a process started, theirs among them, oldest first."""
    try:
        found = psutil.Process(pid).children(recursive=True)
    except psutil.NoSuchProcess:
        return []
    return [one.pid for one in found if is_running(one.pid)]


def end_in_time(pids: Iterable[int], patience_s: float = 20.0) -> bool:
    """Wait for processes to end; return whether all did."""
    there = [psutil.Process(pid) for pid in pids if psutil.pid_exists(pid)]
    _, left = psutil.wait_procs(there, timeout=patience_s)
    return not [one for one in left if is_running(one.pid)]


def words_of(pid: int) -> list[str]:
    """Return the command line of a process."""
    return psutil.Process(pid).cmdline()


def environment_of(pid: int) -> dict[str, str]:
    """Return what a process was told when it was started."""
    return psutil.Process(pid).environ()


def sockets(pid: int, kind: str = "all") -> list:
    """Return the sockets that a process holds open: `inet` of the network, `unix` of the machine."""
    return psutil.Process(pid).net_connections(kind=kind)


def listens(pid: int) -> bool:
    """Return whether a process waits for calls from the network."""
    return any(one.status == psutil.CONN_LISTEN for one in sockets(pid, "inet"))


def socket_folders(pid: int) -> set[Path]:
    """Return where the named sockets lie that a process holds open."""
    return {Path(one.laddr).parent for one in sockets(pid, "unix") if one.laddr}


def leads_a_session(pid: int) -> bool:
    """Return whether a process is the first of a session, as a kernel is; Windows has none."""
    try:
        return ON_WINDOWS or os.getsid(pid) == pid
    except ProcessLookupError:
        return False


def ask_to_end(process: subprocess.Popen, how: signal.Signals = signal.SIGINT) -> None:
    """Ask a program to end as Ctrl-C does; where that cannot be sent, end it with its kernels."""
    if not ON_WINDOWS:
        process.send_signal(how)
        return
    for pid in below(process.pid):
        psutil.Process(pid).kill()
    process.kill()
