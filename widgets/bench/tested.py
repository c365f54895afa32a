"""Tests of a job that are done, and the work after which they have to be done again."""

from .actions.adjusting import SETS_THE_GAP

# What a person proves or tries, as kinds of action.
TESTS = frozenset({"work_lever", "bed_in", "test_run", "test_hold"})
_OF_THE_GAP = frozenset({"test_run", "test_hold"})
_OF_THE_DISC = frozenset({"bed_in"})
# Which tests a piece of work makes worthless. Common practice, no source.
_UNDOES = {
    **dict.fromkeys(("loosen_lock", "tighten_lock", "draw_lock", *SETS_THE_GAP), _OF_THE_GAP),
    **dict.fromkeys(("loosen_adjusting_ring", "lock_adjusting_ring"), _OF_THE_GAP),
    **dict.fromkeys(("connect_leads", "disconnect_leads", "fit_wear_plate"), _OF_THE_GAP),
    **dict.fromkeys(("remove_body", "fit_body"), _OF_THE_GAP | {"work_lever"}),
    **dict.fromkeys(("remove_lever", "refit_lever", "set_lever"), frozenset({"work_lever"})),
    **dict.fromkeys(("remove_disc", "fit_disc"), _OF_THE_GAP | _OF_THE_DISC),
}


def tested_after(tested: tuple[str, ...], kind: str) -> tuple[str, ...]:
    """Return the tests that stand after an action, in the order in which they were done.

    Parameters
    ----------
    tested : tuple of str
        The tests that stood before it.
    kind : str
        Kind of the action that was carried out.
    """
    if kind in TESTS:
        return tested if kind in tested else (*tested, kind)
    undone = _UNDOES.get(kind)
    return tuple(one for one in tested if one not in undone) if undone and tested else tested
