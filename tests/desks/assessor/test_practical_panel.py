"""The observer's sheet on a page: joined to a sitting, blind for two, kept while it is filled."""

import datetime as dt
import hashlib
import io
import json

import pypdf
import pytest
from PIL import Image

from quizzes.__main__ import main as command
from quizzes.desks.assessor.handing_out import OF_ALL, file_of_all
from quizzes.desks.printing.checklist import checklist_pdf
from quizzes.grading.words import TITLES
from quizzes.records.auditing.audit import audited
from quizzes.records.decisions.acts import Act
from quizzes.records.decisions.practical import CRITICAL
from quizzes.sittings.decided.observations import agreements
from quizzes.sittings.everything import everything
from tests.desks.assessor.laid_open import GOOD, NOW, form_of, opened, wish
from tests.page.test_upload import pieces
from tests.records.auditing.bending import bend


def test_a_practical_is_joined_and_a_record_can_demand_it(
    small_class, sent, store, at_the_desk, monkeypatch
):
    """Without one nobody is competent where the house asks for it; with one that lacks, neither."""
    monkeypatch.setenv("GAL_PRACTICAL", "required")
    page, sitting = opened(GOOD, sent)
    wish(page, "decide", verdict="competent")
    none = sent[-1]["reply"]["words"]
    fields = {one["name"]: one for one in form_of(sent, "Observed practical")["fields"]}
    where = {"size": fields["size"]["options"][1][0]}
    where |= {"hoist": "hoist 3", "instruments": "leaves", "gaps": "0 0.30 0.35"}
    for marks in ({"M2": "shown"}, dict.fromkeys(CRITICAL, "shown")):
        page._practical.form.heard({"send": "observe", "values": where | marks})
        wish(page, "decide", verdict="competent")
        sent.append({"said": sent[-1]})
    said = [one["said"].get("reply", {}).get("words", "") for one in sent if "said" in one]

    assert "observed practical" in none
    assert "lacks what a record needs" in said[0]
    assert [one.kind for one in store.acts(sitting)] == [Act.PRACTICAL, Act.PRACTICAL, Act.DECISION]


@pytest.mark.parametrize("paper", ["A4", "Letter"])
def test_the_empty_sheet_names_every_element_and_marks_the_critical(paper):
    """One person, one sheet, with a box for each answer."""
    printed = checklist_pdf(GOOD, "5" * 36, paper, dt.date(2026, 11, 28))
    text = "".join(page.extract_text() for page in pypdf.PdfReader(io.BytesIO(printed)).pages)
    flat = " ".join(text.split())

    assert all(title in flat for title in TITLES.values())
    assert flat.count("(critical)") == len(CRITICAL)


def picture(colour):
    """Return a photograph as a telephone hands it in."""
    held = io.BytesIO()
    Image.new("RGB", (120, 120), colour).save(held, "PNG")
    return held.getvalue()


def with_photograph(sent, content):
    """Keep a sheet with a photograph on it; return the page, the sitting and its person."""
    page, sitting = opened(GOOD, sent)
    for one in pieces(content, "gap.png"):
        page._practical.form.heard(one)
    size = form_of(sent, "Observed practical")["fields"][0]["options"][1][0]
    sheet = {"size": size, "hoist": "hoist 3", "instruments": "leaves", "M2": "shown"}
    page._practical.form.heard({"send": "observe", "values": sheet | {"notes": "Ada was calm."}})
    return page, sitting, page._practical._found.sitting.person_id


def test_a_photograph_is_kept_by_its_digest_and_anything_else_refused(
    small_class, sent, store, at_the_desk
):
    """A text that is called a picture is none; a picture comes back as it was handed in."""
    page, _ = opened(GOOD, sent)
    person = page._practical._found.sitting.person_id
    for content in (b"no picture", picture("grey")):
        for one in pieces(content, "gap.png"):
            page._practical.form.heard(one)
    digest = hashlib.sha256(picture("grey")).hexdigest()

    assert store.photograph(person, digest) == picture("grey")
    assert store.photograph(person, hashlib.sha256(b"no picture").hexdigest()) is None
    assert store.photograph("somebody else", digest) is None


def test_a_photograph_is_looked_at_again_and_one_exchanged_or_gone_is_said(
    small_class, at_the_desk, store, sent, handed
):
    """An assessor decides on what was handed in, so one changed since is named and not shown."""
    page, sitting, person = with_photograph(sent, picture("grey"))
    look = {"send": "photograph 1", "values": {}}
    page._practical.form.heard(look)
    everything(store, store.files()[0].parent / "all", NOW)
    (left,) = (store.files()[0].parent / "all" / "photographs").iterdir()
    (photo,) = store.acts(sitting)[0].act.photographs
    other = picture("white").hex()
    bend(store.files()[0], f"UPDATE photograph SET content = x'{other}'", remake=False)
    store.close()
    page._practical.form.heard(look)
    exchanged = sent[-1]["reply"]["words"]
    bent = [one.reason for one in store.check(contents=True).broken if one.position]
    bend(store.files()[0], "DELETE FROM photograph", remake=False)
    store.close()
    page._practical.open(page._practical._found.sitting.id)
    shown = form_of(sent, "Observed practical")
    gone = [one.reason for one in store.check().broken if one.person_id == person]

    assert photo.name == "gap.png"
    assert ("photograph 1", "Photograph gap.png") in map(tuple, shown["buttons"])
    assert [file[2] for file in handed] == [left.read_bytes()] == [picture("grey")]
    assert "not the one that was handed in" in exchanged
    assert bent == ["a photograph is not the one that was handed in"]
    assert gone == ["a photograph was taken out, and no entry says that it was erased"]
    assert "gap.png: this photograph was taken out" in " ".join(shown["words"])


def test_whoever_is_erased_leaves_neither_words_nor_photographs_and_the_ledger_holds(
    small_class, at_the_desk, store, sent, capsys
):
    """Name, notes, reasons and bytes are in no file any more; what was decided stays, and holds."""
    page, sitting, person = with_photograph(sent, picture("grey"))
    wish(page, "decide", verdict="more evidence needed", reasons="Ada hurried at the rim.")
    main = store.files()[0]
    before = b"".join(one.read_bytes() for one in store.files() if one.exists())
    store.close()
    code = command(["erase", person, "--records", store.url])
    said = capsys.readouterr().out
    after = b"".join(one.read_bytes() for one in store.files() if one.exists())
    acts, audit = store.acts(sitting), audited(store, contents=True)
    twice = command(["erase", person, "--records", store.url])

    assert (code, twice) == (0, 2)
    assert "photographs" in said
    assert main.is_file()
    for words in (b"Ada was calm.", b"Ada hurried at the rim.", b"gap.png", picture("grey")[:60]):
        assert words in before
        assert words not in after
    assert [one.kind for one in acts] == [Act.PRACTICAL, Act.DECISION]
    assert acts[0].act.photographs == ()
    assert acts[0].act.notes == acts[1].act.reasons == "erased with the person’s name"
    assert audit.sound, audit.sentences()
    assert "1 person erased" in " ".join(audit.sentences())


def test_printing_the_empty_sheet_keeps_what_is_typed(small_class, sent, handed, at_the_desk):
    """The form is not drawn anew under the observer's hands, and what is missing is named."""
    page, _ = opened(GOOD, sent)
    drawn = len([one for one in sent if "form" in one])
    page._practical.form.heard({"send": "print A4", "values": {"hoist": "hoist 3"}})
    size = form_of(sent, "Observed practical")["fields"][0]["options"][1][0]
    said = []
    for typed in ({}, {"size": size}, {"size": size, "hoist": "hoist 3"}):
        page._practical.form.heard({"send": "observe", "values": typed})
        said.append(sent[-1]["reply"]["words"])

    assert handed[-1][2].startswith(b"%PDF")
    assert len([one for one in sent if "form" in one]) == drawn
    assert ["size of the brake" in said[0], "which hoist" in said[1], "instruments" in said[2]] == [
        True
    ] * 3


def sheet_of(sent, **changes):
    """What an observer types: a whole sheet, with marks that nobody else would make."""
    size = form_of(sent, "Observed practical")["fields"][0]["options"][1][0]
    typed = {"size": size, "hoist": "hoist 3", "instruments": "leaves", "notes": ""}
    return typed | dict.fromkeys(CRITICAL, "shown") | changes


FIRSTS = {"M2": "not shown", "hoist": "hoist 3, seen from the east door", "notes": "Fumbled it."}


def test_no_frame_tells_the_second_observer_what_the_first_marked_until_both_have(
    small_class, sent, store, handed, at_the_desk
):
    """Pages opened, every wish sent, files asked for, a decision tried: the first sheet is in none."""
    page, sitting = opened(GOOD, sent)
    page._practical.form.heard(
        {"send": "observe", "values": sheet_of(sent, second="yes", **FIRSTS)}
    )
    own = " ".join(form_of(sent, "Observed practical")["words"])
    at_the_desk("Ben Halloway")
    sent.clear()
    page, _ = opened(GOOD, sent)
    page._practical.form.heard({"ask": "form"})
    page._practical.form.heard({"send": "observe", "values": {}})
    page._practical.form.heard({"send": "print A4", "values": {}})
    for wished in ("decide", "pdf a4", "credential"):
        wish(page, wished, verdict="competent")
    barred = sent[-3]["reply"]["words"]
    page._tools.heard({"send": "export"})
    wish(page, "decide", verdict="not yet competent")
    wish(page, "pdf a4")
    printed = handed[-1][2]
    before = json.dumps(sent) + page._evidence.value
    tables = [file_of_all(store, one, NOW)[2] for one in OF_ALL]
    page._practical.form.heard({"send": "observe", "values": sheet_of(sent, M2="shown")})
    both = " ".join(form_of(sent, "Observed practical")["words"])
    decided = " ".join(form_of(sent, "Decision on")["words"])

    assert "Not shown: Gap measured all round." in own
    assert "Nobody else can read your sheet" in own
    assert "second observer of the practical has yet to keep a sheet" in barred
    assert "A first observer has kept a sheet" in before
    assert printed.startswith(b"%PDF")
    paper = "".join(one.extract_text() for one in pypdf.PdfReader(io.BytesIO(printed)).pages)
    for said in (before, paper, *(one.decode() for one in tables), *map(str, handed[:-1])):
        assert not any(
            words in said for words in ("east door", "Fumbled", "Not shown: ", "Ann Okoro")
        )
    assert "east door" in both
    assert "Ann Okoro, observer" in both
    assert "neither of whom knew the other’s sheet" in both
    assert "Fumbled" in decided
    assert agreements(store)[sitting].marked == len(CRITICAL) + 1
    assert agreements(store)[sitting].first_only + agreements(store)[sitting].second_only == 1


def test_two_observers_who_finish_together_both_keep_what_they_saw(
    small_class, sent, store, at_the_desk
):
    """The second's page was open before the first kept a sheet: nothing typed there is lost."""
    page, sitting = opened(GOOD, sent)
    typed = sheet_of(sent)
    at_the_desk("Ben Halloway")
    bens, _ = opened(GOOD, sent)
    at_the_desk("Ann Okoro")
    page._practical.form.heard({"send": "observe", "values": typed | {"second": "yes"}})
    at_the_desk("Ben Halloway")
    bens._practical.form.heard({"send": "observe", "values": typed})

    assert len(store.acts(sitting)) == 2
    assert sitting in agreements(store)


def test_a_second_sheet_after_the_first_could_be_read_is_no_agreement(
    small_class, sent, store, at_the_desk
):
    """Nobody asked for a second observer, so the first sheet stood there to be read."""
    page, sitting = opened(GOOD, sent)
    page._practical.form.heard({"send": "observe", "values": sheet_of(sent)})
    at_the_desk("Ben Halloway")
    page, _ = opened(GOOD, sent)
    page._practical.form.heard({"send": "observe", "values": sheet_of(sent)})
    words = " ".join(form_of(sent, "Observed practical")["words"])

    assert len(store.acts(sitting)) == 2
    assert agreements(store) == {}
    assert "could read the first’s sheet" in words


def test_a_sheet_half_filled_has_a_place_on_the_device_until_it_is_kept(
    small_class, sent, at_the_desk
):
    """One for each person and sitting; let go once the sheet is kept, and not before."""
    page, sitting = opened(GOOD, sent)
    anns = form_of(sent, "Observed practical")["draft"]
    page._practical.form.heard({"send": "observe", "values": {"hoist": "hoist 3"}})
    refused = [one for one in sent if "forget_draft" in one]
    page._practical.form.heard({"send": "observe", "values": sheet_of(sent)})
    kept = [one["forget_draft"] for one in sent if "forget_draft" in one]
    at_the_desk("Ben Halloway")
    page._practical.open(sitting)
    bens = form_of(sent, "Observed practical")["draft"]

    assert refused == []
    assert kept == [anns["key"]]
    assert bens["key"] != anns["key"]
    assert "choose them again" in bens["back"]


def test_the_practical_and_the_decision_are_one_press_away(small_class, sent, at_the_desk):
    """Both stand far below the evidence; what was typed there stays, as a draft does."""
    page, _ = opened(GOOD, sent)
    for wished, title in (("practical", "Observed practical"), ("decision", "Decision on")):
        sent.clear()
        page._tools.heard({"send": wished})

        assert form_of(sent, title)["top"]
        assert form_of(sent, "More on this sitting")["buttons"]  # or they would stay disabled


def test_the_kept_sheet_tells_marks_readings_and_notes(small_class, sent, store, at_the_desk):
    """Whoever decides reads what was marked and measured, and what nobody asked for."""
    page, _ = opened(GOOD, sent)
    typed = {
        "gaps": "0 0,30 0.35\n120 0.35 0.40",
        "discs": "90 12.1",
        "notes": "Asked for a torch.",
    }
    marks = {"T2": "not asked", "M2": "not shown", "M4": "shown"}
    page._practical.form.heard({"send": "observe", "values": sheet_of(sent, **typed, **marks)})
    told = " ".join(form_of(sent, "Observed practical")["words"])

    for words in (
        f"{len(CRITICAL)} of {len(TITLES)} elements shown.",  # one critical less, M4 more
        f"Not shown: {TITLES['M2']}.",
        f"Critical and not asked: {TITLES['T2']}.",
        "at 0° 0.30 goes, 0.35 does not; at 120° 0.35 goes, 0.40 does not.",
        "at 90° 12.10.",
        "Instruments: leaves.",
        "Notes: Asked for a torch.",
    ):
        assert words in told
    assert f"; {TITLES['M4']}" not in told
