"""Commands on what is kept and on the bank: grade a sitting again, export, lint, a panel."""

import datetime as dt
import json
import sys
from collections.abc import Mapping
from dataclasses import replace
from pathlib import Path
from typing import Any

from quizzes.analysis.quality.judge_agreement import agreement_of, agreement_words
from quizzes.analysis.quality.panel import Panel, cut_of
from quizzes.analysis.quality.panel_file import PanelError, load_panel
from quizzes.candidates.minutes import table_of_minutes
from quizzes.forms.blueprint import BlueprintError
from quizzes.questions.choosing import NoQuestionError
from quizzes.questions.lint import DRAWS_PER_SIZE, lint_command
from quizzes.questions.own import bank_in_force, own_questions
from quizzes.records import Records, RecordsError, default_url
from quizzes.sittings.replay import BadExportError, Replayed, replay_export
from widgets.brake.sizes.sheet import INVENTED, LimitsSheetError, load_sheet

from .sittings.cut import end_panel, keep_panel, panel_in_force, which_cut
from .sittings.everything import awaiting_second, everything, sittings_table
from .sittings.export import against_export, exported
from .sittings.export_signature import signed_export
from .sittings.run import the_sheet
from .sittings.standing import NOT_GOOD, Standings

LARGEST_EXPORT_BYTES = 50_000_000
_REFUSED = (BlueprintError, NoQuestionError, LimitsSheetError, RecordsError, BadExportError)


def replay_command(asked: Mapping[str, Any]) -> int:
    """Grade a stored or exported sitting again; 0 if the grade is the same, 1 if not.

    Parameters
    ----------
    asked : mapping
        `file` or `sitting` with `records`; `edition`, `json`, and for a stored sitting `export`:
        a file that was saved of it earlier, against which the store is held.
    """
    try:
        export = _export(asked)
        again = replay_export(export, asked["edition"])
        if asked["sitting"]:
            again = replace(again, vouching="")  # the store is its own witness, with its heads
            if asked["export"] and isinstance(export, Mapping):
                earlier = against_export(export, _file(Path(asked["export"])))
                again = replace(again, ledger=(*again.ledger, *earlier))
    except (*_REFUSED, ValueError, OSError) as error:
        return refuse(str(error))
    return _said(again, as_json=asked["json"])


def _export(asked: Mapping[str, Any]) -> object:
    if asked["file"]:
        return _file(Path(asked["file"]))
    with Records(asked["records"] or default_url()) as store:
        return exported(store, asked["sitting"])


def _file(path: Path) -> object:
    if not path.is_file():
        raise BadExportError(f"There is no file {path}.")
    if path.stat().st_size > LARGEST_EXPORT_BYTES:
        raise BadExportError(f"{path.name}: larger than {LARGEST_EXPORT_BYTES} bytes.")
    try:
        return json.loads(path.read_text(encoding="utf-8"))
    except (json.JSONDecodeError, UnicodeDecodeError) as error:
        raise BadExportError(f"{path.name} is not valid JSON: {error}") from None
    except RecursionError:
        raise BadExportError(f"{path.name} is not an export: it is nested too deeply.") from None


def _said(again: Replayed, *, as_json: bool) -> int:
    say(json.dumps(again.to_json(), indent=1) if as_json else "\n".join(again.sentences()))
    return 0 if again.same else 1


def export_command(asked: Mapping[str, Any]) -> int:
    """Print a stored sitting as JSON, signed, or write everything into a folder; return the code.

    A sitting that does not hold is printed all the same, as evidence, and the code is 1.

    Parameters
    ----------
    asked : mapping
        `sitting` or `to` (a new folder), `records`.
    """
    at = dt.datetime.now(dt.UTC)
    try:
        with Records(asked["records"] or default_url()) as store:
            if asked["to"]:
                count = everything(store, Path(asked["to"]), at)
                say(f"{count} sittings and all else in {asked['to']}; see code_book.csv there.")
                if waiting := awaiting_second(store):
                    say(
                        f"{waiting} of them wait for a second assessor or observer: acts.csv, "
                        "observations.csv and ledger.jsonl tell what the first decided or marked. "
                        "Keep them from whoever is to be the second."
                    )
                return 0
            if not asked["sitting"]:
                return refuse("Name a sitting, or with --to FOLDER a new folder for everything.")
            export = exported(store, asked["sitting"])
            trouble = Standings(store).of(store.sitting(asked["sitting"]), again=True).trouble
        say(json.dumps(signed_export(export, at), indent=1))
        if trouble:
            sys.stderr.write(f"{NOT_GOOD} {trouble}\n")
            return 1
    except (*_REFUSED, ValueError, OSError) as error:
        return refuse(str(error))
    return 0


def sittings_command(asked: Mapping[str, Any]) -> int:
    """Print every sitting as CSV, newest first; return the exit code."""
    try:
        with Records(asked["records"] or default_url()) as store:
            sys.stdout.write(sittings_table(store).decode("utf-8-sig").replace("\r\n", "\n"))
    except (*_REFUSED, ValueError, OSError) as error:
        return refuse(str(error))
    return 0


def minutes_command(_: Mapping[str, Any]) -> int:
    """Print the table of minutes, for `quizzes/forms/minutes.toml`; return the exit code."""
    sys.stdout.write(table_of_minutes(load_sheet(INVENTED).sizes))
    return 0


def panel_command(asked: Mapping[str, Any]) -> int:
    """Enter a panel, end the one in force, or show it; return the exit code.

    Parameters
    ----------
    asked : mapping
        `file` or None, `check` to look at it and enter nothing, `end` with the reason, `records`.
    """
    try:
        bank = bank_in_force(the_sheet()).items
        panel = load_panel(Path(asked["file"]), bank) if asked["file"] else None
        if panel and asked["check"]:
            say("\n".join(panel_told(panel)))
            return 0
        with Records(asked["records"] or default_url()) as store:
            now = dt.datetime.now(dt.UTC)
            if panel:
                keep_panel(store, panel, now)
            elif asked["end"]:
                end_panel(store, asked["end"], now)
            found = panel_in_force(store)
    except (PanelError, LimitsSheetError, RecordsError, ValueError) as error:
        return refuse(str(error))
    say("\n".join([which_cut(found), *(panel_told(found) if found else [])]))
    return 0


def panel_told(panel: Panel) -> list[str]:
    """Return what a panel comes to, as lines for a person."""
    found = cut_of(panel, panel.second.items)
    marked = "INVENTED people and numbers. " if panel.invented else ""
    lines = [f"{marked}{panel.title}: {len(panel.second.items)} questions."]
    for judge, row in zip(panel.second.judges, panel.second.chances, strict=True):
        teaches = ", teaches" if judge in panel.trainers else ""
        lines.append(f"  {judge}{teaches}: {sum(row) / len(row):.0%} on the mean, second round")
    lines.append(
        f"Between judges {panel.spread(panel.first):.2f} in the first round, "
        f"{panel.spread(panel.second):.2f} in the second (standard deviation of a chance, mean "
        f"over questions); an estimate moved by {panel.moved:.2f}."
    )
    for which, judgements in (("first", panel.first), ("second", panel.second)):
        lines.append(f"Agreement, {which} round: {agreement_words(agreement_of(judgements))}.")
    if found:
        lines.append(
            f"Cut {found.share:.1%}, standard error {found.error:.1%} (other judges, these "
            f"questions); asked for with one error on the safe side: {found.in_use:.1%}."
        )
    if panel.too_few_from_outside:
        lines.append("Fewer than two judges do not teach those who are assessed: ask others too.")
    return lines


def _counted(questions: int) -> str:
    return "1 question" if questions == 1 else f"{questions} questions"


def lint_bank_command(asked: Mapping[str, Any]) -> int:
    """Look at the questions on the limits sheet in force; return the exit code.

    Parameters
    ----------
    asked : mapping
        `folder` of questions of one's own; None for the bank and the folder in force.
    """
    try:
        sheet = the_sheet()
        code, text = (0, "") if asked["folder"] else lint_command([sheet])
        folder = Path(asked["folder"]) if asked["folder"] else None
        own = own_questions(sheet, folder, DRAWS_PER_SIZE)
    except LimitsSheetError as error:
        return refuse(str(error))
    lines = [text] if text else []
    if asked["folder"] or own.items or own.bad:
        lines += [*own.bad, f"{_counted(len(own.items))} of your own can be asked."]
    say("\n".join(lines))
    return 1 if own.bad else code


def say(text: str) -> None:
    """Print a text for the person or program that asked."""
    sys.stdout.write(text + "\n")


def refuse(sentence: str) -> int:
    """Say in a sentence why it was not done, and return the exit code for that."""
    sys.stderr.write(sentence + "\n")
    return 2
