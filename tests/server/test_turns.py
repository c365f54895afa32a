"""Whose turn it is to have a page made, and whether there is room for one."""

import asyncio

import pytest
from hypothesis import given
from hypothesis import strategies as st

from quizzes.server.pages.room import free_mb, most_pages, wait_s
from quizzes.server.pages.turns import Turns
from tests.server.house import alone


async def order_of(names: list[str], at_a_time: int = 1) -> list[str]:
    """Return in which order those who ask get their turns."""
    turns, had = Turns(at_a_time), []

    async def ask(name: str) -> None:
        async with turns.turn(name):
            had.append(name)
            await asyncio.sleep(0)

    await asyncio.gather(*map(ask, names))
    return had


def test_who_asks_for_many_lets_others_in_between():
    """Ten pages asked for by one do not stand before the first of another."""
    had = alone(order_of(["a"] * 10 + ["b", "c"]))

    assert sorted(had) == ["a"] * 10 + ["b", "c"]
    assert {"b", "c"} <= set(had[:4])


@given(names=st.lists(st.sampled_from("abcde"), min_size=1, max_size=30), at_a_time=st.integers(1, 4))  # fmt: skip
def test_everybody_gets_every_turn(names, at_a_time):
    """No turn is lost or given twice, whoever asks and however many are made at a time."""
    assert sorted(alone(order_of(names, at_a_time))) == sorted(names)


def test_no_more_than_so_many_have_a_turn_at_a_time():
    """The machine's processors are not shared by all who come."""

    async def most() -> int:
        turns, now, seen = Turns(2), 0, 0

        async def ask(name: str) -> None:
            nonlocal now, seen
            async with turns.turn(name):
                now += 1
                seen = max(seen, now)
                for _ in range(5):  # time enough for all who may come in
                    await asyncio.sleep(0)
                now -= 1

        await asyncio.gather(*(ask(str(each)) for each in range(20)))
        return seen

    assert alone(most()) == 2


def test_whoever_goes_away_holds_nobody_up():
    """A turn that nobody waits for any more is passed on."""

    async def after_leaving() -> bool:
        turns = Turns(1)
        async with turns.turn("a"):
            waiting = asyncio.ensure_future(order_in(turns, "b"))
            third = asyncio.ensure_future(order_in(turns, "c"))
            await asyncio.sleep(0)
            waiting.cancel()
        return await asyncio.wait_for(third, 1)

    assert alone(after_leaving())


async def order_in(turns: Turns, name: str) -> bool:
    async with turns.turn(name):
        return True


def test_a_page_that_breaks_gives_its_turn_on():
    """An error in one is no end for all."""

    async def after_breaking() -> bool:
        turns = Turns(1)
        with pytest.raises(ZeroDivisionError):
            async with turns.turn("a"):
                raise ZeroDivisionError
        return await asyncio.wait_for(order_in(turns, "b"), 1)

    assert alone(after_breaking())


@given(pages=st.integers(0, 500), most=st.integers(1, 400), queue_s=st.floats(0, 1000), memory_mb=st.floats(0, 1e5))  # fmt: skip
def test_there_is_room_or_a_wait_of_some_seconds(pages, most, queue_s, memory_mb):
    """Nobody is told to come back in no time, and no full house takes one more."""
    wait = wait_s(pages, most, queue_s, memory_mb)

    assert wait == 0 or 1 <= wait <= 1001
    assert wait or (pages < most and memory_mb > 300)


@given(st.integers(0, 10**6))
def test_more_descriptors_never_mean_fewer_pages(descriptors):
    """And one page always fits, the server's own needs apart."""
    assert 1 <= most_pages(descriptors) <= most_pages(descriptors + 16)


def test_a_system_that_does_not_say_how_much_is_left_refuses_nobody(tmp_path):
    """Elsewhere than on Linux there is no such file."""
    (tmp_path / "meminfo").write_text(
        "MemTotal: 8 kB\nMemAvailable:    2048 kB\n", encoding="ascii"
    )

    assert free_mb(tmp_path / "none") == float("inf")
    assert free_mb(tmp_path / "meminfo") == 2.0
