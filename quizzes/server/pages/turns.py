"""A fair queue: few pages are made at a time, and who asks for many lets others in between.

Made all at once, all pages are ready last; made two at a time, the first stand long before.
"""

import asyncio
from collections import OrderedDict, deque
from collections.abc import AsyncIterator
from contextlib import asynccontextmanager

FIRST_GUESS_S = 0.3  # s a page takes, until some have been made
LONGEST_S = 2.0  # s: what took longer waited for something else, the server's start perhaps
NEW_SHARE = 0.2  # of the last page's time in the mean


class Turns:
    """Who may have a page made now.

    Parameters
    ----------
    at_a_time : int
        Pages that are made beside each other, 1 or more.
    """

    def __init__(self, at_a_time: int) -> None:
        self._free = at_a_time
        self._at_a_time = at_a_time
        self._waiting: OrderedDict[str, deque[asyncio.Future[None]]] = OrderedDict()
        self._page_s = FIRST_GUESS_S

    @property
    def waiting(self) -> int:
        """How many wait."""
        return sum(map(len, self._waiting.values()))

    def wait_s(self) -> float:
        """Return how long whoever comes now has to wait.

        Returns
        -------
        float
            s, by what the last pages took.
        """
        return self._page_s * self.waiting / self._at_a_time

    @asynccontextmanager
    async def turn(self, who: str) -> AsyncIterator[None]:
        """Wait for a turn; have it for as long as the block takes.

        Parameters
        ----------
        who : str
            Turns go round among those who wait, not among their requests.
        """
        await self._come_up(who)
        begun = asyncio.get_running_loop().time()
        try:
            yield
        finally:
            took_s = min(asyncio.get_running_loop().time() - begun, LONGEST_S)
            self._page_s += NEW_SHARE * (took_s - self._page_s)
            self._next()

    async def _come_up(self, who: str) -> None:
        if self._free and not self._waiting:
            self._free -= 1
            return
        turn: asyncio.Future[None] = asyncio.get_running_loop().create_future()
        self._waiting.setdefault(who, deque()).append(turn)
        try:
            await turn
        except asyncio.CancelledError:
            if turn.done() and not turn.cancelled():
                self._next()
            raise

    def _next(self) -> None:
        """Give the turn to the one who has waited longest for one, and put them last."""
        while self._waiting:
            who, turns = self._waiting.popitem(last=False)
            turn = turns.popleft()
            if turns:
                self._waiting[who] = turns
            if not turn.done():
                turn.set_result(None)
                return
        self._free += 1
