"""One person at one bench: wishes come in as JSON from outside, answers go out as plain JSON.

Between the two stands the log: an event is kept before anybody sees it, and a
wish that could not be kept has not happened.
"""

import logging
from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass
from typing import Any

from .actions import Action
from .actions.codec import BadActionError, from_json, to_json
from .machine import take
from .observed import NOT_TAKEN, Observation
from .setup import Setup
from .starts import at_start
from .unlike import Notice, unlike

_LOG = logging.getLogger("gap_and_lining")
NOT_KEPT, STALE = "wish.not-kept", "wish.stale"  # the store refused; another tab was first


class NotKeptError(Exception):
    """The log could not be written.

    Attributes
    ----------
    code : str
        Why; `bench.words` has its sentence.
    facts : dict
        What the sentence needs, such as the cause that the store names.
    """

    def __init__(self, code: str = NOT_KEPT, **facts: str) -> None:
        super().__init__(code, facts)
        self.code, self.facts = code, facts


@dataclass(frozen=True, slots=True)
class Event:
    """One line of the log: number from 0, action and observation in their JSON forms."""

    number: int
    action: Mapping[str, Any]
    observation: Mapping[str, Any]


Keep = Callable[[Event], None]
Listener = Callable[["Session", Observation], None]


def keep_nothing(_: Event) -> None:
    """Keep no log: for play that leaves no trace."""


class Session:
    """A bench with a log and listeners.

    Parameters
    ----------
    setup : Setup
        The brake. It stays in here.
    keep : callable
        Called with each event before it counts; raises `NotKeptError` if it cannot.
    events : iterable of Event
        A log to take up again.

    Raises
    ------
    BadActionError
        If a line of the log is not an action.
    """

    def __init__(
        self, setup: Setup, keep: Keep = keep_nothing, events: Iterable[Event] = ()
    ) -> None:
        self.setup = setup
        self.state = at_start(setup)
        self.events: list[Event] = []
        self._keep = keep
        self._listeners: list[Listener] = []
        self.notices: list[Notice] = []  # where today's model shows something else than the log
        for event in events:
            self._take_up(event)

    def listen(self, listener: Listener) -> None:
        """Call `listener` after each action that was carried out."""
        self._listeners.append(listener)

    def wish(self, form: object) -> Observation:
        """Carry out a wish from outside and return what is seen; never raise."""
        try:
            return self.act(from_json(form))
        except BadActionError as error:
            _LOG.warning("refused a message: %s", error)
            return _not_taken(error.code, **error.facts)
        except NotKeptError as error:
            _LOG.error("event not kept: %s", error)
            return _not_taken(error.code, **error.facts)
        except Exception:  # noqa: BLE001 (a page must get a sentence, whatever went wrong)
            _LOG.exception("a wish failed")
            return _not_taken("wish.failed")

    def act(self, action: Action) -> Observation:
        """Carry out an action, keep it, tell the listeners, and return what is seen.

        Raises
        ------
        NotKeptError
            If the log could not be written; then nothing has changed.
        """
        state, observation = take(self.setup, self.state, action)
        event = Event(len(self.events), to_json(action), observation.to_json())
        self._keep(event)
        self.events.append(event)
        self.state = state
        if observation.done:
            self._tell(observation)
        return observation

    def _tell(self, observation: Observation) -> None:
        """Tell every listener; what fails there does not undo what was done and kept."""
        for listener in self._listeners:
            try:
                listener(self, observation)
            except Exception:  # noqa: BLE001 (one page's trouble is not the bench's)
                _LOG.exception("a listener of the bench failed")

    def _take_up(self, event: Event) -> None:
        self.state, observation = take(self.setup, self.state, from_json(dict(event.action)))
        self.notices += unlike(event.observation, observation.to_json(), event.number + 1)
        self.events.append(event)


def _not_taken(code: str, **facts: Any) -> Observation:  # noqa: ANN401 (plain JSON values)
    return Observation(False, code, facts, refusal=NOT_TAKEN)  # noqa: FBT003 (as in `observed`)
