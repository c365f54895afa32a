"""Whether there is room for one more page, and if not, how long it takes until there is."""

import os
import re
from contextlib import suppress
from pathlib import Path

try:
    import resource
except ImportError:  # Windows
    resource = None  # type: ignore[assignment]

KERNEL_MB = 40.0  # MB a further page may need, with its figures
SPARE_MB = 300.0  # MB that stay for the machine's other work
MOST_PAGES = 400  # at once, whatever the machine
PAGE_DESCRIPTORS = 16  # descriptors of an open page in the server: 13 were counted
PAGE_SOCKETS = 10  # of its kernel in the server: 6 were counted, 9 while its line is made
OWN_DESCRIPTORS = 150  # of the server itself, and of connections without a page
WISHED_DESCRIPTORS = 16_384
LONGEST_WAIT_S = 40.0  # s in a queue; beyond it a page says how long
AVAILABLE = re.compile(r"^MemAvailable:\s*(\d+) kB$", re.MULTILINE)  # proc(5)


def raise_descriptors() -> int:
    """Let this process open as many descriptors as it may, and return how many that is.

    Returns
    -------
    int
        The limit, dimensionless; what is common where it cannot be asked.
    """
    if resource is None:
        return 8_192
    soft, hard = resource.getrlimit(resource.RLIMIT_NOFILE)
    wished = WISHED_DESCRIPTORS if hard == resource.RLIM_INFINITY else min(WISHED_DESCRIPTORS, hard)
    if soft != resource.RLIM_INFINITY and soft < wished:
        with suppress(ValueError, OSError):
            resource.setrlimit(resource.RLIMIT_NOFILE, (wished, hard))
            soft = wished
    return WISHED_DESCRIPTORS if soft == resource.RLIM_INFINITY else soft


def most_pages(descriptors: int) -> int:
    """Return how many pages a server may hold.

    Parameters
    ----------
    descriptors : int
        How many it may open.

    Examples
    --------
    >>> most_pages(1024), most_pages(200), most_pages(100_000)
    (54, 3, 400)
    """
    return max(1, min(MOST_PAGES, (descriptors - OWN_DESCRIPTORS) // PAGE_DESCRIPTORS))


def free_mb(told: Path = Path("/proc/meminfo")) -> float:
    """Return how much memory the machine has left for programs.

    Parameters
    ----------
    told : Path
        Where the system says so.

    Returns
    -------
    float
        MB; without end where nobody says.
    """
    try:
        found = AVAILABLE.search(told.read_text(encoding="ascii"))
    except OSError:
        found = None
    return int(found[1]) / 1024 if found else float("inf")


def wait_s(pages: int, most: int, queue_s: float, memory_mb: float) -> int:
    """Return how long a visitor has to wait elsewhere, or 0 if there is room.

    Parameters
    ----------
    pages : int
        Pages that stand.
    most : int
        Pages that may.
    queue_s : float
        What the queue would take now, s.
    memory_mb : float
        Memory that is left, MB.

    Returns
    -------
    int
        s; for a place that somebody must leave first, half a minute.

    Examples
    --------
    >>> wait_s(30, 100, 2.0, 4000.0), wait_s(100, 100, 0.0, 4000.0), wait_s(9, 100, 41.2, 9e3)
    (0, 30, 42)
    """
    if pages >= most or memory_mb < SPARE_MB + KERNEL_MB:
        return 30
    return int(queue_s) + 1 if queue_s > LONGEST_WAIT_S else 0


def pages_at_a_time() -> int:
    """Return how many pages are made beside each other: as many as there are processors."""
    return max(2, len(os.sched_getaffinity(0)) if hasattr(os, "sched_getaffinity") else 2)
