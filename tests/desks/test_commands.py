"""The command line beside serving: rehearse, replay, export, lint; refusals in a sentence."""

import json
import subprocess
import sys
from functools import partial
from pathlib import Path

import pytest

from quizzes import records
from quizzes.__main__ import main
from quizzes.candidates.batch import rehearse
from quizzes.candidates.rehearsal import Plan
from quizzes.candidates.worker import HABITS, work
from quizzes.forms.blueprint import READY
from quizzes.questions.lint import lint_command
from quizzes.records import Records
from quizzes.sittings.run import SittingRun, begin, now, the_sheet
from tests.short_form import THREE_BRAKES
from widgets.brake.sizes.sheet import INVENTED

ROOT = Path(__file__).parents[2]
SEED = bytes(range(16))
WANTED = {
    "unsafe_competent": {"n", "count", "upper95"},
    "careful_competent": {"n", "count", "rate"},
}


@pytest.fixture
def kept(tmp_path, monkeypatch) -> str:
    """Return the id of a stored sitting of one careful person; the store is in force."""
    url = f"sqlite:///{tmp_path / 'records.sqlite'}"
    monkeypatch.setenv("GAL_RECORDS", url)
    records.create(url)
    sheet = the_sheet()
    start = {"name": "Ada Quern", "place": "test", "owner": "ab" * 32, "started_at": now()}
    with Records(url) as store:
        run = SittingRun(store, begin(store, THREE_BRAKES, sheet, start))
        for case in run.cases:
            order = case.order
            run.rehearse(
                lambda session, order=order: work(session.act, sheet, HABITS["careful"], order)
            )
        return run.sitting.id


def said(capsys, *words: str) -> tuple[int, str, str]:
    code = main(words)
    out, err = capsys.readouterr()
    return code, out, err


def test_a_rehearsal_prints_what_an_auditor_asks_for(capsys):
    """The keys of the report, a line for each misconception, shares between 0 and 1."""
    code, out, _ = said(
        capsys, "rehearse", "--form", "self_check", "--n", "30", "--seed", SEED.hex(), "--json"
    )
    report = json.loads(out)

    assert code == 0
    for name, keys in WANTED.items():
        assert keys <= report[name].keys()
    assert {"form_spread_sem", "seconds"} <= report.keys()
    assert report["unsafe_competent"]["n"] + report["careful_competent"]["n"] <= 30
    for one in report["misconceptions"].values():
        assert {"shown", "recall", "false_rate"} <= one.keys()
        assert one["recall"] is None or 0 <= one["recall"] <= 1
        assert 0 <= one["false_rate"] <= 1


def test_who_passes_an_exercise_is_not_called_competent(capsys):
    """It cannot end so: nobody is counted as competent, and the report says what it ends with."""
    words = ("rehearse", "--form", "class_exercise", "--n", "4", "--seed", SEED.hex())
    report = json.loads(said(capsys, *words, "--json")[1])
    careful, skill = report["careful_competent"], report["skill"]

    assert report["ends"] == "passed"
    assert (careful["count"], careful["passed"]) == (0, careful["n"])
    assert all(one["competent"] == 0 for one in (*report["honest"].values(), *skill))

    text = said(capsys, *words)[1]
    assert f"graded passed: {careful['n']} of {careful['n']}." in text
    assert "graded competent" not in text


def test_the_same_seed_gives_the_same_sittings_on_one_core_and_on_two():
    """Only the time that it took may differ."""
    plan = Plan(READY["self_check"].resolve(), INVENTED.resolve(), SEED)
    told: list[int] = []
    alone = rehearse(plan, 12, progress=told.append)
    together = rehearse(plan, 12, cores=2)

    def timeless(one):
        return tuple(getattr(one, name) for name in type(one).__slots__ if name != "seconds")

    assert [timeless(one) for one in alone] == [timeless(one) for one in together]
    assert sum(told) == 12


@pytest.mark.parametrize(
    ("words", "said_so"),
    [
        (("rehearse", "--form", "nosuch"), "expected self_check, class_exercise, full, or"),
        (("rehearse", "--seed", "zz"), "hex"),
        (("rehearse", "--seed", "00"), "32 to 128 hex digits"),
        (("rehearse", "--limits", "/nowhere.toml"), "nowhere.toml"),
        (("rehearse", "--cores", "-3", "--n", "1"), "cores must be 0"),
        (("replay", "/nowhere.json"), "nowhere.json"),
        (("replay", "--sitting", "no-such"), "no-such"),
    ],
)
def test_what_cannot_be_done_is_said_in_one_sentence(capsys, kept, words, said_so):
    """Exit code 2, one line, no traceback."""
    code, out, err = said(capsys, *words)

    assert (code, out) == (2, "")
    assert said_so in err
    assert len(err.strip().splitlines()) == 1


def test_a_number_of_sittings_that_cannot_be_is_refused(capsys):
    """As the command line refuses any bad word."""
    with pytest.raises(SystemExit) as left:
        main(["rehearse", "--n", "0"])

    assert left.value.code == 2
    assert "1 to 1,000,000" in capsys.readouterr().err


def test_a_stored_sitting_is_graded_again_the_same(capsys, kept):
    """Line by line; and by the older rules it is graded as well."""
    code, out, _ = said(capsys, "replay", "--sitting", kept)
    older = said(capsys, "replay", "--sitting", kept, "--edition", "1", "--json")

    assert code == 0
    assert "Every grade is the same" in out
    assert json.loads(older[1])["edition"] == "1"
    assert len(json.loads(older[1])["cases"]) == 3


def test_an_exported_sitting_is_graded_again_the_same(capsys, kept, tmp_path):
    """The file alone is enough, without the store."""
    _, out, _ = said(capsys, "export", kept)
    path = tmp_path / "sitting.json"
    path.write_text(out, encoding="utf-8")
    code, told, _ = said(capsys, "replay", str(path))

    assert code == 0
    assert "Every grade is the same" in told


def _number_in(observation: dict) -> tuple[dict, str] | None:
    """Return where an observation holds a number, looked for in its nested objects too."""
    for key, value in observation.items():
        if isinstance(value, dict) and (found := _number_in(value)):
            return found
        if isinstance(value, float):
            return observation, key
    return None


def test_a_number_that_today_s_model_shows_otherwise_is_a_notice_with_both(capsys, kept, tmp_path):
    """No accusation: the ledger is there to find what was altered. A grade changed is found."""
    _, out, _ = said(capsys, "export", kept)
    export = json.loads(out)
    path = tmp_path / "sitting.json"
    edited = json.loads(out)
    line, (where, key) = next(
        (number, found)
        for number, event in enumerate(edited["cases"][1]["events"], start=1)
        if event["action"]["kind"] in {"measure_torque", "measure_disc", "measure_coil", "meter"}
        and (found := _number_in(event["observation"]))
    )
    old, where[key] = where[key], 0.125
    path.write_text(json.dumps(edited), encoding="utf-8")
    log = said(capsys, "replay", str(path))
    export["cases"][2]["grade"]["marks"] = 3
    path.write_text(json.dumps(export), encoding="utf-8")
    grade = said(capsys, "replay", str(path))

    assert log[0] in {0, 1}
    assert f"Note on case 2: line {line}, facts." in log[1]
    assert f"kept 0.125, today’s model shows {old}" in log[1]
    assert grade[0] == 1
    assert "1 grade differs" in grade[1]


@pytest.mark.parametrize(
    ("take_out", "said_of_it"),
    [
        (lambda e: e["cases"][2].update(grade=None), "its grade is missing"),
        (lambda e: e["outcome"].update(outcome="not yet competent"), "follows from the log"),
        (lambda e: e["ledger"].update(sound=False, position=7, reason="x"), "Ledger: at entry 7"),
    ],
)
def test_what_was_taken_out_or_forged_is_said(capsys, kept, tmp_path, take_out, said_of_it):
    """The last grade gone, a better outcome, a ledger that did not hold: never the same."""
    _, out, _ = said(capsys, "export", kept)
    export = json.loads(out)
    take_out(export)
    path = tmp_path / "sitting.json"
    path.write_text(json.dumps(export), encoding="utf-8")
    code, told, _ = said(capsys, "replay", str(path))

    assert code == 1
    assert said_of_it in told


def test_an_export_without_its_last_case_is_refused(capsys, kept, tmp_path):
    """The form says how many there are."""
    _, out, _ = said(capsys, "export", kept)
    export = json.loads(out)
    del export["cases"][2]
    path = tmp_path / "sitting.json"
    path.write_text(json.dumps(export), encoding="utf-8")
    code, _, err = said(capsys, "replay", str(path))

    assert code == 2
    assert "the form has 3, the export holds 2" in err


def test_a_file_nested_without_end_is_no_export(capsys, tmp_path):
    """A sentence in our words, not the language's."""
    path = tmp_path / "deep.json"
    path.write_text("[" * 100_000, encoding="utf-8")
    code, _, err = said(capsys, "replay", str(path))

    assert code == 2
    assert "nested too deeply" in err


def test_a_store_that_is_not_there_is_said_once():
    """As a process of its own: whatever the log says must not be printed beside it."""
    run = subprocess.run(
        [sys.executable, "-m", "quizzes", "export", "x", "--records", "sqlite:////nowhere/x.sqlite"],
        capture_output=True, text=True, cwd=ROOT, check=False,
    )  # fmt: skip

    assert run.returncode == 2
    assert len(run.stderr.strip().splitlines()) == 1


def test_the_bank_has_no_fault_by_its_own_linter(capsys, monkeypatch):
    """The command that a trainer runs on their own sheet; test_lint draws more often."""
    monkeypatch.setattr("quizzes.commands.lint_command", partial(lint_command, draws=2))
    code, out, _ = said(capsys, "lint")

    assert code == 0
    assert "no fault found" in out


def test_an_export_that_was_shortened_is_said_even_where_all_that_is_left_fits(
    capsys, kept, tmp_path
):
    """The last case gone with its place in the form: the house's signature covers the whole."""
    export = json.loads(said(capsys, "export", kept)[1])
    path = tmp_path / "sitting.json"
    path.write_text(json.dumps(export), encoding="utf-8")
    whole = said(capsys, "replay", str(path))
    held = said(capsys, "replay", "--sitting", kept, "--export", str(path))
    export["cases"].pop()
    export["kept"]["cases"].pop()
    path.write_text(json.dumps(export), encoding="utf-8")
    shortened = said(capsys, "replay", str(path))
    refused = said(capsys, "replay", "--sitting", kept, "--export", str(path))

    assert (whole[0], held[0], shortened[0], refused[0]) == (0, 0, 1, 2)
    assert "Whole, and signed by" in whole[1]
    assert "altered after it was signed" in shortened[1]
    assert "altered after it was signed" in refused[2]
