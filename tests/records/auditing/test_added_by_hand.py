"""Acts added by whoever holds the file and not the key, and tricks with what lies beside it."""

import io
import json
import shutil
import sqlite3
import uuid
from datetime import timedelta

import pytest
from PIL import Image

from quizzes.records import Records, RecordsError, create
from quizzes.records.auditing.audit import audited
from quizzes.records.auditing.signing import is_signed_for, sign_head, unsignable
from quizzes.records.beginning import commitment
from quizzes.records.decisions.acts import Act, Circumstances, Decision, Issued, Statement
from quizzes.records.decisions.practical import Photo, Practical
from quizzes.records.decisions.state import Stage
from quizzes.records.keeping.people import erased_for_good
from quizzes.sittings.cut import panel_in_force
from quizzes.sittings.standing import UNTRUSTED, Standings
from tests.records.auditing.bending import NOON, bend, looked_at

WHO = str(uuid.uuid4())
LATER = NOON + timedelta(hours=2)
SAID = Statement("The power failed.", WHO, "assessor", upheld=True)
ACTS = {
    Act.DECISION: Decision("competent", "Good.", WHO, "assessor", "first", "competent"),
    Act.APPEAL: SAID,
    Act.RULING: SAID,
    Act.WITHDRAWAL: SAID,
    Act.WAIVER: SAID,
    Act.CIRCUMSTANCES: Circumstances({"identity": "a card was seen"}, WHO),
    Act.CREDENTIAL: Issued(WHO, 10**15, "0" * 64, "1-A", "did:key:z"),
    Act.PRACTICAL: Practical("2 t", "hoist 3", "leaves", {"M2": "shown"}, "", (), (), WHO, "x"),
}


def test_an_act_added_by_hand_counts_for_nothing_though_the_house_signs_later(file):
    """An honest head covers whatever was there by then; it vouches for the act that it ends with."""
    with Records(f"sqlite:///{file}") as store:
        sitting = store.results()[0].sitting_id
        after, added = audited(store).last_of[sitting], {}
        for kind, act in ACTS.items():  # as the forger's program does
            after = added[kind] = store.act(sitting, kind, act, LATER, after=after)
        assert sign_head(store, LATER)  # at the same second
        assert not any(is_signed_for(store, seq, LATER) for seq in added.values())
        audit = audited(store)
        state, said = (
            Standings(store, audit).state(store.acts(sitting)),
            " ".join(audit.sentences()),
        )

    assert (state.acts, state.stage, state.verdict) == ((), Stage.OPEN, None)
    assert [one.kind for one in state.unsigned] == list(ACTS)
    for kind, seq in added.items():
        assert f"Entry {seq} ({kind.value}, sitting {sitting}) counts for nothing" in said


def test_an_act_that_the_house_signs_for_counts(file):
    """The same acts, each with a head that ends with it."""
    with Records(f"sqlite:///{file}") as store:
        sitting = store.results()[0].sitting_id
        for kind, act in ACTS.items():
            after = Standings(store).audit.last_of[sitting]
            assert sign_head(store, LATER, store.act(sitting, kind, act, LATER, after=after))
        state, audit = Standings(store).state(store.acts(sitting)), audited(store)

    assert not state.unsigned
    assert not audit.unsigned
    assert audit.sound


def test_a_panel_added_by_hand_is_in_force_for_nobody(file):
    """A low cut between two heads would let whoever begins next pass."""
    with Records(f"sqlite:///{file}") as store:
        judges = [{"person": str(uuid.uuid4()), "trainer": False} for _ in range(3)]
        judges = [one | {"first": {"q": 0.05}, "second": {"q": 0.05}} for one in judges]
        body = {"title": "Easy", "invented": False, "judges": judges}
        by_hand = store.enter("panel", body, LATER)
        sign_head(store, LATER)
        none = panel_in_force(store)
        sign_head(store, LATER, store.enter("panel", body, LATER))

        assert none is None
        assert panel_in_force(store) is not None
        assert f"Entry {by_hand} (panel)" in " ".join(audited(store).sentences())


@pytest.mark.parametrize("what", ["a correction", "the outcome of an open sitting"])
def test_an_outcome_added_by_hand_is_not_good_though_the_house_signs_later(file, what):
    """Neither one that corrects, nor one that ends a sitting that its candidate gave up."""
    with Records(f"sqlite:///{file}") as store:
        row = store.results()[0]
        (old,) = store.outcomes(row.sitting_id)
        good = {"outcome": "competent"}
        if what == "a correction":
            store.supersede_outcome(old, good, author="x", reason="Good.", at=LATER)
        else:
            bend(file, "DELETE FROM entry WHERE seq > 8", remake=False)
            (file.parent / "keys" / "heads.jsonl").write_text("")
            store.close()
            row = store.results()[0]
            store.finish_sitting(row.sitting_id, good, LATER)
        sign_head(store, LATER)

        assert Standings(store).of(row).word == UNTRUSTED


def _own(store, kind, body):
    with store._writing_to() as writer:
        writer.add(kind, json.dumps(body, sort_keys=True, separators=(",", ":")), LATER)


@pytest.mark.parametrize("how", ["entered again", "erased and entered again"])
def test_a_name_given_to_another_pseudonym_by_new_entries_is_found(file, how):
    """A second entry of a person would commit to whatever name the forger likes."""
    with Records(f"sqlite:///{file}") as store:
        person = store.person_of("Ilka Torvane")
        if how.startswith("erased"):
            _own(store, "erasure", {"person": person.id})
        told = commitment(b"s" * 32, "Wren Oddy", "")
        _own(store, "person", {"commitment": told, "person": person.id})
    bend(
        file,
        f"UPDATE person SET display_name = 'Wren Oddy', salt = x'{(b's' * 32).hex()}',"
        f" same_as = '[\"wren oddy\", \"\"]', sought_as = 'wren oddy' WHERE id = '{person.id}'",
        remake=False,
    )
    broken = looked_at(file).check.broken

    assert "a person was entered twice" in [one.reason for one in broken]


def test_a_name_erased_by_hand_is_not_taken_for_an_erasure_of_the_house(file):
    """With an entry that says so: the house signs for each erasure."""
    with Records(f"sqlite:///{file}") as store:
        person = store.person_of("Ilka Torvane").id
        store.erase_name(person, LATER)
        sign_head(store, LATER)
        audit = audited(store)

    assert [one.person_id for one in audit.check.broken] == [person]
    assert "no signed head vouches" in audit.check.broken[0].reason


def test_where_a_head_disagrees_no_erasure_is_called_unsigned(file):
    """What was signed does not count any more there; the place of the change is what helps."""
    with Records(f"sqlite:///{file}") as store:
        erased_for_good(store, store.person_of("Ilka Torvane").id, LATER)
        assert audited(store).sound
    bend(file, "UPDATE entry SET body = replace(body, '1', '2') WHERE step = 1")
    audit = looked_at(file)

    assert not audit.sound
    assert audit.check.broken == ()
    assert audit.unsigned == ()


@pytest.fixture(scope="module")
def made_with_words(made, tmp_path_factory):
    """A store with a practical with notes and a photograph, and the sitting's row."""
    folder = tmp_path_factory.mktemp("words") / "house"
    shutil.copytree(made, folder)
    held = io.BytesIO()
    Image.new("RGB", (120, 120), "grey").save(held, "PNG")
    with (
        pytest.MonkeyPatch.context() as patch,
        Records(f"sqlite:///{folder}/records.sqlite") as store,
    ):
        patch.setenv("GAL_KEYS", str(folder / "keys"))
        row = store.results()[0]
        photo = store.keep_photograph(row.person_id, held.getvalue(), "gap.png")
        sheet = Practical(
            "2 t", "hoist 3", "leaves", {"M2": "shown"}, "Calm.", (), (), WHO, "observer",
            (Photo(photo.sha256, photo.media_type, "gap.png"),),
        )  # fmt: skip
        after = audited(store).last_of[row.sitting_id]
        assert sign_head(
            store, LATER, store.act(row.sitting_id, Act.PRACTICAL, sheet, LATER, after=after)
        )
        assert audited(store, contents=True).sound
    return folder, row


@pytest.fixture
def with_words(made_with_words, tmp_path, house):
    """The file of a copy of that, and the sitting's row."""
    folder, row = made_with_words
    shutil.copytree(folder, tmp_path, dirs_exist_ok=True)
    return tmp_path / "records.sqlite", row


OTHER = "(SELECT person_id FROM sitting ORDER BY started_at LIMIT 1)"  # the other candidate
BESIDE = {
    "UPDATE apart SET words = replace(words, 'Calm', 'Slow')": "not those that were kept",
    "UPDATE apart SET words = '{}'": "not those that were kept",
    "UPDATE apart SET words = 'no JSON'": "not those that were kept",
    "UPDATE apart SET salt = 'salt'": "not those that were kept",
    "DELETE FROM apart": "no entry says that they were erased",
    f"UPDATE apart SET person_id = {OTHER}": "not those that were kept",
    "INSERT INTO apart SELECT 'x', 'nobody', salt, words FROM apart": "whom no entry mentions",
    "DELETE FROM photograph": "no entry says that it was erased",
    f"UPDATE photograph SET person_id = {OTHER}": "no entry says that it was erased",
    "UPDATE photograph SET content = x'00'": "not the one that was handed in",
    "UPDATE photograph SET content = 'text'": "not the one that was handed in",
    "UPDATE photograph SET content = zeroblob(16000000)": "not the one that was handed in",
}


@pytest.mark.parametrize(("statement", "said"), BESIDE.items())
def test_what_lies_beside_the_ledger_cannot_be_bent_unseen(with_words, statement, said):
    """Words and photographs: `verify` names the entry, and no such backup is put back."""
    file, row = with_words
    bend(file, statement, remake=False)
    found = looked_at(file, contents=True)

    assert said in " ".join(one.reason for one in found.check.broken)
    if "nobody" not in statement:
        assert found.broken_of(row.sitting_id, row.person_id) is not None


def test_an_event_does_not_hide_behind_a_kind_that_holds_its_body(file):
    """Body and kind stand side by side in what is hashed: the one must not reach into the other."""
    with sqlite3.connect(file) as connection:
        for (trigger,) in connection.execute(
            "SELECT name FROM sqlite_master WHERE type = 'trigger'"
        ).fetchall():
            connection.execute(f"DROP TRIGGER {trigger}")
        seq, body = connection.execute("SELECT seq, body FROM entry WHERE kind = 'head'").fetchone()
        cut = body.index(',"kind":"')
        kind = body[cut + len(',"kind":"') :] + ',"kind":"head'
        connection.execute(
            "UPDATE entry SET body = ?, kind = ? WHERE seq = ?", (body[:cut], kind, seq)
        )
    connection.close()
    found = looked_at(file)

    assert f"entry {seq} was altered" in [one.reason for one in found.check.broken]


HIDDEN = {
    "a failed attempt": ("PRAGMA foreign_keys = OFF", f"DELETE FROM sitting WHERE person_id = {OTHER}"),
    "a pseudonym": ("UPDATE person SET id = 'somebody' WHERE display_name LIKE 'Ilka%'",),
    "a second row of an entry": (
        "ALTER TABLE entry RENAME TO was", "CREATE TABLE entry AS SELECT * FROM was",
        "INSERT INTO entry SELECT * FROM entry WHERE seq = 8", "DROP TABLE was",
    ),
    "a sitting given to another": ("UPDATE sitting SET person_id = (SELECT id FROM person LIMIT 1)",),
    "an owner": ("UPDATE sitting SET owner = 'f'",),
}  # fmt: skip


@pytest.mark.parametrize("statements", HIDDEN.values(), ids=HIDDEN)
def test_nothing_beside_the_ledger_hides_a_row(file, statements):
    """Chain and heads say nothing of rows that are taken out beside them."""
    bend(file, *statements, remake=False)
    broken = [one for one in looked_at(file).check.broken if "trigger" not in one.reason]

    assert broken


def test_a_clock_set_back_before_the_key_was_made_keeps_no_act(file):
    """Its signature would count for nobody, so it is said before anything is kept."""
    early = NOON - timedelta(days=1)
    with Records(f"sqlite:///{file}") as store:
        before = store.ledger()
        said = unsignable(store, early)
        with pytest.raises(ValueError, match=r"Nothing was kept.* set the clock"):
            erased_for_good(store, store.person_of("Ilka Torvane").id, early)

        assert "The clock shows 2026-11-27T12:00:00Z" in said
        assert store.ledger() == before
        assert unsignable(store, LATER) == ""
    bend(file, "UPDATE entry SET body = replace(body, '1', '2') WHERE step = 1")
    with Records(f"sqlite:///{file}") as store:
        assert "does not fit the head" in unsignable(store, LATER)


def test_a_version_set_back_by_hand_is_a_sentence(file):
    """The step that was taken already is not taken again with a traceback."""
    with sqlite3.connect(file) as connection:
        connection.execute("UPDATE alembic_version SET version_num = '0004'")
    connection.close()

    with pytest.raises(RecordsError, match="The record store"):
        create(f"sqlite:///{file}")
