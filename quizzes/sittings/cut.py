"""The panel of judges that is kept and in force, and the cut that follows for some questions."""

import datetime as dt
import logging
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from statistics import fmean
from typing import Any

from quizzes.analysis.quality.judgements import Judgements
from quizzes.analysis.quality.panel import Panel, cut_of
from quizzes.analysis.quality.panel_file import PanelError
from quizzes.grading.cut import BANK, PANEL, Cut
from quizzes.grading.question_rule import QUESTIONS_PASS
from quizzes.questions.items import Item
from quizzes.records import Records
from quizzes.records.auditing.signing import is_signed_for, sign_head, unsignable
from quizzes.records.checks import REASON_LIMIT, person_name, plain_text
from quizzes.records.kept_sitting import KeptSitting

KIND = "panel"  # of its entries in the ledger
_LOG = logging.getLogger("gap_and_lining")


@dataclass(frozen=True, slots=True)
class PanelAct:
    """That a panel was kept or ended: when, which, by whom if they had signed in, and why.

    It counts if the house signed for it.
    """

    at: dt.datetime
    title: str
    by: str
    ended: str
    signed: bool = True


def keep_panel(store: Records, panel: Panel, at: dt.datetime, by: str = "") -> None:
    """Keep a panel; it is in force for every sitting that begins from now on.

    The judges' names stand beside the ledger, as those of all people, and can be erased. The head
    is signed afterwards, so that a cut that is changed later no longer fits it.

    Parameters
    ----------
    store : Records
        Where it is kept.
    panel : Panel
        Three judges or more.
    at : datetime
        Now.
    by : str
        The name of the person who keeps it; empty where nobody has signed in.

    Raises
    ------
    ValueError
        If a name cannot be kept, or two judges are one person (`PanelError`).
    """
    for name in panel.second.judges:
        person_name(name)  # all of them before the first is kept
    people = [store.person(name, "", at).id for name in panel.second.judges]
    if len(set(people)) < len(people):
        raise PanelError("Two judges of this panel bear one name: tell them apart.")
    judges = [
        {
            "person": person,
            "trainer": name in panel.trainers,
            "first": dict(zip(panel.first.items, first, strict=True)),
            "second": dict(zip(panel.second.items, second, strict=True)),
        }
        for name, person, first, second in zip(
            panel.second.judges, people, panel.first.chances, panel.second.chances, strict=True
        )
    ]
    body = {"title": panel.title, "invented": panel.invented, "judges": judges}
    _kept(store, body | _by_whom(store, by, at), at)


def end_panel(store: Records, reason: str, at: dt.datetime, by: str = "") -> None:
    """Take the panel out of force; the bank's own estimates hold from now on.

    Parameters
    ----------
    store : Records
        Where it is kept.
    reason : str
        Why it ends, 1 to 500 characters.
    at : datetime
        Now.
    by : str
        As in `keep_panel`.

    Raises
    ------
    ValueError
        If none is in force, or no reason is given.
    """
    if panel_in_force(store) is None:
        raise ValueError("No panel is in force.")
    why = {"ended": plain_text("the reason", reason, REASON_LIMIT)}
    _kept(store, why | _by_whom(store, by, at), at)


def _kept(store: Records, body: dict[str, Any], at: dt.datetime) -> None:
    if why := unsignable(store, at):
        raise ValueError(why)
    sign_head(store, at, store.enter(KIND, body, at))


def _by_whom(store: Records, name: str, at: dt.datetime) -> dict[str, str]:
    """Return by whom it is, by pseudonym, as it is in the ledger."""
    return {"by": store.person(name, "", at).id} if name else {}


def panel_acts(store: Records) -> tuple[PanelAct, ...]:
    """Return every panel that was kept or ended, the last one first."""
    names = {one.id: one.name for one in store.persons()}
    found, title = [], ""
    for one in store.entered(KIND):
        title = str(one.body.get("title", title))
        by = names.get(str(one.body.get("by", "")), "")
        signed = is_signed_for(store, one.seq, one.at)
        found.append(PanelAct(one.at, title, by, str(one.body.get("ended", "")), signed))
    return tuple(reversed(found))


def panel_in_force(store: Records) -> Panel | None:
    """Return the panel that was kept last; None if there is none, or it was ended.

    One for which the house signed no head was added by hand, and is in force for nobody.
    """
    kept = [one for one in store.entered(KIND) if is_signed_for(store, one.seq, one.at)][-1:]
    if not kept or "ended" in kept[-1].body:
        return None
    try:
        return _read(kept[-1].body, {one.id: one.name for one in store.persons()})
    except (KeyError, TypeError, ValueError, AttributeError) as error:
        _LOG.error("panel at entry %d cannot be read: %r", kept[-1].seq, error)
        return None


def _read(body: Mapping[str, Any], names: Mapping[str, str]) -> Panel:
    judges = body["judges"]
    called = [names.get(one["person"], f"judge {at}") for at, one in enumerate(judges, start=1)]
    items = tuple(sorted(judges[0]["second"]))
    first, second = (
        Judgements(
            tuple(called), items, tuple(tuple(one[which][i] for i in items) for one in judges)
        )
        for which in ("first", "second")
    )
    trainers = tuple(
        name for name, one in zip(called, judges, strict=True) if one["trainer"] is True
    )
    return Panel(str(body["title"]), body["invented"] is True, trainers, first, second)


def cut_for(items: Sequence[Item], panel: Panel | None = None) -> Cut:
    """Return the cut of these questions: the panel's with its error, or the bank's own estimates.

    Parameters
    ----------
    items : sequence of Item
        The questions of a sitting.
    panel : Panel, optional
        Three judges or more.
    """
    found = cut_of(panel, [item.id for item in items]) if panel else None
    if panel and found:
        return Cut(
            round(found.in_use, 4),
            PANEL,
            round(found.share, 4),
            round(found.error, 4),
            len(panel.second.judges),
            found.judged,
            panel.title,
            panel.invented,
        )
    share = fmean(item.difficulty for item in items) if items else QUESTIONS_PASS
    return Cut(round(share, 4), BANK)


def cut_of_sitting(kept: KeptSitting) -> Cut:
    """Return the cut that a sitting began with."""
    return kept.cut or cut_for([one.hidden.item for one in kept.questions])


def which_cut(panel: Panel | None, called: str = "cut") -> str:
    """Return which cut is in force for sittings that begin now, called as its reader calls it."""
    if panel is None:
        return (
            f"The {called} of the questions: the bank’s own estimates of what somebody just "
            "competent earns; no panel of judges is in force."
        )
    marked = "the invented panel" if panel.invented else "the panel"
    return (
        f"The {called} of the questions: {marked} “{panel.title}” of {len(panel.second.judges)} "
        f"judges on {len(panel.second.items)} questions, with one standard error added; the "
        "bank’s own estimates where it judged none of a form’s questions."
    )
