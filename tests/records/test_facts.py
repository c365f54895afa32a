"""What the store promises, on SQLite and, where GAL_TEST_POSTGRES names a server, on PostgreSQL.

Example: GAL_TEST_POSTGRES=postgresql+psycopg://suite:pw@127.0.0.1:55432/suite
Each test has a schema of its own there, dropped afterwards.
"""

import gc
import hashlib
import io
import json
import os
import uuid
from dataclasses import replace
from datetime import UTC, datetime, timedelta, timezone

import pytest
import rfc8785
from alembic.autogenerate import compare_metadata
from alembic.migration import MigrationContext
from hypothesis import given, settings
from hypothesis import strategies as st
from PIL import Image
from sqlalchemy import create_engine, text
from sqlalchemy.engine import make_url
from sqlalchemy.exc import DBAPIError

from quizzes.records import (
    PRACTICE,
    NoSuchSitting,
    Records,
    RecordsError,
    StaleSitting,
    Start,
    create,
    store,
)
from quizzes.records.chain import followed
from quizzes.records.database.models import VERSIONS, Base
from quizzes.records.decisions.acts import Act
from quizzes.records.decisions.practical import Photo, Practical
from quizzes.records.heads.checking import head_at, held_against
from quizzes.records.keeping.copying import backed_up, put_back

NOON = datetime(2026, 11, 25, 12, 0, 0, 123456, tzinfo=UTC)
OWNER = hashlib.sha256(b"a browser's key").hexdigest()


def start(name="Ada Loft", form_id="three-cases", at=NOON, owner=OWNER):
    return Start(name, form_id, "2026-1", "test", owner, "0.1.0", "rules-1", at)


def run(url, *statements):
    """Run statements as somebody with a database tool would."""
    engine = create_engine(url)
    try:
        with engine.begin() as connection:
            for statement in statements:
                connection.execute(text(statement))
    finally:
        engine.dispose()


TABLES = ("entry", "sitting", "person", "apart", "photograph")


def tamper(url, statement):
    """Run a statement as its owner can, with the triggers out of the way."""
    if make_url(url).get_backend_name() == "postgresql":
        off = [f"ALTER TABLE {table} DISABLE TRIGGER USER" for table in TABLES]
    else:
        kinds = ("update", "delete", "replace")
        off = [f"DROP TRIGGER IF EXISTS {one}_no_{kind}" for one in TABLES for kind in kinds]
    run(url, *off, statement)


@pytest.fixture(scope="module", params=["sqlite", "postgresql"])
def place(request, tmp_path_factory):
    """A place in which stores can be made, one an address."""
    if request.param == "sqlite":
        folder = tmp_path_factory.mktemp("records")
        yield lambda: f"sqlite:///{folder / uuid.uuid4().hex}.sqlite"
        return
    server = os.environ.get("GAL_TEST_POSTGRES")
    if not server:
        pytest.skip("GAL_TEST_POSTGRES names no PostgreSQL server")
    schemas = []

    def address():
        schemas.append(f"gal_{uuid.uuid4().hex}")
        run(server, f"CREATE SCHEMA {schemas[-1]}")
        options = {"options": f"-csearch_path={schemas[-1]}"}
        return make_url(server).update_query_dict(options).render_as_string(hide_password=False)

    yield address
    run(server, *(f"DROP SCHEMA {schema} CASCADE" for schema in schemas))


@pytest.fixture
def url(place):
    """A store of its own for one test."""
    address = place()
    create(address)
    return address


@pytest.fixture
def records(url):
    with Records(url) as opened:
        yield opened


@pytest.fixture(scope="module")
def shared(place):
    """One store for the many examples of a property."""
    address = place()
    create(address)
    with Records(address) as opened:
        yield opened


def test_a_sitting_comes_back_as_it_began(records):
    """What was known at the start is what is read later, but for the return code."""
    begun = records.begin_sitting(start("  Zoe\u0308 O'Loft "))
    again = records.sitting(begun.id)

    assert again.name == "Zoë O'Loft"
    assert again.started_at == NOON
    assert again.finished_at is None
    assert (again.key, again.owner, again.place) == (begun.key, OWNER, "test")
    assert (again.software_version, again.rules_edition) == ("0.1.0", "rules-1")
    assert again.return_code is None


def test_who_drops_a_store_lets_go_of_the_database(url):
    """Nothing stays open behind a page that is gone: Windows would not let the file be moved."""
    dropped = Records(url)
    begun = dropped.begin_sitting(start())
    dropped.append(begun.id, 0, 0, {}, {}, NOON)
    pool = dropped._engine.pool
    assert pool.checkedin() + pool.checkedout() > 0

    del dropped
    gc.collect()

    assert (pool.checkedin(), pool.checkedout()) == (0, 0)


def test_ids_are_random_and_keys_are_256_bits(records):
    """Two sittings share nothing by which one could be guessed from the other.

    Outside check: RFC 9562 (2024) section 5.4, a random UUID has version 4.
    """
    one, other = (records.begin_sitting(start(name)) for name in ("Ada Loft", "Bo Loft"))

    assert len(one.key) == 32
    assert one.key != other.key
    assert one.person_id != other.person_id
    assert {uuid.UUID(i).version for i in (one.id, one.person_id)} == {4}


def test_moments_of_any_zone_are_kept_as_utc(records):
    """An hour east of UTC is the same moment, read back in UTC to the microsecond."""
    east = timezone(timedelta(hours=1))
    begun = records.begin_sitting(start(at=NOON.astimezone(east)))
    records.append(begun.id, 0, 0, {}, {}, NOON.astimezone(east))

    assert records.events(begun.id, 0)[0].at == NOON
    assert records.events(begun.id, 0)[0].at.utcoffset() == timedelta(0)


def test_events_come_back_in_order(records):
    """Each slot has its own steps; the sitting has one log."""
    begun = records.begin_sitting(start())
    for slot, step in [(0, 0), (0, 1), (1, 0), (0, 2), (1, 1)]:
        records.append(begun.id, slot, step, {"turn": [slot, step]}, {"feel": "drags"}, NOON)

    assert [e.action["turn"] for e in records.events(begun.id, 0)] == [[0, 0], [0, 1], [0, 2]]
    assert [e.position for e in records.events(begun.id, 1)] == [5, 7]  # after person, sitting
    assert records.events(begun.id, 2) == ()


def test_of_two_tabs_the_second_must_reload(records):
    """The step that another window wrote first is refused and left as it stands."""
    begun = records.begin_sitting(start())
    records.append(begun.id, 0, 0, {"tab": 1}, {}, NOON)

    with pytest.raises(StaleSitting, match="load the page again"):
        records.append(begun.id, 0, 0, {"tab": 2}, {}, NOON)
    assert [event.action for event in records.events(begun.id, 0)] == [{"tab": 1}]


def test_the_database_itself_refuses_a_second_step(records, monkeypatch):
    """Were our own look left out, the unique constraint would still hold."""
    begun = records.begin_sitting(start())
    records.append(begun.id, 0, 0, {"tab": 1}, {}, NOON)
    monkeypatch.setattr("quizzes.records.entries.refuse_late", lambda *_: None)

    with pytest.raises(StaleSitting):
        records.append(begun.id, 0, 0, {"tab": 2}, {}, NOON)
    assert len(records.events(begun.id, 0)) == 1


def test_a_log_has_no_holes(records):
    """A step whose forerunner was never stored is refused: a replay would go astray."""
    begun = records.begin_sitting(start())

    with pytest.raises(ValueError, match="step must be 0, the next in slot 0, got 1"):
        records.append(begun.id, 0, 1, {}, {}, NOON)


def test_a_case_that_is_handed_over_takes_no_more(records):
    """After its grade a case is closed; the next case and a second grade tell the difference."""
    begun = records.begin_sitting(start())
    records.append(begun.id, 0, 0, {}, {}, NOON)
    records.finish_case(begun.id, 0, {"score": 1}, NOON)
    records.append(begun.id, 1, 0, {}, {}, NOON)

    with pytest.raises(StaleSitting, match="handed over case 0"):
        records.append(begun.id, 0, 1, {}, {}, NOON)
    with pytest.raises(StaleSitting, match="handed over case 0"):
        records.finish_case(begun.id, 0, {"score": 2}, NOON)
    assert [grade.content for grade in records.grades(begun.id)] == [{"score": 1}]


def test_a_finished_sitting_takes_no_more(records):
    """After the outcome there is neither event nor grade nor second outcome."""
    begun = records.begin_sitting(start())
    records.finish_sitting(begun.id, {"outcome": "competent"}, NOON)

    for late in (
        lambda: records.append(begun.id, 0, 0, {}, {}, NOON),
        lambda: records.finish_case(begun.id, 0, {}, NOON),
        lambda: records.finish_sitting(begun.id, {"outcome": "competent"}, NOON),
    ):
        with pytest.raises(StaleSitting, match="is finished"):
            late()
    assert records.sitting(begun.id).finished_at == NOON
    assert records.verify(begun.id).entries == 2


def test_the_open_sitting_is_the_newest_unfinished_of_that_browser(records):
    """Not a finished one, not another browser's, and practice only when asked for."""
    older = records.begin_sitting(start(at=NOON))
    newer = records.begin_sitting(start(at=NOON + timedelta(hours=1)))
    records.begin_sitting(start(at=NOON + timedelta(hours=2), owner="0" * 64))
    practice = records.begin_sitting(start(form_id=PRACTICE, at=NOON + timedelta(hours=3)))

    assert records.open_sitting(OWNER).id == newer.id
    assert records.open_sitting(OWNER, form_id=PRACTICE).id == practice.id
    records.finish_sitting(newer.id, {"outcome": "competent"}, NOON)
    assert records.open_sitting(OWNER).id == older.id
    assert records.open_sitting("1" * 64) is None


def test_a_return_code_opens_its_sitting_however_it_is_typed(records):
    """Small letters, spaces and dashes make no difference; another code opens nothing."""
    begun = records.begin_sitting(start())
    code = begun.return_code

    assert records.by_return_code(code).id == begun.id
    assert records.by_return_code(f" {code.lower().replace('-', ' ')} ").id == begun.id
    for wrong in ("", "2222-2222-2222", code[:-1], code + "2", "x" * 10_000, "ÄÖÜ", None):
        assert records.by_return_code(wrong) is None


def test_the_return_code_is_not_in_the_store(records, url):
    """Whoever reads the table finds a hash."""
    code = records.begin_sitting(start()).return_code
    engine = create_engine(url)
    with engine.connect() as connection:
        rows = connection.execute(text("SELECT * FROM sitting")).all()
    engine.dispose()

    assert code not in repr(rows)
    assert code.replace("-", "") not in repr(rows)


def test_a_correction_is_a_new_row_that_points_at_the_old(records):
    """Both stay; the new one says who and why, and is the one that stands."""
    begun = records.begin_sitting(start())
    old = records.finish_case(begun.id, 0, {"score": 1}, NOON)
    new = records.supersede_grade(
        old, {"score": 2}, author="assessor-7", reason="reading 3 misheard", at=NOON
    )

    assert [grade.content for grade in records.grades(begun.id)] == [{"score": 2}]
    first, second = records.grades(begun.id, history=True)
    assert (first.position, first.superseded, first.content) == (old.position, True, {"score": 1})
    assert (second.supersedes, second.superseded) == (old.position, False)
    assert (second.author, second.reason) == ("assessor-7", "reading 3 misheard")
    assert new == second
    with pytest.raises(StaleSitting, match="corrected by somebody else"):
        records.supersede_grade(old, {}, author="assessor-8", reason="too late", at=NOON)


def test_an_outcome_is_corrected_after_the_end(records):
    """The list shows the outcome that stands, and that it was corrected."""
    begun = records.begin_sitting(start())
    old = records.finish_sitting(begun.id, {"outcome": "competent", "n": 1}, NOON)
    later = NOON + timedelta(days=2)
    records.supersede_outcome(
        old, {"outcome": "not yet competent"}, author="a-7", reason="unsafe act seen", at=later
    )

    (row,) = records.results()
    assert (row.outcome, row.corrected) == ("not yet competent", True)
    assert row.finished_at == NOON
    assert records.results(outcome="competent") == ()
    assert len(records.outcomes(begun.id, history=True)) == 2
    assert records.verify(begun.id).sound


def test_only_what_is_stored_can_be_corrected(records):
    """A grade of another kind or place is refused by name."""
    begun = records.begin_sitting(start())
    grade = records.finish_case(begun.id, 0, {}, NOON)
    outcome = records.finish_sitting(begun.id, {"outcome": "competent"}, NOON)
    with pytest.raises(ValueError, match="old must be the grade"):
        records.supersede_grade(outcome, {}, author="a", reason="b", at=NOON)
    with pytest.raises(ValueError, match="old must be the outcome"):
        records.supersede_outcome(grade, {"outcome": "x"}, author="a", reason="b", at=NOON)
    with pytest.raises(ValueError, match="old must be a stored grade, got position 99"):
        records.supersede_grade(replace(grade, position=99), {}, author="a", reason="b", at=NOON)


def test_the_list_is_filtered_and_paged_newest_first(records):
    """By part of a name without accents, by outcome, by date; unfinished attempts are there."""
    for day, name in enumerate(["Jörg Müller", "Ada Loft", "Mulenga Banda", "100% Sure_"]):
        begun = records.begin_sitting(start(name, at=NOON + timedelta(days=day)))
        if day < 2:
            word = ("competent", "not yet competent")[day]
            records.finish_sitting(begun.id, {"outcome": word}, NOON)
    records.begin_sitting(start("Muller Practice", form_id=PRACTICE))

    def names(**asked):
        return [row.name for row in records.results(**asked)]

    assert names() == ["100% Sure_", "Mulenga Banda", "Ada Loft", "Jörg Müller"]
    assert names(name="MULLER") == ["Jörg Müller"]
    assert names(name="mul") == ["Mulenga Banda", "Jörg Müller"]
    assert names(name="%") == ["100% Sure_"]
    assert names(name="_") == ["100% Sure_"]
    assert names(outcome="not yet competent") == ["Ada Loft"]
    assert names(finished=False) == ["100% Sure_", "Mulenga Banda"]
    assert names(since=NOON + timedelta(days=1), until=NOON + timedelta(days=3)) == [
        "Mulenga Banda",
        "Ada Loft",
    ]
    assert names(limit=2) + names(limit=2, offset=2) + names(offset=4) == names()
    with pytest.raises(ValueError, match="limit must be a whole number 1 to 500, got 0"):
        names(limit=0)


def test_an_erased_name_is_gone_and_the_record_stays(records, url):
    """The sitting, its log and its chain outlive the name."""
    begun = records.begin_sitting(start("Ada Loft"))
    records.append(begun.id, 0, 0, {}, {}, NOON)
    records.erase_name(begun.person_id)

    assert records.sitting(begun.id).name is None
    assert records.results()[0].person_id == begun.person_id
    assert records.results(name="ada") == ()
    assert records.verify(begun.id).sound
    with pytest.raises(ValueError, match="Nobody whose name is kept"):
        records.erase_name(begun.person_id)


def picture():
    """Return a photograph as it is handed in."""
    held = io.BytesIO()
    Image.new("RGB", (120, 120), "grey").save(held, "PNG")
    return held.getvalue()


def with_practical(records):
    """Keep a practical with notes and a photograph; return the sitting and its place."""
    begun = records.begin_sitting(start())
    photo = records.keep_photograph(begun.person_id, picture(), "gap.png")
    records.keep_photograph(begun.person_id, picture(), "again.png")  # kept once
    sheet = Practical(
        "2 t", "hoist 3", "leaves", {"M2": "shown"}, "Ada was calm.", (), (), str(uuid.uuid4()),
        "observer", (Photo(photo.sha256, photo.media_type, "gap.png"),),
    )  # fmt: skip
    after = records.last_entries()[begun.id]
    seq = records.act(begun.id, Act.PRACTICAL, sheet, NOON, after=after)
    assert records.acts(begun.id)[0].act == sheet
    assert records.check(contents=True).sound
    return begun, seq, photo.sha256


def test_words_and_photographs_are_erased_with_the_name_and_the_ledger_holds(records):
    """The ledger never held them: a salted digest stays, which fits what is gone."""
    begun, seq, digest = with_practical(records)
    ledger = b"".join(records.ledger()[1])
    records.erase_name(begun.person_id)
    (act,) = records.acts(begun.id)

    assert records.photograph(begun.person_id, digest) is None
    assert (act.seq, act.act.photographs, act.act.hoist) == (seq, (), "hoist 3")
    assert "Ada" not in act.act.notes
    assert not any(word in ledger for word in (b"calm", b"gap.png", digest.encode()))
    assert records.check(contents=True).sound
    assert records.check().erased == 1


def test_a_photograph_is_backed_up_put_back_and_refused_where_it_is_another(
    place, url, records, tmp_path
):
    """On SQLite and on PostgreSQL; what cannot be put back whole leaves the target empty."""
    begun, seq, digest = with_practical(records)
    backup = tmp_path / "copy.sqlite"
    backed_up(url, backup)
    put_back(backup, other := place())
    with Records(other) as again:
        assert again.photograph(begun.person_id, digest) == picture()
        assert again.acts(begun.id) == records.acts(begun.id)
        assert again.check(contents=True).sound
    refused = place()
    for statement, said in (
        ("UPDATE photograph SET content = zeroblob(99)", "not the one that was handed in"),
        ("DELETE FROM photograph", "a photograph was taken out"),
    ):
        tamper(f"sqlite:///{backup}", statement)
        with pytest.raises(RecordsError, match=rf"entry {seq}: .*{said}.*Nothing was restored"):
            put_back(backup, refused)
    backed_up(url, tmp_path / "good.sqlite")
    put_back(tmp_path / "good.sqlite", place())


def test_an_unknown_sitting_is_named(records):
    """Every call that names a sitting says that there is none."""
    for call in (
        lambda: records.sitting("nobody"),
        lambda: records.events("nobody", 0),
        lambda: records.grades("nobody"),
        lambda: records.verify("nobody"),
        lambda: records.append("nobody", 0, 0, {}, {}, NOON),
        lambda: records.finish_case("nobody", 0, {}, NOON),
    ):
        with pytest.raises(NoSuchSitting, match="no sitting nobody"):
            call()


CHANGES = [
    "UPDATE entry SET body = '{}'",
    "UPDATE sitting SET place = 'lab'",
    "UPDATE person SET id = 'x'",
    "UPDATE person SET display_name = 'x'",
    "UPDATE record_store SET ledger_id = 'x'",
    "DELETE FROM entry",
    "DELETE FROM sitting",
    "DELETE FROM record_store",
]
REPLACES = [
    "INSERT OR REPLACE INTO entry SELECT * FROM entry",
    "INSERT OR REPLACE INTO sitting SELECT * FROM sitting",
    "INSERT OR REPLACE INTO person SELECT id, salt, 'x', '', same_as, 'x' FROM person",
    # Another place, the same step: the unique constraint would delete the old row.
    (
        "INSERT OR REPLACE INTO entry SELECT seq + 1, sitting_id, kind, slot, step, at, '{}',"
        " outcome, supersedes, previous_sha256, sha256 FROM entry"
    ),
]
TRUNCATES = [f"TRUNCATE {name} CASCADE" for name in ("entry", "sitting", "person")]


def test_no_row_is_changed_or_deleted(records, url):
    """Each statement that would is refused by the database, whatever program sends it."""
    begun = records.begin_sitting(start())
    records.append(begun.id, 0, 0, {"kept": True}, {}, NOON)
    sqlite = make_url(url).get_backend_name() == "sqlite"

    for statement in CHANGES + (REPLACES if sqlite else TRUNCATES):
        with pytest.raises(DBAPIError, match="records are append-only"):
            run(url, statement)
    assert records.events(begun.id, 0)[0].action == {"kept": True}
    assert records.sitting(begun.id).name == "Ada Loft"


def filled(records):
    begun = records.begin_sitting(start())
    for step in range(5):
        records.append(begun.id, 0, step, {"step": step}, {"feel": "drags"}, NOON)
    records.finish_case(begun.id, 0, {"score": 1}, NOON)
    records.finish_sitting(begun.id, {"outcome": "competent"}, NOON)
    return begun


# Entry 1 is the person, 2 the sitting, 3 to 7 its events, 8 the grade, 9 the outcome.
FORGERIES = [
    ('UPDATE entry SET body = \'{"action":{},"observation":{}}\' WHERE seq = 5', 5, "altered"),
    ("UPDATE entry SET body = '{' WHERE seq = 5", 5, "altered"),
    ("UPDATE entry SET step = 9 WHERE seq = 6", 6, "altered"),
    ("UPDATE entry SET outcome = 'not yet' WHERE seq = 9", 9, "altered"),
    ('UPDATE entry SET body = \'{"content":{"score": 3}}\' WHERE seq = 8', 8, "altered"),
    ("UPDATE entry SET sha256 = previous_sha256 WHERE seq = 4", 4, "altered"),
    ("DELETE FROM entry WHERE seq = 4", 4, "missing"),
    ("UPDATE sitting SET form_edition = '2026-2'", 2, "first entry says"),
    ("UPDATE sitting SET owner = return_code_sha256", 2, "first entry says"),
    ("DELETE FROM entry WHERE kind = 'sitting'", 0, "first entry is missing"),
    ("UPDATE person SET display_name = 'Bo Loft'", 1, "not the one that was given"),
    ("UPDATE person SET number = '7'", 1, "not the one that was given"),
    ("DELETE FROM person", 1, "no entry says that it was erased"),
]


@pytest.mark.parametrize(("forgery", "position", "reason"), FORGERIES)
def test_the_first_forged_row_is_found(records, url, forgery, position, reason):
    """A changed, removed or re-dated entry, grade, outcome, name or sitting is named by place."""
    begun = filled(records)
    assert records.verify(begun.id).sound
    assert records.check().sound
    tamper(url, forgery)

    found = records.verify(begun.id)
    assert not found.sound
    assert found.position == position
    assert reason in found.reason
    assert not records.check().sound
    assert [row.sitting_id for row in records.results()] == [begun.id]  # the rest can be used


def test_a_trigger_that_was_dropped_or_does_nothing_any_more_is_found(records, url):
    """The name of a hollow one is right, and rows could be deleted unseen."""
    filled(records)
    if make_url(url).get_backend_name() == "postgresql":
        gone, name = "DROP TRIGGER entry_no_change ON entry", "entry_no_truncate"
        hollow = (
            "CREATE OR REPLACE FUNCTION gap_and_lining_refuse() RETURNS trigger AS"
            " $$ BEGIN RETURN OLD; END $$ LANGUAGE plpgsql"
        )
    else:
        gone, name = "DROP TRIGGER entry_no_delete", "entry_no_delete"
        hollow = f"CREATE TRIGGER {name} BEFORE DELETE ON entry BEGIN SELECT 1; END"
    run(url, gone)
    missing = [one.reason for one in records.check().broken]
    run(url, hollow)
    emptied = [one.reason for one in records.check().broken]

    assert len(missing) == 1
    assert missing[0].endswith("that keeps rows as they are is missing")
    assert any(words.endswith("does something else") for words in emptied)


def test_two_names_that_were_exchanged_are_found(records, url):
    """Each commitment is to one name under one salt."""
    one, other = (records.begin_sitting(start(name)) for name in ("Ada Loft", "Bo Stair"))
    tamper(
        url,
        "UPDATE person SET display_name ="
        " CASE display_name WHEN 'Ada Loft' THEN 'Bo Stair' ELSE 'Ada Loft' END",
    )

    for sitting in (one, other):
        assert "not the one that was given" in records.verify(sitting.id).reason


@pytest.mark.parametrize("others", ["grade", "act", "act elsewhere"])
def test_acts_in_a_row_pass_over_nothing_that_others_added(records, url, others, monkeypatch):
    """On a server the third takes one journey; what another window did meanwhile counts first."""
    at_once = []
    monkeypatch.setattr(store, "followed", lambda *a: at_once.append(followed(*a)) or at_once[-1])
    begun, elsewhere = records.begin_sitting(start()), records.begin_sitting(start("Bo"))
    for step in range(4):
        records.append(begun.id, 0, step, {"n": step}, {}, NOON)
    with Records(url) as other:
        if others == "grade":
            other.finish_case(begun.id, 0, {}, NOON)
        else:
            whose = elsewhere.id if others == "act elsewhere" else begun.id
            other.append(whose, 0, 0 if others == "act elsewhere" else 4, {}, {}, NOON)
    if others == "act elsewhere":
        records.append(begun.id, 0, 4, {"n": 4}, {}, NOON)
    else:
        with pytest.raises(StaleSitting):
            records.append(begun.id, 0, 4, {"n": 4}, {}, NOON)

    assert records.check().sound
    assert [one.step for one in records.events(begun.id, 0)] == list(range(4 + (others != "grade")))
    on_server = make_url(url).get_backend_name() == "postgresql"
    assert at_once == ([True, True, True, False] if on_server else [])


HOLLOW = {
    "kept for replicas": "ALTER TABLE entry ENABLE REPLICA TRIGGER entry_no_change",
    "never": "CREATE OR REPLACE TRIGGER entry_no_change BEFORE UPDATE OR DELETE ON entry"
    " FOR EACH ROW WHEN (false) EXECUTE FUNCTION gap_and_lining_refuse()",
    "of one column": "CREATE OR REPLACE TRIGGER entry_no_change BEFORE UPDATE OF slot OR DELETE"
    " ON entry FOR EACH ROW EXECUTE FUNCTION gap_and_lining_refuse()",
    "a rule": "CREATE RULE quiet AS ON INSERT TO entry DO INSTEAD NOTHING",
}


@pytest.mark.parametrize("statement", HOLLOW.values(), ids=HOLLOW)
def test_a_servers_trigger_that_never_acts_and_a_rule_are_found(records, url, statement):
    """They bear the right name and call the right function."""
    if make_url(url).get_backend_name() != "postgresql":
        pytest.skip("of PostgreSQL")
    good = records.check().broken
    run(url, statement)

    assert good == ()
    assert len(records.check().broken) == 1


def test_dropped_triggers_are_noticed(records, url):
    """Whatever was done while they were away, their being away is said."""
    filled(records)
    tamper(url, "SELECT 1")

    assert any("trigger" in one.reason for one in records.check().broken)


def test_a_forgery_leaves_other_sittings_sound(records, url):
    """What is broken is named with its sitting; the rest is used as before."""
    bent, whole = filled(records), filled(records)
    tamper(url, f"UPDATE entry SET body = '{{}}' WHERE sitting_id = '{bent.id}' AND step = 2")

    assert not records.verify(bent.id).sound
    assert records.verify(whole.id).sound
    with pytest.raises(RecordsError, match=f"Sitting {bent.id} cannot be read at entry 5"):
        records.events(bent.id, 0)
    assert len(records.events(whole.id, 0)) == 5


def test_a_moved_moment_is_found(records, url):
    """The time of an entry is part of its hash."""
    begun = filled(records)
    zone = "+00" if make_url(url).get_backend_name() == "postgresql" else ""
    tamper(url, f"UPDATE entry SET at = '2026-11-25 11:00:00.000000{zone}' WHERE seq = 5")

    assert records.verify(begun.id).position == 5


def test_a_cut_end_shows_only_against_a_head_kept_elsewhere(records, url):
    """The limit that the docstring states: the ledger alone still looks sound."""
    begun = filled(records)
    ledger_id, entries = records.ledger()
    kept = head_at(ledger_id, entries, NOON).code
    assert held_against(ledger_id, entries, [kept]).sound
    tamper(url, "DELETE FROM entry WHERE seq = 9")

    assert records.verify(begun.id).sound
    assert not held_against(*records.ledger(), [kept]).sound


HASHED = ("seq", "kind", "slot", "step", "supersedes")


def test_the_ledger_can_be_checked_without_our_code(records, url):
    """Each hash is SHA-256 over a zero byte and the entry as JSON, computed from the table.

    Outside check: hashlib (FIPS 180-4), and json with sorted keys, which spells these entries
    (whole numbers, plain ASCII) as RFC 8785 does; RFC 9162 section 2.1 for the zero byte.
    """
    filled(records)
    engine = create_engine(url)
    with engine.connect() as connection:
        rows = connection.execute(text("SELECT * FROM entry ORDER BY seq")).mappings().all()
    engine.dispose()

    for row in rows:
        facts = {name: row[name] for name in HASHED}
        facts |= {"at": "2026-11-25T12:00:00.123456+00:00", "body": json.loads(row["body"])}
        facts |= {"sitting": row["sitting_id"], "previous": row["previous_sha256"]}
        spelt = json.dumps(facts, sort_keys=True, separators=(",", ":"))
        assert row["sha256"] == hashlib.sha256(b"\0" + spelt.encode()).hexdigest()
    assert [row["previous_sha256"] for row in rows[1:]] == [row["sha256"] for row in rows[:-1]]
    assert rows[0]["previous_sha256"] == "0" * 64
    assert records.check().head_sha256 == rows[-1]["sha256"]


def test_one_person_is_one_row_whatever_the_number_of_sittings(records):
    """The same name and number find the same person; another number is another person."""
    first = records.begin_sitting(start("Ada Loft"))
    again = records.begin_sitting(start("  ada   LOFT "))
    for spelling in ("Ada\u200b Loft", "A\u00adda Loft", "\uff21da\u2003Loft"):
        unseen = records.begin_sitting(start(spelling))  # read on a page they are all one name
        assert unseen.person_id == first.person_id
    other = records.begin_sitting(replace(start("Ada Loft"), number="17"))

    assert first.person_id == again.person_id != other.person_id
    assert [person.number for person in records.persons()] == ["", "17"]
    assert len(records.results(person_id=first.person_id)) == 5
    records.erase_name(first.person_id)
    assert records.sitting(first.id).name is None
    assert records.sitting(again.id).name is None
    assert records.sitting(other.id).name == "Ada Loft"
    assert records.check().sound


def test_entries_of_other_kinds_join_the_ledger(records):
    """A decision after the end is chained like all else; the store's own kinds are refused."""
    begun = filled(records)
    place = records.enter("decision", {"word": "competent"}, NOON, sitting_id=begun.id)

    assert place == 10
    assert records.verify(begun.id).sound
    for kind in ("event", "outcome", "Decision", ""):
        with pytest.raises(ValueError, match="kind must be"):
            records.enter(kind, {}, NOON)


TEXTS = st.characters(exclude_categories=("Cs",))
JSON = st.recursive(
    st.none()
    | st.booleans()
    | st.integers(-(2**53) + 1, 2**53 - 1)
    | st.floats(-1e15, 1e15)
    | st.text(TEXTS, max_size=20),
    lambda inner: (
        st.lists(inner, max_size=4) | st.dictionaries(st.text(TEXTS, max_size=8), inner, max_size=4)
    ),
    max_leaves=12,
)
OBJECTS = st.dictionaries(st.text(TEXTS, max_size=8), JSON, max_size=4)


def spelt(value):
    """A text in which 1 and True differ, which == does not see; RFC 8785 writes 1.0 as 1."""
    return rfc8785.dumps(value)


@settings(max_examples=60, deadline=None)
@given(action=OBJECTS, observation=OBJECTS)
def test_any_json_comes_back_as_it_went(shared, action, observation):
    """Every object, with NUL and the largest whole numbers of a double, round-trips."""
    begun = shared.begin_sitting(start())
    shared.append(begun.id, 0, 0, action, observation, NOON)
    (event,) = shared.events(begun.id, 0)

    assert spelt(event.action) == spelt(action)
    assert spelt(event.observation) == spelt(observation)
    assert shared.verify(begun.id).sound


@pytest.mark.parametrize(
    ("action", "said"),
    [
        ([], "action must be an object"),
        ({"x": float("nan")}, "action must be plain JSON with finite numbers"),
        ({"x": [float("inf")]}, "action must be plain JSON with finite numbers"),
        ({"x": {1, 2}}, "action must be plain JSON"),
        ({"x": 2**53}, "action must be plain JSON with finite numbers"),
        ({"x": "\ud800"}, "action must be plain JSON"),
        ({"x": {1: 2}}, "action must have texts for keys, got 1"),
        ({"x": "a" * 65_536}, "action must be <= 65536 bytes"),
    ],
)
def test_what_is_no_action_is_refused_by_name(records, action, said):
    """A tampered message leaves a ValueError and nothing in the log."""
    begun = records.begin_sitting(start())

    with pytest.raises(ValueError, match=said):
        records.append(begun.id, 0, 0, action, {}, NOON)
    assert records.events(begun.id, 0) == ()


def test_bottomless_and_circular_objects_are_refused(records):
    """Neither ends the process, both end in a ValueError."""
    begun = records.begin_sitting(start())
    deep = {}
    for _ in range(100_000):
        deep = {"x": deep}
    ring = {}
    ring["x"] = ring

    for action in (deep, ring):
        with pytest.raises(ValueError, match="action must be"):
            records.append(begun.id, 0, 0, action, {}, NOON)
    while deep:  # freed step by step, as its own freeing would be as deep
        deep = deep["x"]


@pytest.mark.parametrize(
    ("slot", "step", "at", "said"),
    [
        (-1, 0, NOON, "slot must be a whole number"),
        (True, 0, NOON, "slot must be a whole number"),
        (0, 0.0, NOON, "step must be a whole number"),
        (0, 10**9, NOON, "step must be a whole number"),
        (0, 0, datetime(2026, 1, 1), "at must be a datetime with a time zone"),
        (0, 0, "noon", "at must be a datetime with a time zone"),
    ],
)
def test_an_impossible_step_is_refused_by_name(records, slot, step, at, said):
    """Numbers and moments that cannot be are named with what is allowed."""
    begun = records.begin_sitting(start())

    with pytest.raises(ValueError, match=said):
        records.append(begun.id, slot, step, {}, {}, at)


@pytest.mark.parametrize("outcome", [{}, {"outcome": ""}, {"outcome": 3}, {"outcome": "x" * 81}])
def test_an_outcome_has_a_word_to_list_it_under(records, outcome):
    """Without one the assessor's list could not show it."""
    begun = records.begin_sitting(start())

    with pytest.raises(ValueError, match=r"outcome\['outcome'\]"):
        records.finish_sitting(begun.id, outcome, NOON)


def test_a_large_grade_is_kept(records):
    """A grade with all its evidence may be longer than any action."""
    begun = records.begin_sitting(start())
    grade = {"reasons": ["evidence"] * 20_000}
    records.finish_case(begun.id, 0, grade, NOON)

    assert records.grades(begun.id)[0].content == grade


def test_making_the_tables_twice_changes_nothing(url, records):
    """The server may be started again over the same store."""
    begun = records.begin_sitting(start())
    create(url)

    assert records.sitting(begun.id).id == begun.id


def test_a_store_of_a_newer_version_is_refused(url):
    """Neither the server nor a page touches tables of a newer software."""
    run(url, "UPDATE alembic_version SET version_num = '0777'")

    for use in (create, Records):
        with pytest.raises(RecordsError, match="is of version '0777', and this software knows"):
            use(url)


def test_the_migrations_make_the_tables_that_are_used(url):
    """Alembic finds no difference between the store as made and the tables as declared.

    Outside check: Alembic's own comparison.
    """
    engine = create_engine(url)
    with engine.connect() as connection:
        context = MigrationContext.configure(connection)
        version, differences = (
            context.get_current_revision(),
            compare_metadata(context, Base.metadata),
        )
    engine.dispose()

    assert version == VERSIONS[-1]
    assert differences == []


def test_missing_tables_are_named(url, records):
    """A store that lost a table is refused when opened, and while open."""
    begun = records.begin_sitting(start())
    run(url, "DROP TABLE entry")

    with pytest.raises(RecordsError, match="lacks tables"):
        Records(url)
    with pytest.raises(RecordsError, match="lacks tables"):
        records.append(begun.id, 0, 0, {}, {}, NOON)


def test_a_store_of_either_kind_is_backed_up_and_put_back(place, url, records, tmp_path):
    """From SQLite and from PostgreSQL into one file, and from it into an empty store of the kind."""
    sitting = records.begin_sitting(start())
    records.append(sitting.id, 0, 0, {"kept": 1}, {"seen": 0.35}, NOON)
    backed_up(url, tmp_path / "copy.sqlite")
    other = place()
    put_back(tmp_path / "copy.sqlite", other)
    with Records(other) as again:
        assert again.ledger() == records.ledger()
        assert again.persons() == records.persons()
        assert again.check().sound
