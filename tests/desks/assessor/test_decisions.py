"""The assessor's desk: evidence in words, a person's decision, what may follow, the record."""

import json

import pytest

from quizzes.desks.assessor.due_page import DuePage
from quizzes.desks.assessor.handing_out import OF_ALL, file_of_all
from quizzes.desks.checking.page import CheckPage
from quizzes.records.auditing.signing import sign_head
from quizzes.records.decisions.acts import Act, Decision, Seat, Verdict
from quizzes.server.demo_class import sittings
from quizzes.sittings.decided.dossier import dossier
from quizzes.sittings.decided.handing import due_list, learning_statements, records_table
from quizzes.sittings.decided.record import record_id
from quizzes.sittings.everything import sittings_table
from quizzes.sittings.run import now
from tests.desks.assessor.laid_open import BAD, GOOD, NOW, form_of, opened, wish
from tests.desks.pages import tell
from tests.page.test_upload import pieces
from tests.records.auditing.bending import bend


def test_the_evidence_says_what_was_done_where_and_what_was_given(small_class, sent):
    """Looks in a row are one line that names the places; reasons and work order stand there."""
    page, _ = opened(GOOD, sent)
    evidence = page._evidence.value

    assert "Looked at " in evidence
    assert evidence.count("nothing out of the ordinary") < evidence.count("<tr><td>") / 10
    assert "Reason given by the candidate:" in evidence
    assert "Given to the candidate" in evidence
    assert "Proposed: competent" in evidence


def test_a_person_decides_and_the_record_leaves_and_is_checked_on_the_page(
    small_class, sent, store, handed, at_the_desk
):
    """Decision kept apart from the proposal; the file found good, and tampered with by one word."""
    page, sitting = opened(GOOD, sent)
    wish(page, "decide", verdict="competent")
    wish(page, "credential")
    decided = form_of(sent, "Decision on")
    check = CheckPage()
    for one in pieces(handed[-1][2]):
        check._form.heard(one)
    check._form.heard({"send": "check", "values": {"key": ""}})
    good = check._found.value
    for one in pieces(handed[-1][2].replace(GOOD.encode(), b"Somebody Else")):
        check._form.heard(one)
    check._form.heard({"send": "check", "values": {"key": ""}})

    assert [one.kind for one in store.acts(sitting)] == [Act.DECISION, Act.CREDENTIAL]
    assert any("Ann Okoro, assessor, decided: competent" in line for line in decided["words"])
    assert json.loads(handed[-1][2])["type"][1] == "OpenBadgeCredential"
    assert "verdict good" in good
    assert "<strong>Tampered with: do not accept it</strong>" in check._found.value
    assert "verdict good" not in check._found.value


REFUSED = {
    BAD: [
        ("Ann Okoro", {"verdict": "competent"}, "critical error"),
        (BAD.upper(), {"verdict": "competent"}, "of their own"),
        ("Fenwright, T\u043ebiah", {"verdict": "not yet competent"}, "of their own"),
    ],
    GOOD: [
        ("Ann Okoro", {"verdict": "superb"}, "Choose what you decide"),
        ("Ann Okoro", {"verdict": "competent", "reasons": " "}, "Give your reasons"),
    ],
    sittings.UNFINISHED: [("Ann Okoro", {"verdict": "not yet competent"}, "not finished")],
}


@pytest.mark.parametrize("who", REFUSED)
@pytest.mark.usefixtures("small_class")
def test_what_may_not_be_decided_is_said_and_nothing_is_kept(sent, store, at_the_desk, who):
    """On oneself, without reasons, over a critical error, before the end."""
    page, sitting = opened(who, sent)
    for by, values, words in REFUSED[who]:
        at_the_desk(by)
        wish(page, "decide", **values)

        assert words in sent[-1]["reply"]["words"]
    assert not store.acts(sitting)


def test_only_an_assessor_who_has_signed_in_decides(small_class, sent, store, at_the_desk):
    """The panel offers nobody else a key, and a forged wish is answered with the sentence."""
    page, sitting = opened(GOOD, sent)
    for role in ("anyone", "trainer", "apprentice", "administrator"):
        at_the_desk("Somebody", role)
        page._decision.open(sitting)
        assert form_of(sent, "Decision on")["buttons"] == []
        for send in ("decide", "credential", "circumstances", "waive"):
            wish(page, send, verdict="competent")
            # What is noted around a decision is answered on a form of its own.
            told = [one["reply"]["words"] for one in sent[-2:] if "reply" in one]
            assert any("Only an assessor decides" in words for words in told)

    assert not store.acts(sitting)


def test_the_second_assessor_does_not_learn_what_the_first_decided(small_class, sent, at_the_desk):
    """Neither on the panel nor in the list; both stand there once both have decided."""
    page, _ = opened(GOOD, sent)
    wish(page, "decide", verdict="competent", reasons="Flawless work, I say.", second="yes")
    at_the_desk("Ben Halloway")
    tell(page, {"open": page._open})
    waiting = json.dumps([form_of(sent, "Decision on"), form_of(sent, "Results")["list"]["rows"]])
    wish(page, "decide", verdict="competent")
    both = json.dumps(form_of(sent, "Decision on"))

    assert "Flawless" not in waiting
    assert "Ann Okoro" not in waiting
    assert "a second assessor is to decide" in waiting
    assert "Flawless" in both


def test_no_file_and_no_list_tells_the_second_assessor_what_the_first_decided(
    small_class, sent, store, handed, at_the_desk
):
    """The sitting's file, every file of the due page and the list of sittings, before the second."""
    page, _ = opened(GOOD, sent)
    files = [lambda one=one: file_of_all(store, one, NOW)[2] for one in OF_ALL]
    files += [lambda: sittings_table(store), lambda: records_table(store)]
    before = [read() for read in files]
    wish(page, "decide", verdict="not yet competent", reasons="Flawed work, I say.", second="yes")
    at_the_desk("Ben Halloway")
    page._tools.heard({"send": "export"})
    wish(page, "pdf a4")
    after = [read() for read in files]

    assert "a second assessor is to decide" in sent[-1]["reply"]["words"]
    assert len(handed) == 1  # the sitting's own file, and no record
    for content in (handed[0][2], *after):
        assert b"Flawed" not in content
        assert b"Ann Okoro" not in content
        assert content.count(b"not yet competent") <= max(
            one.count(b"not yet competent") for one in before
        )


def test_the_log_is_played_on_the_bench_step_by_step(small_class, sent):
    """Forward, back and from the start; nothing of it is kept."""
    page, _ = opened(GOOD, sent)
    page._tools.heard({"send": "play"})
    board = next(one for one in page.page.children if "gal-page-stack" in one._dom_classes)
    for name in ("ten", "back", "case", "nonsense", {"a": 1}):
        board.children[0].heard({"send": name, "values": {"case": "999"}})

    assert "step 9 of" in form_of(sent, "Played from the log")["words"][0]


def test_circumstances_are_stated_and_stated_again(small_class, sent, store, at_the_desk):
    """The later statement stands, both stay."""
    page, sitting = opened(GOOD, sent)
    for place in ("bay 2", "bay 3"):
        page._decision.around.heard({"send": "circumstances", "values": {"place": place}})
        assert "Kept." in str([one.get("reply") for one in sent[-3:]])
    fields = {one["name"]: one for one in form_of(sent, "Circumstances")["fields"]}

    assert len(store.acts(sitting)) == 2
    assert fields["place"]["value"] == "bay 3"


def test_the_due_list_names_everybody_and_hands_out_each_file(
    small_class, sent, handed, at_the_desk
):
    """Nobody is forgotten: who has no decision waits for one."""
    page = DuePage()
    for what in ("due", "calendar", "status", "records", "code-book", "learning", "no-such"):
        page._form.heard({"send": what})

    assert all(name in page._list.value for name in REFUSED)
    assert len(handed) == 6


def test_a_file_that_is_no_record_is_answered_in_a_sentence(sent):
    """No traceback, nothing kept."""
    check = CheckPage()
    check._form.heard({"send": "check", "values": {"key": ""}})
    first = sent[-1]["reply"]["words"]
    for one in pieces(b"%PDF-1.7 no more", "paper.pdf"):
        check._form.heard(one)
    check._form.heard({"send": "check", "values": {"key": "did:key:nobody"}})
    key = check._found.value
    for typed in ("nonsense", "/etc/passwd"):
        check._form.heard({"send": "check", "values": {"key": typed}})
        assert f"“{typed}” is not a public key. Expected did:key:" in sent[-1]["reply"]["words"]
        assert "file" not in sent[-1]["reply"]["words"]
    check._form.heard({"send": "check", "values": {"key": ""}})

    assert "Choose the record first" in first
    assert "The issuer’s key cannot be used: nothing was checked" in key
    assert "Unreadable: nothing could be checked" in check._found.value


def add_by_hand(store, sitting):
    """Add a decision that fits the chain, as somebody with the file and without the key would."""
    forged = Decision(
        Verdict.COMPETENT, "Good.", store.person("Ann Okoro", "", NOW).id, "assessor", Seat.FIRST,
        "competent",
    )  # fmt: skip
    last = dossier(store, sitting).last_seq
    store.enter(Act.DECISION.value, forged.body(), NOW, sitting_id=sitting, after=last)


def test_a_decision_that_no_signed_head_covers_counts_nowhere_and_hands_nothing_out(
    small_class, sent, store, handed, at_the_desk
):
    """Somebody with the file adds a decision that fits the chain; the house's key stays away."""
    page, sitting = opened(GOOD, sent)
    add_by_hand(store, sitting)
    page, _ = opened(GOOD, sent)
    wish(page, "credential")
    said = sent[-1]["reply"]["words"]
    wish(page, "pdf a4")
    tables = [table(store).decode() for table in (records_table, learning_statements)]
    listed = next(line for line in sittings_table(store).decode().splitlines() if GOOD in line)
    (due,) = [one for one in due_list(store, NOW.date()) if one.name == GOOD]

    assert "no signed head vouches" in said
    assert not handed
    assert "no signed head vouches for it" in str(form_of(sent, "Results"))
    assert "competent, and no signed head vouches for it" in listed
    assert not any(str(record_id(sitting)) in one or "passed" in one for one in tables)
    assert "No signed head vouches" in due.why


def test_a_decision_made_by_hand_stays_without_a_head_when_the_house_signs_again(
    small_class, sent, store, handed, at_the_desk
):
    """The next honest decision signs all that stands before it, and vouches for itself alone."""
    page, sitting = opened(GOOD, sent)
    add_by_hand(store, sitting)
    sign_head(store, now())
    page, _ = opened(GOOD, sent)
    wish(page, "credential")

    assert "no signed head vouches" in sent[-1]["reply"]["words"]
    assert "no signed head vouches for it" in str(form_of(sent, "Results"))
    wish(page, "decide", verdict="competent")  # corrects it
    wish(page, "pdf a4")
    assert handed


def test_where_the_end_was_cut_off_no_decision_counts_though_its_sitting_ends_before(
    small_class, sent, store, handed, at_the_desk
):
    """What was cut off may have been this one's withdrawal; whose it was cannot be told any more."""
    page, sitting = opened(GOOD, sent)
    wish(page, "decide", verdict="competent")
    wish(page, "withdraw")
    (kept,) = [one.seq for one in store.acts(sitting) if one.kind is Act.WITHDRAWAL]
    bend(store.files()[0], f"DELETE FROM entry WHERE seq >= {kept}", remake=False)
    store.close()
    page, _ = opened(GOOD, sent)
    wish(page, "credential")
    listed = next(line for line in sittings_table(store).decode().splitlines() if GOOD in line)

    assert "Nothing is handed out" in sent[-1]["reply"]["words"]
    assert not handed
    assert "competent, unless one of the entries that are missing" in listed
    assert "unless one of the entries that are missing" in str(form_of(sent, "Results"))


def test_the_panel_shows_what_this_person_can_do_and_who_may_do_the_rest(
    small_class, sent, store, at_the_desk, monkeypatch
):
    """Whoever decided first has no second button and no ruling; the candidate has none at all."""
    page, _ = opened(GOOD, sent)
    monkeypatch.setattr(page._decision, "_assessors", lambda: ["Ann Okoro", "Ben Halloway"])

    def seen(name):
        at_the_desk(name)
        page._decision.open(page._open)
        form = form_of(sent, "Decision on")
        return [wished for wished, _ in form["buttons"]], " ".join(form["words"])

    buttons, words = seen(GOOD)
    assert buttons == []
    assert "Of those who sign in here: Ann Okoro, Ben Halloway." in words
    at_the_desk("Ann Okoro")
    wish(page, "decide", verdict="competent", second="yes")
    buttons, words = seen("Ann Okoro")
    assert buttons == []
    assert form_of(sent, "Decision on")["fields"] == []
    assert "must be somebody else. Of those who sign in here: Ben Halloway." in words
    assert seen("Ben Halloway")[0] == ["decide"]
    wish(page, "decide", verdict="competent")
    wish(page, "appeal", reasons="The time was short.")
    buttons, words = seen("Ben Halloway")
    assert buttons == []
    assert "Nobody who signs in here may do it" in words
    assert seen("Cora Vint")[0] == ["uphold", "reject"]
    assert [one.what for one in due_list(store, NOW.date()) if one.name == GOOD] == [
        "a ruling on the appeal"
    ]


def test_a_verdict_that_nobody_may_give_is_not_offered(small_class, sent, at_the_desk):
    """Competent, over a critical error; what the panel says names the reason."""
    opened(BAD, sent)
    form = form_of(sent, "Decision on")
    verdicts = next(one for one in form["fields"] if one["name"] == "verdict")

    assert "competent" not in [value for value, _ in verdicts["options"]]
    assert any("critical error" in line for line in form["words"])


def test_a_file_that_is_refused_does_not_leave_the_one_before_it_to_be_checked(sent):
    """A good record first, then one of 50 MB: nothing is said of the first any more."""
    check = CheckPage()
    for one in pieces(b"{}", "first.json"):
        check._form.heard({**one, "field": "record"})
    check._form.heard({"send": "check", "values": {"key": ""}})
    found = check._found.value
    check._form.heard({"piece": 0, "of": 10**9, "field": "record", "name": "big", "text": ""})
    refused = sent[-1]["reply"]["words"]
    check._form.heard({"send": "check", "values": {"key": ""}})

    assert "What was found" in found
    assert "larger than" in refused
    assert check._found.value == ""
    assert "Choose the record first" in sent[-1]["reply"]["words"]
