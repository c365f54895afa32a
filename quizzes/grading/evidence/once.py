"""What follows from a log is worked out once, when it is first asked for."""

from collections.abc import Callable
from typing import Any, Generic, TypeVar, overload

_Value = TypeVar("_Value")


class once(Generic[_Value]):  # noqa: N801 (a decorator, as `property` is)
    """A property that is worked out when it is first asked for, and is an attribute from then on.

    Notes
    -----
    What `functools.cached_property` does without its lock, which Python 3.12 has dropped: evidence
    belongs to one thread, and a grade asks for some thirty of these.
    """

    def __init__(self, work_out: Callable[[Any], _Value]) -> None:
        self._work_out = work_out
        self.__doc__ = work_out.__doc__

    def __set_name__(self, owner: type, name: str) -> None:
        """Keep the name under which the result is kept."""
        self._name = name

    @overload
    def __get__(self, instance: None, owner: type) -> "once[_Value]": ...
    @overload
    def __get__(self, instance: object, owner: type) -> _Value: ...
    def __get__(self, instance: object | None, owner: type) -> "once[_Value] | _Value":
        """Return the result, worked out now; the attribute of the same name answers next time."""
        if instance is None:
            return self
        value = instance.__dict__[self._name] = self._work_out(instance)
        return value
