"""A kept sitting needs nothing but itself: whatever changes in the suite, it goes on as it began."""

import hashlib
import json
from datetime import UTC, datetime

import jsonschema
import pytest
from sqlalchemy import create_engine, text

from quizzes.candidates.worker import CAREFUL, work
from quizzes.forms.offered import Offer, offers
from quizzes.questions.answers import right_json
from quizzes.questions.bank import the_bank
from quizzes.records import Records, RecordsError, create
from quizzes.records.kept_sitting import SCHEMA_FILE, KeptSitting, read_kept, schema
from quizzes.sittings.export import exported
from quizzes.sittings.question_marks import posed_once
from quizzes.sittings.replay import replay_export
from quizzes.sittings.run import SittingRun, begin
from tests import strategies as any_
from tests.short_form import THREE_BRAKES
from widgets.bench.unlike import Notice
from widgets.brake.sizes.sheet import LimitsSheet

SHEET = any_.SHEET
NOON = datetime(2026, 11, 25, 12, tzinfo=UTC)
KEY = hashlib.sha256(b"a sitting that stands by itself").digest()


@pytest.fixture
def url(tmp_path):
    address = f"sqlite:///{tmp_path / 'records.sqlite'}"
    create(address)
    return address


@pytest.fixture
def store(url):
    with Records(url) as opened:
        yield opened


@pytest.fixture
def dice(monkeypatch):
    """The same brakes in each test: the dice key of every sitting is known."""
    monkeypatch.setattr("quizzes.sittings.run.secrets.token_bytes", lambda _: KEY)


def begun(store, form="class_exercise", name="Ada Quern"):
    start = {"name": name, "place": "test", "owner": "ab" * 32, "started_at": NOON}
    return begin(store, form if isinstance(form, Offer) else offers()[form], SHEET, start)


def careful(session):
    work(session.act, SHEET, CAREFUL, session.setup.order)


def go_on(run):
    """Work what is left, answer each question correctly, hand in."""
    while not run.cases_done:
        session = run.session()
        careful(session)
        run.hand_in(session)
    for at, posed in enumerate(run.questions):
        run.keep_answer(at, posed.hidden.item.id, right_json(posed.hidden))
    run.hand_in_questions()


def whole(store, sitting):
    """Return all that came of a sitting, but for its name and moments."""
    export = exported(store, sitting.id)
    return {name: export[name] for name in ("cases", "questions", "outcome")}


def stop_in_the_middle(store, form="class_exercise", acts=5):
    """Begin, finish one case, do some acts of the next, and go away."""
    sitting = begun(store, form)
    run = SittingRun(store, sitting)
    run.rehearse(careful)
    session, left = run.session(), iter(range(acts))

    class AwayError(Exception):
        pass

    def some(action):
        if next(left, None) is None:
            raise AwayError
        return session.act(action)

    with pytest.raises(AwayError):
        work(some, SHEET, CAREFUL, session.setup.order)
    return sitting


def _families(monkeypatch):
    monkeypatch.setattr("quizzes.cases.drawing.draw_case", lambda *_, **__: 1 / 0)
    monkeypatch.setattr("quizzes.cases.families.FAMILIES", {})


def _faults(monkeypatch):
    monkeypatch.setattr("quizzes.cases.families.lay_on", lambda *_: 1 / 0)
    monkeypatch.setattr("quizzes.cases.drawing.EDITION", "99", raising=False)


def _questions(monkeypatch):
    monkeypatch.setattr("quizzes.questions.bank.the_bank", lambda: 1 / 0)
    monkeypatch.setattr("quizzes.forms.offered.bank_in_force", lambda _: 1 / 0)
    monkeypatch.setattr("quizzes.questions.posing.draw_question", lambda *_: 1 / 0)
    monkeypatch.setattr("quizzes.sittings.question_marks.draw_question", lambda *_: 1 / 0)
    monkeypatch.setattr("quizzes.questions.models.MODELS", {})
    monkeypatch.setattr("quizzes.questions.answers.conclude", lambda *_: 1 / 0)


def _sheet(monkeypatch):
    monkeypatch.setenv("GAL_LIMITS", "/nowhere/at_all.toml")


def _blueprint(monkeypatch):
    monkeypatch.setattr("quizzes.forms.offered.offers", dict)
    monkeypatch.setattr("quizzes.forms.offered.READY", {})
    monkeypatch.setattr("quizzes.forms.offered.Offer.draw", lambda *_: 1 / 0)


@pytest.mark.parametrize(
    "change", [_families, _faults, _questions, _sheet, _blueprint], ids=lambda one: one.__name__
)
def test_whatever_changes_an_open_sitting_goes_on_as_it_began(url, dice, tmp_path, change):
    """Same brakes, same questions, same grades and outcome as the twin that nothing happened to."""
    twin_url = f"sqlite:///{tmp_path / 'twin.sqlite'}"
    create(twin_url)
    with Records(twin_url) as store:
        twin = stop_in_the_middle(store)
        go_on(SittingRun(store, twin))
        wanted = whole(store, twin)
    with Records(url) as store, pytest.MonkeyPatch.context() as monkeypatch:
        sitting = stop_in_the_middle(store)
        change(monkeypatch)
        run = SittingRun(store, store.sitting(sitting.id))
        go_on(run)
        found, again = whole(store, sitting), replay_export(exported(store, sitting.id))

    assert found == wanted
    assert again.same
    assert not [notice for case in again.cases for notice in case.notices]


def test_an_open_sitting_is_graded_by_the_edition_that_it_began_with(
    store, dice, second_edition, monkeypatch
):
    """The rules are raised in the middle; the newer ones grade beside, and only when asked."""
    sitting = stop_in_the_middle(store)
    own = sitting.rules_edition
    monkeypatch.setattr("quizzes.grading.grade.EDITION", second_edition)
    run = SittingRun(store, store.sitting(sitting.id))
    go_on(run)
    newer = replay_export(exported(store, sitting.id), second_edition)

    assert {grade["edition"] for grade in run.grades} == {own}
    assert replay_export(exported(store, sitting.id)).same
    assert {case.grade.edition for case in newer.cases} == {second_edition}
    assert not newer.same
    assert begun(store, name="Bo Stair").rules_edition == second_edition


def test_another_number_of_todays_model_is_a_notice_with_both(store, dice, monkeypatch):
    """Neither going on nor grading is refused, and the grade stands."""
    sitting = stop_in_the_middle(store, THREE_BRAKES, 40)
    before = SittingRun(store, sitting).session()
    number, key, value = next(
        (number, path, value)
        for number, event in enumerate(before.events)
        for path, value in _numbers(event.observation)
    )
    from widgets.bench import session as bench

    def bettered(setup, state, action):
        after, observation = take(setup, state, action)
        told = observation.to_json()
        if dict(_numbers(told)).get(key) == value:
            _put(told, key, value + 1)
        return after, type(observation)(**told)

    take = bench.take
    monkeypatch.setattr(bench, "take", bettered)
    session = SittingRun(store, store.sitting(sitting.id)).session()

    assert Notice(number + 1, key, value, value + 1) in session.notices
    assert session.notices[0].line == number + 1
    assert len(session.events) == len(before.events)


def _numbers(found, place=""):
    for key, value in found.items():
        inner = f"{place}.{key}" if place else key
        if isinstance(value, dict):
            yield from _numbers(value, inner)
        elif isinstance(value, float | int) and not isinstance(value, bool):
            yield inner, value


def _put(found, place, value):
    *outer, last = place.split(".")
    for key in outer:
        found[key] = dict(found[key])
        found = found[key]
    found[last] = value


def test_a_beginning_that_is_killed_leaves_nothing_half(url, monkeypatch):
    """Killed after the person, after the row, after the entry: nobody, no sitting, no entry."""
    from quizzes.records.chain import Writer

    class Killed(BaseException):
        pass

    add, count = Writer.add, 0
    for last in (1, 2, 3):
        count = 0

        def dying(self, *args, last=last, **kwargs):
            nonlocal count
            count += 1
            if count == last:
                raise Killed
            entry = add(self, *args, **kwargs)
            if last == 3 and count == 2:
                raise Killed
            return entry

        monkeypatch.setattr(Writer, "add", dying)
        with Records(url) as store, pytest.raises(Killed):
            begun(store, "self_check")
        monkeypatch.setattr(Writer, "add", add)
        with Records(url) as store:
            assert store.results() == ()
            assert store.persons() == ()
            assert store.check().entries == 0
    with Records(url) as store:
        sitting = begun(store, "self_check")
        assert SittingRun(store, sitting).questions  # what is begun has its questions


def test_the_schema_that_ships_is_that_of_the_model():
    """And a kept sitting matches it. Outside check: jsonschema, draft 2020-12."""
    shipped = json.loads(SCHEMA_FILE.read_text(encoding="utf-8"))
    jsonschema.Draft202012Validator.check_schema(shipped)

    assert shipped == json.loads(json.dumps(schema()))


def test_every_question_of_the_bank_comes_back_as_it_was_posed(store):
    """Key, order of the options, numbers and reasons, through the canonical text."""
    items = [item for element in any_elements() for item in the_bank().of_element(element)]
    posed = posed_once(items, KEY, SHEET)
    kept = made(questions=posed)
    text = json.loads(json.dumps(kept.to_json()))
    again = read_kept("x", text)

    assert len(posed) > 150
    assert [one.hidden for one in again.questions] == [one.hidden for one in posed]
    jsonschema.validate(text, schema())


def any_elements():
    from quizzes.questions.scheme import ELEMENTS

    return ELEMENTS


def made(**changed):
    usual = {
        "software": "made here",
        "grading_edition": "1",
        "case_edition": "1",
        "sheet": SHEET,
        "blueprint": offers()["full"].blueprint,
        "cases": offers()["full"].draw(SHEET, KEY).cases,
    }
    return KeptSitting(**(usual | changed))


def test_every_case_of_a_full_form_comes_back_whole():
    """Condition, dice, size, order and notes: equal to the last bit."""
    kept = made()

    assert read_kept("x", json.loads(json.dumps(kept.to_json()))) == kept


def tampered(url, sitting_id, change):
    """Rewrite the first entry of a sitting as its owner can."""
    engine = create_engine(url)
    where = "FROM entry WHERE kind = 'sitting' AND sitting_id = :id"
    with engine.begin() as connection:
        (body,) = connection.execute(text(f"SELECT body {where}"), {"id": sitting_id}).one()
        connection.execute(text("DROP TRIGGER IF EXISTS entry_no_update"))
        connection.execute(
            text("UPDATE entry SET body = :body WHERE kind = 'sitting' AND sitting_id = :id"),
            {"body": change(body), "id": sitting_id},
        )
    engine.dispose()


def _newer(body):
    return body.replace('"format":1', '"format":2')


def _cut_short(body):
    return body[: len(body) // 2]


def _another_shape(body):
    return body.replace('"minutes":', '"hours":')


@pytest.mark.parametrize(
    ("change", "said"),
    [
        (_newer, "at format: it is kept in format 2, and this software reads formats up to 1"),
        (_cut_short, "of the ledger: it is not a JSON object"),
        (_another_shape, "at blueprint.minutes: "),
        (lambda _: "{}", "it lacks 'kept'"),
        (lambda _: "[1]", "it is not a JSON object"),
    ],
)
def test_a_kept_sitting_that_cannot_be_read_is_named_and_the_rest_is_used(url, store, change, said):
    """A sentence with sitting, place and reason; lists, other sittings and new ones go on."""
    bad, good = begun(store, "self_check", "Ada Quern"), begun(store, "self_check", "Bo Stair")
    tampered(url, bad.id, change)

    with pytest.raises(RecordsError) as refused:
        SittingRun(store, store.sitting(bad.id))
    assert f"Sitting {bad.id} cannot be read" in str(refused.value)
    assert said in str(refused.value)
    assert "\n" not in str(refused.value)
    assert len(store.results()) == 2
    assert not store.verify(bad.id).sound
    assert store.verify(good.id).sound
    SittingRun(store, good).rehearse(careful)
    assert begun(store, "self_check", "Ada Quern").person_id == bad.person_id


def test_a_sheet_is_kept_with_all_its_numbers():
    """No size is left out, and its estimated marks stay."""
    sheet = LimitsSheet(SHEET.title, SHEET.invented, SHEET.sizes[:2])
    again = read_kept("x", json.loads(json.dumps(replace_sheet(made(cases=()), sheet).to_json())))

    assert again.sheet == sheet


def replace_sheet(kept, sheet):
    return kept.model_copy(update={"sheet": sheet})
