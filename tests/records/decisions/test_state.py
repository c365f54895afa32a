"""Where a sitting stands after what people decided: rows are added, and the last that fits stands."""

import datetime as dt

import pytest

from quizzes.records.decisions.acts import (
    Act,
    Circumstances,
    Decision,
    Entered,
    Seat,
    Statement,
    Verdict,
    read_act,
)
from quizzes.records.decisions.state import Stage, refused, state_of

NOON = dt.datetime(2026, 11, 28, 12, tzinfo=dt.UTC)
ANN, BEN, CORA, HOLDER = (f"00000000-0000-4000-8000-{number:012d}" for number in range(1, 5))
YES, NO = Verdict.COMPETENT, Verdict.NOT_YET


def decision(who, verdict, seat, *, second=False):
    return Act.DECISION, Decision(verdict, "as seen", who, "assessor", seat, "competent", second)


def said(kind, who, *, upheld=False):
    return kind, Statement("as heard", who, "assessor", upheld)


def after(*acts):
    entered = [Entered(seq, NOON, kind, act) for seq, (kind, act) in enumerate(acts, start=1)]
    return state_of(entered)


FIRST = decision(ANN, YES, Seat.FIRST, second=True)
ALONE = decision(ANN, YES, Seat.FIRST)


@pytest.mark.parametrize(
    ("acts", "stage", "verdict"),
    [
        ((), Stage.OPEN, None),
        ((ALONE,), Stage.DECIDED, YES),
        ((FIRST,), Stage.SECOND, None),
        ((FIRST, decision(BEN, YES, Seat.SECOND)), Stage.DECIDED, YES),
        ((FIRST, decision(BEN, NO, Seat.SECOND)), Stage.DIFFER, None),
        (
            (FIRST, decision(BEN, NO, Seat.SECOND), decision(CORA, NO, Seat.SETTLEMENT)),
            Stage.DECIDED,
            NO,
        ),
        ((ALONE, decision(BEN, NO, Seat.CORRECTION)), Stage.DECIDED, NO),
        ((ALONE, said(Act.APPEAL, HOLDER)), Stage.APPEALED, YES),
        ((ALONE, said(Act.APPEAL, HOLDER), said(Act.RULING, BEN)), Stage.DECIDED, YES),
        (
            (ALONE, said(Act.APPEAL, HOLDER), said(Act.RULING, BEN, upheld=True)),
            Stage.REOPENED,
            YES,
        ),
        ((ALONE, said(Act.WITHDRAWAL, BEN)), Stage.WITHDRAWN, None),
        (
            (ALONE, decision(BEN, NO, Seat.FIRST)),
            Stage.DECIDED,
            YES,
        ),  # too late: counts for nothing
    ],
)
def test_a_sitting_stands_where_its_acts_leave_it(acts, stage, verdict):
    """And every act stays listed, whether it counted or not."""
    state = after(*acts)

    assert (state.stage, state.verdict) == (stage, verdict)
    assert len(state.acts) == len(acts)


def test_nobody_sees_the_first_decision_before_the_second():
    """Not its verdict, its reasons or who took it; what else was entered is seen."""
    circumstances = (Act.CIRCUMSTANCES, Circumstances({"place": "bay 2"}, ANN))
    waiting = after(circumstances, FIRST)
    both = after(circumstances, FIRST, decision(BEN, NO, Seat.SECOND))

    assert [one.kind for one in waiting.shown()] == [Act.CIRCUMSTANCES]
    assert len(both.shown()) == 3


@pytest.mark.parametrize(
    ("acts", "kind", "who", "words"),
    [
        ((), Act.DECISION, HOLDER, "of their own"),
        ((FIRST,), Act.DECISION, ANN, "must be somebody else"),
        ((ALONE, said(Act.APPEAL, HOLDER)), Act.RULING, ANN, "does not rule"),
        ((ALONE,), Act.WITHDRAWAL, HOLDER, "of their own"),
        ((decision(ANN, NO, Seat.FIRST),), Act.WITHDRAWAL, BEN, "Only a competent outcome"),
        ((), Act.APPEAL, HOLDER, "nobody has decided"),
        ((ALONE, said(Act.APPEAL, HOLDER)), Act.DECISION, BEN, "appeal waits"),
    ],
)
def test_what_may_not_be_done_is_refused_in_a_sentence(acts, kind, who, words):
    """On oneself, twice by one person, out of turn."""
    assert words in refused(after(*acts), kind, who, HOLDER)


def test_what_may_be_done_is_not_refused():
    """A second person decides second, the holder appeals, a third person rules."""
    assert not refused(after(FIRST), Act.DECISION, BEN, HOLDER)
    assert not refused(after(ALONE), Act.APPEAL, HOLDER, HOLDER)
    assert not refused(after(ALONE, said(Act.APPEAL, HOLDER)), Act.RULING, BEN, HOLDER)


@pytest.mark.parametrize(
    ("kind", "act"), [ALONE, said(Act.RULING, BEN), (Act.CIRCUMSTANCES, Circumstances({}, ANN))]
)
def test_an_act_comes_back_from_its_body(kind, act):
    """What the ledger keeps is all of it; a body with a part missing is refused."""
    body = act.body()

    assert read_act(kind.value, body) == act
    body.popitem()
    with pytest.raises(ValueError, match=f"{kind.value}: its body"):
        read_act(kind.value, body)
