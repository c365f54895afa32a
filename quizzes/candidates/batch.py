"""Many sittings at once: here or on every core; the same for the same seed."""

import gc
import os
from collections.abc import Callable, Iterator
from concurrent.futures import ProcessPoolExecutor
from contextlib import contextmanager
from functools import partial

from .rehearsal import Plan, Sat, sit

AT_A_TIME = 20  # sittings handed to another process in one go: those that share their forms
Progress = Callable[[int], None]


def rehearse(
    plan: Plan,
    sittings: int,
    *,
    cores: int = 1,
    progress: Progress | None = None,
) -> tuple[Sat, ...]:
    """Return rehearsed sittings 0 to `sittings` - 1, in this order wherever they were worked.

    Parameters
    ----------
    plan : Plan
        Form, sheet and seed.
    sittings : int
        How many, 1 to 1,000,000.
    cores : int
        Processes of this machine; 0 for all cores.
    progress : callable, optional
        Called with the number of sittings just finished.

    Raises
    ------
    ValueError
        If `sittings` or `cores` cannot be.
    """
    if not 1 <= sittings <= 1_000_000:
        raise ValueError(f"sittings must be 1 to 1,000,000, got {sittings}")
    if not 0 <= cores <= 1024:
        raise ValueError(f"cores must be 0 (all) to 1024, got {cores}")
    if (processes := min(cores or _own_cores(), len(_batches(sittings)))) > 1:
        batches = _on_cores(plan, sittings, processes)
    else:
        batches = (some(plan, numbers) for numbers in _batches(sittings))
    done: list[Sat] = []
    with _no_sweeping():
        for batch in batches:
            done.extend(batch)
            if progress is not None:
                progress(len(batch))
    return tuple(sorted(done, key=lambda one: one.number))


def some(plan: Plan, numbers: range) -> tuple[Sat, ...]:
    """Return the sittings of some numbers."""
    with _no_sweeping():
        return tuple(sit(plan, number) for number in numbers)


@contextmanager
def _no_sweeping() -> Iterator[None]:
    """Let the collector of reference cycles rest meanwhile.

    A sitting makes some ten thousand small tuples and no cycles to speak of; looking
    through them for cycles would take a third of the time, and once a batch still a tenth.
    """
    was_on = gc.isenabled()
    gc.disable()
    try:
        yield
    finally:
        if was_on:
            gc.enable()


def _batches(sittings: int) -> list[range]:
    return [
        range(first, min(first + AT_A_TIME, sittings)) for first in range(0, sittings, AT_A_TIME)
    ]


def _own_cores() -> int:
    """Return how many cores this process may use."""
    if hasattr(os, "sched_getaffinity"):  # Linux: a container or `taskset` may leave fewer
        return len(os.sched_getaffinity(0))
    return os.cpu_count() or 1


def _on_cores(plan: Plan, sittings: int, processes: int) -> Iterator[tuple[Sat, ...]]:
    with ProcessPoolExecutor(processes, initializer=gc.disable) as pool:
        yield from pool.map(partial(some, plan), _batches(sittings))
