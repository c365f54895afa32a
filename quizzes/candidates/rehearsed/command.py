"""The command `rehearse`: it imports what a rehearsal needs, and no store and no page."""

import json
import os
import re
import secrets
import sys
import time
from collections.abc import Mapping
from pathlib import Path
from typing import Any

from quizzes.candidates.batch import rehearse
from quizzes.candidates.rehearsal import Plan
from quizzes.forms.blueprint import READY, Blueprint, BlueprintError, load_blueprint
from quizzes.questions.choosing import NoQuestionError
from widgets.brake.sizes.sheet import INVENTED, LimitsSheetError, load_sheet

from .report import report
from .telling import told

_HEX = re.compile(r"(?:[0-9a-fA-F]{2}){16,64}")
_REFUSED = (BlueprintError, NoQuestionError, LimitsSheetError, ValueError, OSError)


def rehearse_command(asked: Mapping[str, Any]) -> int:
    """Rehearse a form and print the report; return the exit code.

    Parameters
    ----------
    asked : mapping
        `form`, `n`, `seed` (hex or None), `cores`, `limits`, `json`.
    """
    try:
        blueprint_path = blueprint_file(asked["form"])
        blueprint = load_blueprint(blueprint_path)
        named = asked["limits"] or os.environ.get("GAL_LIMITS") or INVENTED
        sheet_path = Path(named).expanduser().resolve()
        load_sheet(sheet_path)
        plan = Plan(blueprint_path, sheet_path, _seed(asked["seed"]))
        return _rehearse(plan, blueprint, asked)
    except _REFUSED as error:
        sys.stderr.write(f"{error}\n")
        return 2


def _seed(digits: str | None) -> bytes:
    """Return the dice of a rehearsal: those asked for in hex digits, or fresh ones."""
    if not digits:
        return secrets.token_bytes(16)
    if not _HEX.fullmatch(digits):
        raise ValueError(
            f"seed: expected 32 to 128 hex digits, an even number, got {digits!r:.140}."
        )
    return bytes.fromhex(digits)


def _rehearse(plan: Plan, blueprint: Blueprint, asked: Mapping[str, Any]) -> int:
    from tqdm import tqdm  # noqa: PLC0415 (nobody waits for a bar who does not rehearse)

    began = time.perf_counter()
    # A bar for a person who watches; nothing where the output goes to another program.
    with tqdm(total=asked["n"], unit="sitting", disable=None, file=sys.stderr) as bar:
        sittings = rehearse(plan, asked["n"], cores=asked["cores"], progress=bar.update)
    said = report(sittings, blueprint.case_count(), time.perf_counter() - began)
    said = {"form": blueprint.id, "ends": blueprint.ends.value, "seed": plan.seed.hex(), **said}
    text = json.dumps(said, indent=1) if asked["json"] else "\n".join(told(said))
    sys.stdout.write(f"{text}\n")
    return 0


def blueprint_file(form: str) -> Path:
    """Return the file of a blueprint by its name, or by its path.

    Raises
    ------
    BlueprintError
        If there is neither.
    """
    if form in READY:
        return READY[form].resolve()
    path = Path(form)
    if not path.is_file():
        names = ", ".join(READY)
        raise BlueprintError(f"form: expected {names}, or a blueprint's file; got {form!r:.80}.")
    return path.resolve()
