"""An order of work: its steps by name, what does each at the bench, and what each slip costs."""

from collections.abc import Mapping
from dataclasses import dataclass

from widgets.bench.actions import Action


@dataclass(frozen=True, slots=True)
class WorkStep:
    """One step of an order of work.

    Attributes
    ----------
    name : str
        Name by which questions and tests call it.
    words : str
        What is done, as one says it to somebody.
    acts : tuple of Action
        What does it at the bench; none where the bench has no act for it.
    hides : str
        The part that this step takes away and that hid what comes after it.
    if_not : str
        What comes of leaving it out or doing it too late.
    """

    name: str
    words: str
    acts: tuple[Action, ...] = ()
    hides: str = ""
    if_not: str = ""


@dataclass(frozen=True, slots=True)
class OrderOfWork:
    """Steps in their order; the steps of one group of `free` may change places.

    Attributes
    ----------
    name : str
        Name by which lessons and questions ask for it.
    steps : tuple of WorkStep
        In the order in which they are done.
    free : tuple of tuple of str
        Groups of neighbouring steps, by name, that may come in any order among themselves.
    """

    name: str
    steps: tuple[WorkStep, ...]
    free: tuple[tuple[str, ...], ...] = ()

    @property
    def names(self) -> tuple[str, ...]:
        """The names of the steps, in order."""
        return tuple(step.name for step in self.steps)

    def step(self, name: str) -> WorkStep:
        """Return the step of a name.

        Raises
        ------
        KeyError
            If the order has no such step.
        """
        for one in self.steps:
            if one.name == name:
                return one
        raise KeyError(name)

    def part(self, names: tuple[str, ...]) -> "OrderOfWork":
        """Return some of the steps, in the order of the whole, and what is free among them.

        Raises
        ------
        KeyError
            If the order has no step of a name.
        """
        kept = {self.step(name).name for name in names}
        groups = (tuple(name for name in group if name in kept) for group in self.free)
        return OrderOfWork(
            self.name,
            tuple(step for step in self.steps if step.name in kept),
            tuple(group for group in groups if len(group) > 1),
        )

    def instead(self, name: str, other: Mapping[str, tuple[WorkStep, ...]]) -> "OrderOfWork":
        """Return an order of another name with other steps, or none, in the place of some.

        Raises
        ------
        KeyError
            If the order has no step of a name.
        """
        for replaced in other:
            self.step(replaced)
        steps = tuple(one for step in self.steps for one in other.get(step.name, (step,)))
        kept = {step.name for step in steps}
        groups = (tuple(one for one in group if one in kept) for group in self.free)
        return OrderOfWork(name, steps, tuple(group for group in groups if len(group) > 1))

    def may_swap(self, first: str, second: str) -> bool:
        """Return whether two steps may change places."""
        return any(first in group and second in group for group in self.free)
