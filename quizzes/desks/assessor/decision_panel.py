"""The panel on which a person decides about a sitting, and everything that may follow."""

import logging
from collections.abc import Callable, Container, Mapping, Sequence
from typing import Any

from quizzes.access.table import Thing
from quizzes.desks.assessor.decided_words import history
from quizzes.desks.assessor.handing_out import file_of_one
from quizzes.desks.visitor import allowed, need, visitor
from quizzes.records import Records, RecordsError
from quizzes.records.decisions.acts import CIRCUMSTANCES, Act, Circumstances, Verdict
from quizzes.records.decisions.state import Stage
from quizzes.records.keys.errors import KeyFileError
from quizzes.sittings.decided.attempts import attempts, waits
from quizzes.sittings.decided.deciding import circumstances_stated, decide, stated, why_not
from quizzes.sittings.decided.dossier import Dossier, dossier, not_competent
from quizzes.sittings.in_force import Clock, now
from widgets.page.prompt_panel import FormPanel, as_sentence, choice_field, text_field, text_of

_LOG = logging.getLogger("gap_and_lining")
_APART = (
    "The grading proposes; a person decides, on the evidence above, and never on their own "
    "sitting. What is decided is added to the ledger and can never be taken out: name nobody in "
    "the reasons."
)
_AROUND = (
    "Stated by somebody who was there. A later statement replaces an earlier one, and "
    "both stay. Give roles here, not names: these words can never be erased."
)
_NOT_YOURS = (
    "Only an assessor who has signed in decides, states circumstances or hands out a record."
)
_YES = "yes"
_WAIVE = ("waive", "Allow an earlier attempt")
_VERDICTS = [(one.value, one.value) for one in Verdict]
# What a button does to the sitting; the others hand something out.
_ACTS = {
    "decide": Act.DECISION,
    "appeal": Act.APPEAL,
    "uphold": Act.RULING,
    "reject": Act.RULING,
    "withdraw": Act.WITHDRAWAL,
    "waive": Act.WAIVER,
    "circumstances": Act.CIRCUMSTANCES,
}
_NOBODY_ELSE = (
    "Nobody who signs in here may do it; the administrator can add an assessor on the page People."
)
_PAPERS = {"pdf a4": "A4", "pdf letter": "Letter"}


class DecisionPanel:
    """Who decides what, and why; appeals, rulings, withdrawals; the record handed out.

    Parameters
    ----------
    store : Records
        Where it is kept.
    changed : callable
        Called when something was decided, so that the list can be drawn again.
    assessors : callable
        Returns the names of everybody who signs in as an assessor.
    clock : callable
        Tells the time, UTC.
    """

    def __init__(
        self,
        store: Records,
        changed: Callable[[], None],
        assessors: Callable[[], Sequence[str]],
        clock: Clock = now,
    ) -> None:
        self._store, self._changed, self._clock = store, changed, clock
        self._assessors = assessors
        self._found: Dossier | None = None
        self.form = FormPanel(self._answer)
        self.around = FormPanel(self._answer)

    def open(self, sitting_id: str) -> None:
        """Show a sitting."""
        self._found = dossier(self._store, sitting_id)
        self._show()

    # ---- what is shown ----

    def bring(self) -> None:
        """Show the sitting that is open at the top of the window."""
        self._show(top=True)

    def _show(self, said: str = "", *, top: bool = False) -> None:
        found = self._found
        assert found is not None
        persons = self._store.persons()
        names, state = {one.id: one.name for one in persons}, found.state
        ids = {one.name: one.id for one in persons if not one.number}

        def refusal(wished: str, name: str = visitor().name) -> str:
            """Return why a person may not press a button; empty if they may."""
            kind = _ACTS.get(wished)
            return why_not(found, kind, name, ids) if kind else ""

        words = [_APART, _proposal(found), *attempts(self._store, found.sitting, self._clock())]
        words += [f"Where it stands: {state.stage.value}{_verdict(found)}."]
        words += history(state, names)
        may = allowed(Thing.DECIDE)
        waiting = waits(self._store, found.sitting, self._clock())
        buttons = [*_buttons(found), *([_WAIVE] if waiting else [])] if may else []
        refusals = {name: refusal(name) for name, _ in buttons}
        others = self._others(refusals, refusal)
        buttons = [one for one in buttons if not refusals[one[0]]]
        if not may:
            words.append(_NOT_YOURS)
        elif any(name in _ACTS for name, _ in buttons):
            words.append(_as_whom())
        barred = [not_competent(found)] if found.standing.word is not None else []
        self.form.show(
            title=f"Decision on {found.sitting.name or 'name erased'}",
            words=[*words, *others, *filter(None, barred)],
            fields=_fields(found, {name for name, _ in buttons}),
            buttons=buttons,
            said=said,
            top=top,
        )
        stood = state.circumstances.facts if state.circumstances else {}
        states = may and not refusal("circumstances")
        self.around.show(
            title="Circumstances of the sitting",
            words=[_AROUND],
            fields=[
                text_field(name, label, stood.get(name, ""), most=200)
                for name, label in CIRCUMSTANCES.items()
                if states
            ],
            buttons=[("circumstances", "State these circumstances")] if states else [],
        )

    def _others(self, refusals: Mapping[str, str], refusal: Callable[..., str]) -> list[str]:
        """Return why whoever looks may not press what, and who may instead: a line a reason."""
        lines = []
        for why in dict.fromkeys(filter(None, refusals.values())):
            barred = next(wished for wished, one in refusals.items() if one == why)
            able = [one for one in self._assessors() if not refusal(barred, one)]
            who = f"Of those who sign in here: {', '.join(able)}." if able else _NOBODY_ELSE
            lines.append(f"{why} {who}")
        return lines

    # ---- what the page sends ----

    def _answer(self, content: Mapping[str, Any]) -> None:
        wished = content.get("send")
        act = self._wishes.get(wished) if isinstance(wished, str) else None
        if act is None or self._found is None:
            return
        panel = self.around if wished == "circumstances" else self.form
        try:
            need(Thing.DECIDE)
            said = act(self, content)
            self.open(self._found.sitting.id)
            if said and panel is self.form:
                self._show(said)
            elif said:
                panel.say(said)
            self._changed()
        except (RecordsError, KeyFileError, ValueError) as error:
            _LOG.warning("decision: %s", error)
            panel.say(as_sentence(str(error)))

    def _decider(self) -> str:
        """Return who decides, as one of the people whose names are kept, so that it can be read."""
        return self._store.person(visitor().name, "", self._clock()).id

    def _decide(self, content: Mapping[str, Any]) -> str:
        assert self._found is not None
        verdict, reasons = text_of(content, "verdict"), text_of(content, "reasons")
        if verdict not in {one.value for one in Verdict}:
            raise ValueError("Choose what you decide.")
        if not reasons.strip():
            raise ValueError("Give your reasons: the record and an appeal rest on them.")
        decide(
            self._store,
            self._found,
            self._decider(),
            Verdict(verdict),
            reasons,
            self._clock(),
            role=text_of(content, "role").strip() or "assessor",
            second_wanted=text_of(content, "second") == _YES,
        )
        return "Kept."

    def _state(self, kind: Act, content: Mapping[str, Any]) -> str:
        assert self._found is not None
        if not text_of(content, "reasons").strip():
            raise ValueError("Say why, in the field for reasons.")
        stated(
            self._store,
            self._found,
            kind,
            self._decider(),
            text_of(content, "reasons"),
            self._clock(),
            role=text_of(content, "role").strip() or "assessor",
            upheld=content.get("send") == "uphold",
        )
        return "Kept."

    def _circumstances(self, content: Mapping[str, Any]) -> str:
        assert self._found is not None
        facts = {name: text_of(content, name) for name in CIRCUMSTANCES}
        told = Circumstances(facts, self._decider())
        circumstances_stated(self._store, self._found, told, self._clock())
        return "Kept."

    def _hand_out(self, content: Mapping[str, Any]) -> str:
        assert self._found is not None
        wished = str(content["send"])
        what = "pdf" if wished in _PAPERS else "credential"
        paper = _PAPERS.get(wished, "A4")
        file = file_of_one(self._store, what, self._found.sitting.id, self._clock(), paper)
        self.form.hand_over(*file)
        return f"Handed over: {file[0]}"

    _wishes: Mapping[str, Callable[["DecisionPanel", Mapping[str, Any]], str]] = {
        "decide": _decide,
        "appeal": lambda self, content: self._state(Act.APPEAL, content),
        "uphold": lambda self, content: self._state(Act.RULING, content),
        "reject": lambda self, content: self._state(Act.RULING, content),
        "waive": lambda self, content: self._state(Act.WAIVER, content),
        "withdraw": lambda self, content: self._state(Act.WITHDRAWAL, content),
        "circumstances": _circumstances,
        "credential": _hand_out,
        "pdf a4": _hand_out,
        "pdf letter": _hand_out,
    }


def _proposal(found: Dossier) -> str:
    if found.standing.trouble:
        return f"The grading proposes nothing: {found.standing.trouble}"
    if found.standing.word is None:
        return "The sitting is not finished; the grading proposes nothing yet."
    return f"The grading proposes: {found.standing.word}."


def _verdict(found: Dossier) -> str:
    verdict, stage = found.state.verdict, found.state.stage
    if verdict is None:
        return ""
    return f", {verdict.value}" if stage is Stage.DECIDED else f"; until then: {verdict.value}"


def _as_whom() -> str:
    return f"You decide as {visitor().name or 'the assessor who has signed in'}."


def _fields(found: Dossier, wished: Container[str]) -> list[dict[str, Any]]:
    """Return what is asked of somebody who may press these buttons."""
    stage = found.state.stage
    if not any(name in wished for name in _ACTS):
        return []
    role = "second assessor" if stage is Stage.SECOND else "assessor"
    fields = [text_field("role", "Your role", role)]
    if "decide" in wished:
        barred = Verdict.COMPETENT.value if not_competent(found) else ""
        verdicts = [one for one in _VERDICTS if one[0] != barred]
        left_out = "Competent is not on the list: the text here says why." if barred else ""
        field = choice_field("verdict", "You decide", [("", "choose"), *verdicts])
        fields.append(field | {"help": left_out})
    grounds = ", or grounds of an appeal" if "appeal" in wished else ""
    fields.append({"name": "reasons", "kind": "long", "label": f"Reasons{grounds}"})
    if "decide" in wished and stage is Stage.OPEN:
        fields.append(
            choice_field(
                "second",
                "Should a second assessor decide as well, without seeing this decision?",
                [("no", "no"), (_YES, "yes")],
            )
        )
    return fields


def _buttons(found: Dossier) -> list[tuple[str, str]]:
    stage, verdict = found.state.stage, found.state.verdict
    if found.standing.word is None or stage is Stage.WITHDRAWN:
        return []
    if stage is Stage.APPEALED:
        return [("uphold", "Uphold the appeal"), ("reject", "Reject the appeal")]
    if stage is not Stage.DECIDED:
        words = {Stage.SECOND: "Decide as second assessor", Stage.DIFFER: "Settle the difference"}
        return [("decide", words.get(stage, "Decide"))]
    buttons = [("decide", "Correct the decision"), ("appeal", "Enter an appeal")]
    if verdict is Verdict.COMPETENT:
        buttons += [("withdraw", "Withdraw the outcome"), ("credential", "Signed record (JSON)")]
    if verdict is not Verdict.MORE:
        buttons += [("pdf a4", "Record, A4 (PDF)"), ("pdf letter", "Record, Letter (PDF)")]
    return buttons
