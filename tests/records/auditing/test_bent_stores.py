"""A store bent by whoever holds its file, as they would: triggers dropped, rows edited, hashes new."""

import json
import os
import sqlite3
import time
from datetime import timedelta

import pytest

from quizzes.__main__ import main
from quizzes.records import Records, RecordsError, Start
from quizzes.records.auditing.audit import audited, audited_lately
from quizzes.records.auditing.signing import sign_head
from quizzes.records.database.identity import SETTLED_S
from quizzes.records.heads.keeping import HEADS
from quizzes.sittings.standing import UNTRUSTED, Standings
from tests.records.auditing.bending import NOON, OWNER, bend, looked_at, sat
from tests.waiting import comes_true

BETTER = (
    "UPDATE entry SET outcome = 'competent', body = replace(body, 'not yet competent', 'competent')"
    " WHERE seq = (SELECT min(seq) FROM entry WHERE kind = 'outcome')"
)
BENDINGS = {
    "an outcome set to competent": BETTER,
    "an event altered": "UPDATE entry SET body = replace(body, '1', '2') WHERE step = 1",
    "an entry taken out": "DELETE FROM entry WHERE seq = 4",
    "the end cut off": "DELETE FROM entry WHERE seq > 9",
    "two entries exchanged": "UPDATE entry SET seq = CASE seq WHEN 3 THEN 90 ELSE seq END",
}


@pytest.mark.parametrize("statement", BENDINGS.values(), ids=BENDINGS)
@pytest.mark.parametrize("remake", [False, True], ids=["clumsily", "with the chain remade"])
def test_whatever_is_changed_is_found_and_its_place_named(file, statement, remake):
    """By the chain where the forger is clumsy, by the signed heads where not."""
    good = looked_at(file)
    bend(file, statement, remake=remake)
    found = looked_at(file)

    assert good.sound
    assert not found.sound
    assert any("entry" in line or "entries" in line for line in found.sentences()[1:])


@pytest.mark.parametrize(
    "statement",
    [
        "UPDATE entry SET body = replace(body, '0.25', '0.95') WHERE kind = 'panel'",
        "UPDATE entry SET body = replace(body, 'failed', 'was out') WHERE kind = 'waiver'",
        "DELETE FROM entry WHERE kind = 'waiver'",
        "UPDATE entry SET at = '2026-01-01 00:00:00.000000' WHERE kind = 'sitting'",
        "UPDATE sitting SET started_at = '2026-01-01 00:00:00.000000'",
    ],
)
def test_a_cut_a_waiver_and_the_date_of_an_attempt_cannot_be_changed_unseen(file, statement):
    """Though chain and triggers were remade: what was signed after them no longer fits."""
    with Records(f"sqlite:///{file}") as store:
        sitting = store.results()[0].sitting_id
        store.enter("panel", {"judges": [{"second": {"a": 0.25}}]}, NOON)
        store.enter("waiver", {"words": "The power failed."}, NOON, sitting_id=sitting)
        assert sign_head(store, NOON + timedelta(hours=2))
        assert audited(store).sound
    bend(file, statement)

    assert not looked_at(file).sound


WITHOUT_KEYS = (
    "ALTER TABLE person RENAME TO was",
    "CREATE TABLE person (id, salt, display_name, number, same_as, sought_as)",
    "INSERT INTO person SELECT id, salt, 'Wren Oddy', number, 'x', 'x' FROM was LIMIT 1",
    "INSERT INTO person SELECT * FROM was",
    "DROP TABLE was",
)
BLIND_INDEX = (
    "DROP INDEX entry_by_kind",
    "CREATE INDEX entry_by_kind ON entry (sitting_id, kind) WHERE kind <> 'outcome'",
    "PRAGMA writable_schema = ON",
    "UPDATE sqlite_master SET sql = substr(sql, 1, instr(sql, ' WHERE')) WHERE name LIKE 'entry_by%'",
)
DEEP = "replace(hex(zeroblob(100000)), '0', '[')"
TRICKS = {  # what is done, and what is said of it
    ("UPDATE person SET same_as = same_as || 'x'",): "under another name",
    ("UPDATE person SET sought_as = 'somebody else'",): "under another name",
    ("UPDATE record_store SET ledger_id = 'another'",): "of another ledger",
    WITHOUT_KEYS: "two rows",
    BLIND_INDEX: "its own indexes",
    ("UPDATE entry SET at = 'yesterday' WHERE seq = 5",): "entry 5 was altered",
    ("UPDATE entry SET at = 5 WHERE seq = 5",): "entry 5 was altered",
    ("UPDATE entry SET body = CAST(x'7bff7d' AS TEXT) WHERE seq = 5",): "entry 5 was altered",
    (f"UPDATE entry SET body = {DEEP} WHERE kind <> 'event'",): "entry 7 was altered",
    ("UPDATE person SET salt = 'salt'",): "not the one that was given",
    ("UPDATE sitting SET key = 'key'",): "what its first entry says",
    ("UPDATE sitting SET started_at = 'noon'",): "what its first entry says",
}


@pytest.mark.parametrize(("statements", "said"), TRICKS.items())
def test_a_trick_below_the_ledger_is_found_and_the_rest_can_be_read(file, statements, said):
    """What the chain does not cover, and what no program of ours would ever have written."""
    with sqlite3.connect(file) as connection:
        triggers = connection.execute(
            "SELECT name, sql FROM sqlite_master WHERE type = 'trigger'"
        ).fetchall()
        for name, _ in triggers:
            connection.execute(f"DROP TRIGGER {name}")
        for statement in (*statements, *(sql for _, sql in triggers)):
            connection.execute(statement)
    connection.close()
    with Records(f"sqlite:///{file}") as store:
        found, standings = audited(store), Standings(store)
        words = [standings.of(row).word for row in store.results()]

    assert said in " ".join(one.reason for one in found.check.broken)
    assert len(words) >= 2
    assert "competent" not in words


def test_what_an_index_hides_makes_every_sitting_untrusted(file):
    """A withdrawal could be hidden from the pages alone, and the decision before it would stand."""
    bend(file, *BLIND_INDEX, remake=False)
    with Records(f"sqlite:///{file}") as store:
        standings = Standings(store)

        assert {standings.of(row).word for row in store.results()} == {UNTRUSTED}


SHUFFLED = (
    "UPDATE sqlite_master SET sql = replace(replace(replace(sql, 'seq = NEW.seq', 'seq = NEW.x'),"
    " 'step = NEW.step', 'step = NEW.seq'), 'NEW.x', 'NEW.step') WHERE name = 'entry_no_replace'"
)
SWALLOWS = (
    "CREATE TRIGGER more BEFORE INSERT ON entry WHEN NEW.kind = 'grade'"
    " BEGIN SELECT RAISE(IGNORE); END"
)


@pytest.mark.parametrize(
    ("statement", "said"),
    [
        (
            SWALLOWS,
            "trigger more that is not ours",
        ),
        ("CREATE VIEW people AS SELECT * FROM person", "view people that is not ours"),
        (
            SHUFFLED,
            "entry_no_replace that keeps rows as they are does something else",
        ),
    ],
)
def test_a_trigger_of_others_or_one_made_of_the_same_words_is_found(file, statement, said):
    """The first would swallow every grade; the last looks at other keys."""
    with sqlite3.connect(file) as connection:
        connection.execute("PRAGMA writable_schema = ON")
        connection.execute(statement)
    connection.close()

    assert said in " ".join(looked_at(file).sentences())


def test_a_ledger_renamed_to_escape_its_heads_is_remarked_on(file):
    """Beside the keys are heads of another, and none of this one though sittings have ended."""
    bend(
        file,
        BETTER,
        "DELETE FROM entry WHERE kind = 'head'",
        "UPDATE record_store SET ledger_id = 'x'",
    )

    assert "it was exchanged or renamed" in looked_at(file).trouble


def test_a_store_untouched_but_for_its_triggers_is_found_too(file):
    """Nothing was changed yet, but could be without a trace."""
    bend(file, remake=False)

    assert "trigger" in looked_at(file).check.broken[0].reason


def test_a_forger_who_takes_the_heads_out_meets_those_beside_the_keys(file, house):
    """And one who takes those as well meets the head that an auditor brings back."""
    printed = json.loads((house / HEADS).read_text().splitlines()[-1])
    code = looked_at(file).heads.findings[-1].name
    bend(file, BETTER, "DELETE FROM entry WHERE kind = 'head'")
    beside = looked_at(file)
    (house / HEADS).unlink()
    alone, brought = looked_at(file), looked_at(file, [code])

    assert printed["kind"] == "gap-and-lining ledger head"
    assert (beside.sound, alone.sound, brought.sound) == (False, True, False)
    assert "No head was given" in " ".join(alone.sentences())


def test_two_names_exchanged_are_found(file):
    """Each is committed to in the ledger, with a salt that is erased with the name."""
    swap = (
        "UPDATE person SET display_name = CASE display_name"
        " WHEN 'Ilka Torvane' THEN 'Bram Quillet' ELSE 'Ilka Torvane' END"
    )
    bend(file, swap, remake=False)

    assert [one.reason for one in looked_at(file).check.broken if one.person_id] == [
        "a name is not the one that was given"
    ] * 2


def test_the_house_signs_no_ledger_that_was_bent(file, house):
    """Its signature would vouch for the forger."""
    bend(file, BETTER)
    with Records(f"sqlite:///{file}") as store:
        signed = sign_head(store, NOON + timedelta(days=1))

    assert signed is None
    assert len((house / HEADS).read_text().splitlines()) == 2


def test_an_outcome_is_kept_even_where_no_key_can_be_used(file, house):
    """A key that lies open to others is not used; the sitting counts all the same."""
    (house / "issuer.pem").chmod(0o644)
    with Records(f"sqlite:///{file}") as store:
        sitting, signed = sat(store, "Odile Marchpane", NOON + timedelta(days=1))
        outcomes = store.outcomes(sitting)

    assert signed is None
    assert outcomes[0].content == {"outcome": "not yet competent"}


def test_the_command_says_sound_broken_or_why_not(file, tmp_path, capsys):
    """Exit codes 0, 1 and 2, for a script; words for a person."""
    asked = ["verify", "--records", f"sqlite:///{file}"]
    sound = main(asked), capsys.readouterr().out
    head = main(["head", "--records", f"sqlite:///{file}", "--file", str(tmp_path / "head.json")])
    code = capsys.readouterr().out.strip()
    bend(file, BETTER, "DELETE FROM entry WHERE kind = 'head'")
    bent = main([*asked, "--head", code, "--json"]), json.loads(capsys.readouterr().out)
    by_file = main([*asked, "--head", str(tmp_path / "head.json")])
    refused = main([*asked, "--head", "no-head"]), capsys.readouterr().err

    assert sound[0] == head == 0
    assert sound[1].startswith("SOUND: Ledger ")
    assert bent[0] == by_file == 1
    assert bent[1]["changed_between"][0] is not None
    assert refused[0] == 2
    assert "code" in refused[1]


def test_the_last_line_of_heads_cut_off_by_a_power_failure_is_passed_over(file, house):
    """A line in the middle that is not a head is said."""
    lines = (house / HEADS).read_text().splitlines()
    (house / HEADS).write_text("\n".join([*lines, lines[0][:50]]))
    cut = looked_at(file)
    (house / HEADS).write_text("\n".join([lines[0][:50], *lines]) + "\n")
    odd = looked_at(file)

    assert cut.sound
    assert not cut.trouble
    assert "Line 1 of" in odd.trouble


@pytest.mark.parametrize("how", ["deleted", "another", "put back in place"])
def test_a_store_exchanged_while_it_is_open_acknowledges_nothing_more(file, tmp_path, how):
    """Neither a file that is gone, nor another one, nor an earlier state of the same one."""
    with sqlite3.connect(file) as connection:
        connection.execute("PRAGMA wal_checkpoint(TRUNCATE)")
    connection.close()
    earlier = file.read_bytes()
    with Records(f"sqlite:///{file}") as store:
        sitting = store.begin_sitting(Start("Wren", "form", "1", "test", OWNER, "0", "1", NOON))
        store.append(sitting.id, 0, 0, {}, {}, NOON)
        if how == "deleted":
            file.unlink()
        elif how == "another":
            (tmp_path / "other").write_bytes(earlier)
            (tmp_path / "other").replace(file)
        else:
            store.close()
            file.write_bytes(earlier)
        with pytest.raises(RecordsError, match="deleted, exchanged or put back"):
            store.append(sitting.id, 0, 1, {}, {}, NOON)


def test_a_page_that_audited_lately_sees_what_another_program_writes_next(file):
    """One audit while no file is written; an edit shows even with the time of writing set back."""
    with Records(f"sqlite:///{file}") as store:
        before = file.stat()
        assert comes_true(lambda: time.time() - before.st_ctime > 2 * SETTLED_S)
        kept = audited_lately(store)
        assert audited_lately(store) is kept
        assert kept.sound
        bend(file, BENDINGS["an event altered"])
        os.utime(file, ns=(before.st_atime_ns, before.st_mtime_ns))

        assert not audited_lately(store).sound


def test_what_is_appended_by_hand_is_vouched_for_by_nobody(file):
    """A forged correction that fits the chain: its outcome is never good before a head is signed."""
    with Records(f"sqlite:///{file}") as store:
        row = store.results()[0]
        old = store.outcomes(row.sitting_id)[-1]
        better = {"outcome": "competent"}
        store.supersede_outcome(old, better, author="assessor-3", reason="It was good.", at=NOON)
        found = Standings(store).of(row)
        audit = audited(store)

    assert audit.sound
    assert found.word == UNTRUSTED
    assert "no signed head vouches for it" in found.trouble
