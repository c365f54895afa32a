"""A sitting decided by people, its record signed, handed out, checked elsewhere, withdrawn."""

import csv
import datetime as dt
import hashlib
import io
import json
from dataclasses import replace

import icalendar
import pypdf
import pytest

from quizzes import records
from quizzes.__main__ import main
from quizzes.candidates.worker import HABITS, work
from quizzes.desks.assessor.handing_out import file_of_all, file_of_one
from quizzes.records import Records, StaleSitting
from quizzes.records.credentials.verifying import Finding, verified
from quizzes.records.decisions.acts import Act, Verdict
from quizzes.records.decisions.practical import CRITICAL
from quizzes.records.decisions.state import Stage
from quizzes.records.keys.issuer import issuer_trust
from quizzes.sittings.decided.deciding import NotAllowedError, decide, stated
from quizzes.sittings.decided.dossier import dossier
from quizzes.sittings.decided.issuing import handed_out
from quizzes.sittings.decided.record import NoRecordError
from quizzes.sittings.everything import awaiting_second
from quizzes.sittings.run import SittingRun, begin, now, the_sheet
from tests.short_form import THREE_BRAKES


def sat(store, name, habit):
    """Let a virtual person sit three brakes."""
    sheet = the_sheet()
    owner = hashlib.sha256(name.encode()).hexdigest()
    start = {"name": name, "place": "web", "owner": owner, "started_at": now()}
    run = SittingRun(store, begin(store, THREE_BRAKES, sheet, start))
    for _ in run.cases:
        run.rehearse(lambda session: work(session.act, sheet, HABITS[habit], session.setup.order))
    return run.sitting.id


@pytest.fixture(scope="module")
def worked(tmp_path_factory):
    """A store in which one worked carefully and one left the hoist unlocked."""
    path = tmp_path_factory.mktemp("decided") / "records.sqlite"
    with pytest.MonkeyPatch.context() as patch:
        patch.setenv("GAL_KEYS", str(path.parent / "keys"))
        patch.setenv("GAL_ISSUER", "Quince Lane Hoist Training")
        records.create(f"sqlite:///{path}")
        with Records(f"sqlite:///{path}") as store:
            good = sat(store, "Ilka Torvane", "careful")
            bad = sat(store, "Tobiah Fenwright", "isolation-skipped")
            yield store, good, bad, path


@pytest.fixture
def store(worked):
    return worked[0]


def person(store, name):
    return store.person(name, "", now()).id


@pytest.mark.parametrize("word", ["passed", "not passed", "practised"])
def test_nobody_is_found_competent_on_an_exercise(worked, word):
    """Its form shows too little, however well it was sat."""
    store, good, *_ = worked
    found = replace(dossier(store, good), proposed={"outcome": word})

    with pytest.raises(NotAllowedError, match="exercise and shows too little"):
        decide(store, found, person(store, "Ann Okoro"), Verdict.COMPETENT, "Careful.", now())


def test_what_a_record_calls_critical_must_have_been_shown_every_time(worked):
    """A person who missed one of them once, without a critical error, is told which."""
    store, good, bad, _ = worked
    found = replace(dossier(store, good), missed=("S1",))

    with pytest.raises(NotAllowedError, match=r"not shown each time.*Load landed"):
        decide(store, found, person(store, "Ann Okoro"), Verdict.COMPETENT, "Careful.", now())
    assert dossier(store, good).missed == ()
    assert "S2" in dossier(store, bad).missed  # isolation was left out


def test_a_record_goes_from_the_decision_to_its_withdrawal(worked, tmp_path, capsys):
    """Two assessors, a signed file that is good elsewhere, the same again, then withdrawn."""
    store, good, _, path = worked
    ann, ben = person(store, "Ann Okoro"), person(store, "Ben Halloway")
    at = now()
    decide(store, dossier(store, good), ann, Verdict.COMPETENT, "Careful.", at, second_wanted=True)
    with pytest.raises(NoRecordError, match="second assessor is to decide"):
        handed_out(store, good, at)
    assert awaiting_second(store) == 1
    state = decide(store, dossier(store, good), ben, Verdict.COMPETENT, "Careful indeed.", at)
    first, again = (file_of_one(store, "credential", good, now()) for _ in range(2))
    credential = json.loads(first[2])
    status = json.loads(file_of_all(store, "status", now())[2])
    pdf = pypdf.PdfReader(io.BytesIO(file_of_one(store, "pdf", good, now(), "Letter")[2]))
    file = tmp_path / "record.json"
    wish = ["hand-out", "credential", "--sitting", good, "--to", str(file)]
    code = main([*wish, "--records", f"sqlite:///{path}"])
    checked = main(["verify", str(file)])
    made = handed_out(store, good, now())
    later = now() + dt.timedelta(seconds=2)
    found = verified(credential, issuer_trust(), later, status)
    stated(store, dossier(store, good), Act.WITHDRAWAL, ben, "Found at work unsafe.", later)
    after = json.loads(file_of_all(store, "status", later)[2])
    withdrawn = verified(credential, issuer_trust(), later + dt.timedelta(seconds=2), after)

    assert state.stage is Stage.DECIDED
    assert first == again
    assert (code, checked, found.finding) == (0, 0, Finding.GOOD)
    assert "Ben Halloway" in json.dumps(credential)
    shown = {one.id: one.critical for one in made.record.elements}
    assert {name for name, critical in shown.items() if critical} == {*CRITICAL} & {*shown}
    assert made.record.scope.sizes == tuple(sorted(made.record.scope.sizes))
    assert "Critical: cannot be missed" in "".join(page.extract_text() for page in pdf.pages)
    assert list(pdf.attachments) == ["record.json"] or len(pdf.attachments) == 1
    assert "Tobiah" not in "".join(page.extract_text() for page in pdf.pages)
    assert withdrawn.finding is Finding.WITHDRAWN
    with pytest.raises(NoRecordError, match="withdrawn"):
        handed_out(store, good, later)
    assert store.check().sound
    assert "SOUND" not in capsys.readouterr().err


def test_nobody_is_competent_with_a_critical_error_or_by_their_own_word(worked):
    """Whatever the reasons; and the same name with no number is the same person."""
    store, _, bad, _ = worked
    own, ann = person(store, "Tobiah FENWRIGHT"), person(store, "Ann Okoro")
    twin = store.person("Tobiah Fenwright", "17", now()).id
    found = dossier(store, bad)

    assert found.sitting.person_id == own
    for who, why in ((own, "of their own"), (twin, "of their own"), (ann, "critical error")):
        with pytest.raises(NotAllowedError, match=why):
            decide(store, found, who, Verdict.COMPETENT, "I say so.", now())


def test_who_decides_on_less_than_there_is_is_told_to_look_again(worked):
    """Another assessor was first: the second of the two at one moment decides nothing."""
    store, _, bad, _ = worked
    found = dossier(store, bad)
    ann, cora = person(store, "Ann Okoro"), person(store, "Cora Quill")
    decide(store, found, ann, Verdict.NOT_YET, "The hoist was not locked.", now())
    with pytest.raises(StaleSitting):
        decide(store, found, cora, Verdict.NOT_YET, "Likewise.", now())
    record = handed_out(store, bad, now())

    assert record.credential is None
    assert record.record.outcome.value == "not yet competent"
    assert dossier(store, bad).state.decisions[0].proposed == "not yet competent"


def test_what_leaves_the_house_of_all_is_what_the_open_formats_say(worked):
    """CSV with one row an element, learning statements, a calendar that another library reads."""
    store, good, bad, _ = worked
    table = list(
        csv.DictReader(io.StringIO(file_of_all(store, "records", now())[2].decode("utf-8-sig")))
    )
    told = json.loads(file_of_all(store, "learning", now())[2])
    calendar = icalendar.Calendar.from_ical(file_of_all(store, "calendar", now())[2])
    due = file_of_all(store, "due", now())[2].decode("utf-8-sig")

    assert {row["sitting_id"] for row in table} <= {good, bad}
    assert {one["context"]["registration"] for one in told} == {good, bad}
    assert len(calendar.walk("VEVENT")) == 2
    assert "Ilka Torvane" in due
