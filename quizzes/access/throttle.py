"""Failed tries slow down: whoever gets it wrong repeatedly waits longer each time."""

from collections import OrderedDict, deque
from dataclasses import dataclass

FREE_TRIES = 3  # a person mistypes
FIRST_WAIT_S, LONGEST_WAIT_S = 2.0, 300.0  # s, doubled with each further failure
FORGOTTEN_S = 1800.0  # s without a failure until all is forgiven
MOST_KEPT = 10_000  # names and addresses that are remembered


@dataclass(frozen=True, slots=True)
class _Failures:
    count: int
    last_s: float


class Throttle:
    """Counts failures by whoever made them: an address, a name that was tried."""

    def __init__(self) -> None:
        self._failures: OrderedDict[str, _Failures] = OrderedDict()

    def wait_s(self, now_s: float, *keys: str) -> float:
        """Return how long the next try has to wait.

        Parameters
        ----------
        now_s : float
            A clock that only goes forward, s.
        *keys : str
            Who tries, and as whom; the longest wait of them counts.

        Returns
        -------
        float
            s; 0 for now.
        """
        return max((self._wait_s(key, now_s) for key in keys), default=0.0)

    def _wait_s(self, key: str, now_s: float) -> float:
        failed = self._failures.get(key)
        if failed is None or failed.count < FREE_TRIES or now_s - failed.last_s > FORGOTTEN_S:
            return 0.0
        doubled = FIRST_WAIT_S * 2.0 ** min(failed.count - FREE_TRIES, 20)
        return max(0.0, failed.last_s + min(doubled, LONGEST_WAIT_S) - now_s)

    def failed(self, now_s: float, *keys: str) -> None:
        """Count a failure."""
        for key in keys:
            before = self._failures.pop(key, _Failures(0, now_s))
            count = before.count if now_s - before.last_s <= FORGOTTEN_S else 0
            self._failures[key] = _Failures(count + 1, now_s)
            if len(self._failures) > MOST_KEPT:
                self._failures.popitem(last=False)

    def succeeded(self, *keys: str) -> None:
        """Forget the failures of those who got in."""
        for key in keys:
            self._failures.pop(key, None)


class Pace:
    """Lets each do something so many times within a while.

    Parameters
    ----------
    most : int
        How many times, 1 or more.
    within_s : float
        s.
    """

    def __init__(self, most: int, within_s: float) -> None:
        self._most, self._within_s = most, within_s
        self._times: OrderedDict[str, deque[float]] = OrderedDict()

    def may(self, now_s: float, who: str) -> bool:
        """Return whether they may now, and count it if so.

        Parameters
        ----------
        now_s : float
            A clock that only goes forward, s.
        who : str
            Who does it.
        """
        times = self._times.setdefault(who, deque(maxlen=self._most))
        self._times.move_to_end(who)
        if len(self._times) > MOST_KEPT:
            self._times.popitem(last=False)
        if len(times) == self._most and now_s - times[0] < self._within_s:
            return False
        times.append(now_s)
        return True
