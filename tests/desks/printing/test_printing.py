"""Sheets on paper: what is printed, on which size of page, and always the same bytes."""

import datetime as dt
import io
import re

import pytest
from pypdf import PdfReader

from quizzes.desks.printing.limits import limits_pdf
from quizzes.desks.printing.paper import printed, words
from quizzes.desks.sheets.limits_sheet import LimitsSheetPanel, file_name, limits_sheet_page
from quizzes.sittings.in_force import sheet_in_force
from widgets.brake.sizes.table import COLUMNS

DAY = dt.date(2026, 11, 25)
# Outside check: ISO 216 gives A4 as 210 mm by 297 mm; Letter is 8 1/2 in by 11 in (ANSI Y14.1).
# A point is 1/72 in, an inch 25.4 mm. A tenth of a point is far below what a printer places.
SIZES_PT = {"A4": (297 * 72 / 25.4, 210 * 72 / 25.4), "Letter": (11 * 72, 8.5 * 72)}
OWN = 'title = "North hall"\nsource = "maker\'s sheet 12, read 2026-10-01"\n'
CELL_PT = 11  # names and numbers of the table; heads and sentences are smaller
LEAST_ROW = '[[size]]\nname = "{name}"\ngap_max_mm = 0.8\ngap_min_mm = 0.3\ndisc_min_mm = 9.0\n'


def own_sheet(tmp_path, monkeypatch, *names: str):
    file = tmp_path / "own.toml"
    file.write_text(OWN + "".join(LEAST_ROW.format(name=name) for name in names), encoding="utf-8")
    monkeypatch.setenv("GAL_LIMITS", str(file))
    return sheet_in_force()


def opened(file: bytes) -> PdfReader:
    return PdfReader(io.BytesIO(file))


def text_of(file: bytes) -> str:
    return re.sub(r"\s+", " ", " ".join(page.extract_text() for page in opened(file).pages))


@pytest.fixture(autouse=True)
def no_own_sheet(monkeypatch):
    monkeypatch.delenv("GAL_LIMITS", raising=False)


@pytest.mark.parametrize("paper", SIZES_PT)
def test_the_page_is_exactly_the_paper(paper):
    """Landscape, to a tenth of a point."""
    box = opened(limits_pdf(sheet_in_force(), paper, DAY)).pages[0].mediabox

    assert (float(box.width), float(box.height)) == pytest.approx(SIZES_PT[paper], abs=0.1)


@pytest.mark.parametrize("inches", [False, True])
@pytest.mark.parametrize("paper", SIZES_PT)
def test_five_sizes_fit_on_one_page(paper, inches):
    """The suite's own sheet goes on the wall as one page, with or without inches."""
    in_force = sheet_in_force()

    assert len(in_force.sheet.sizes) == 5
    assert len(opened(limits_pdf(in_force, paper, DAY, inches=inches)).pages) == 1


def test_every_limit_of_every_size_is_on_the_paper():
    """Name, gaps, disc and lining of each size can be read out of the file again."""
    in_force = sheet_in_force()
    text = text_of(limits_pdf(in_force, "A4", DAY))
    for size in in_force.sheet.sizes:
        limits = (size.gap.setting_mm, size.gap.max_mm, size.disc.min_mm, size.disc.lining_min_mm)

        assert size.name in text
        assert all(f"{limit:.2f}" in text for limit in limits)
    assert {column.head for column in COLUMNS} == {
        column.head for column in COLUMNS if f" {column.head} " in text
    }


def test_the_paper_says_that_its_numbers_are_invented_where_they_are_from_and_what_is_dangerous():
    """Invented, source, file, day of printing, the danger, and whose word counts."""
    text = text_of(limits_pdf(sheet_in_force(), "A4", DAY))

    for said in ("Invented.", "made up for teaching", "quince_lane.toml", "25 November 2026", "Danger.", "proved dead", "maker’s data", "local code", "Page 1 of 1"):  # fmt: skip
        assert said in text
    assert "est." not in text


def test_an_estimate_is_marked_and_a_given_number_is_not(tmp_path, monkeypatch):
    """Of a row with the three columns of a chart, everything else is an estimate."""
    in_force = own_sheet(tmp_path, monkeypatch, "Plain-1")
    (row,) = in_force.rows()
    marked = {
        f"{column.group} {column.head}"
        for column, cell in zip(COLUMNS, row[1:], strict=True)
        if cell.estimated
    }
    text = text_of(limits_pdf(in_force, "Letter", DAY))

    assert {"Air gap least", "Air gap largest", "Disc least"} & marked == set()
    assert {"Air gap uneven by", "Disc new", "Coil direct", "Brake torque"} <= marked
    assert text.count(" est.") == len(marked) + 1  # and once in the sentence about them
    assert "It decides nothing about a real brake" in text
    assert "Invented." not in text
    assert "maker's sheet 12, read 2026-10-01" in text


def test_sixty_sizes_flow_over_pages_and_the_head_comes_again(tmp_path, monkeypatch):
    """No row is lost, each page of rows says what its columns are, the danger follows the rows."""
    names = [f"Size {number:02d}" for number in range(60)]
    pages = opened(limits_pdf(own_sheet(tmp_path, monkeypatch, *names), "A4", DAY)).pages
    texts = [re.sub(r"\s+", " ", page.extract_text()) for page in pages]
    with_rows = [text for text in texts if re.search(r"Size \d\d 0\.30", text)]  # the least gap

    assert len(with_rows) >= 3
    assert all("Air gap" in text and "largest" in text for text in with_rows)
    assert all(sum(f"{name} 0.30" in text for text in texts) == 1 for name in names)
    assert "Danger." in texts[len(with_rows) - 1] + texts[len(with_rows)]
    assert all(f"Page {at} of {len(pages)}" in text for at, text in enumerate(texts, start=1))


@pytest.mark.parametrize(
    "name", ["W" * 80, "Hoist number nine of the long north hall, west bay, upper rail"]
)
def test_a_long_name_wraps_inside_its_column(tmp_path, monkeypatch, name):
    """Eighty signs with or without a space are all there, left of the first number."""
    spots = []
    page = opened(limits_pdf(own_sheet(tmp_path, monkeypatch, name), "A4", DAY)).pages[0]
    page.extract_text(
        visitor_text=lambda text, at, line, font, size_pt: (
            spots.append((at[4] + line[4], text.strip())) if size_pt == CELL_PT else None
        )
    )
    named = [(x, text) for x, text in spots if text and text in name]
    numbers = [x for x, text in spots if text == "0.30"]

    assert len(named) >= 3
    assert "".join(text for _, text in named).replace(" ", "") == name.replace(" ", "")
    assert max(x for x, _ in named) < min(numbers)


def test_the_same_day_gives_the_same_bytes_and_another_day_others():
    """Nothing of the clock or of chance is in the file."""
    in_force = sheet_in_force()
    first = limits_pdf(in_force, "A4", DAY)

    assert first == limits_pdf(in_force, "A4", DAY)
    assert first != limits_pdf(in_force, "A4", DAY + dt.timedelta(days=1))


def test_inches_stand_under_millimetres_on_request():
    """Outside check: 0.30 / 25.4 = 0.0118 and 11.00 / 25.4 = 0.433 (long division)."""
    plain, both = (
        text_of(limits_pdf(sheet_in_force(), "A4", DAY, inches=inches)) for inches in (False, True)
    )

    assert "0.0118 in" in both
    assert "0.433 in" in both
    assert " in " not in plain.split("lengths in")[0].split("Size")[1].split("Danger")[0]


@pytest.mark.parametrize("paper", ["A5", "", "a4"])
def test_another_paper_is_refused(paper):
    """The sentence names both papers there are."""
    with pytest.raises(ValueError, match="paper must be A4 or Letter"):
        limits_pdf(sheet_in_force(), paper, DAY)


def test_a_typed_text_is_printed_as_it_stands():
    """Signs of markup are letters like any other; more alphabets than one can be read again."""
    typed = "<b>A & B</b> <script>alert(1)</script> Żółć Ωμ ± 45°"

    assert typed in text_of(printed([words(typed)], "A4", "t", "f", wide=False))


# ---- the page ----


@pytest.fixture
def page(monkeypatch):
    panel, sent = limits_sheet_page(), []
    monkeypatch.setattr(panel, "send", lambda content, buffers=None: sent.append((content, buffers)))  # fmt: skip
    assert isinstance(panel, LimitsSheetPanel)
    return panel, sent


def test_the_page_has_the_rows_of_the_sheet_in_force(page, tmp_path, monkeypatch):
    """What is shown is what lessons use: the trainer's own sheet where there is one."""
    panel, sent = page
    panel._hear({"ask": "sheet"})
    own_sheet(tmp_path, monkeypatch, "Plain-1")
    other, told = limits_sheet_page(), []
    monkeypatch.setattr(other, "send", lambda content, buffers=None: told.append(content))
    other._hear({"ask": "sheet"})

    assert len(sent[0][0]["sheet"]["rows"]) == 5
    assert sent[0][0]["sheet"]["invented"]
    assert [row[0]["text"] for row in told[0]["sheet"]["rows"]] == ["Plain-1"]
    assert not told[0]["sheet"]["invented"]
    assert told[0]["sheet"]["estimated"]


@pytest.mark.parametrize("paper", SIZES_PT)
def test_the_page_hands_over_a_pdf(page, paper):
    """One message with the name and the file; the file can be opened."""
    panel, sent = page
    panel._hear({"print": paper, "inches": True})
    ((content, (file,)),) = sent

    assert content["file"]["name"].endswith(f"-{paper}.pdf")
    assert "0.0118 in" in text_of(file)


@pytest.mark.parametrize("wish", [{"print": "A5"}, {"print": ["A4"]}, {"print": {"a": 1}}, {"print": None}])  # fmt: skip
def test_a_paper_there_is_not_gets_a_sentence(page, wish):
    """No file, no exception, one sentence."""
    panel, sent = page
    panel._hear(wish)

    assert [set(content) for content, _ in sent] == [{"trouble"}]


def test_a_bad_sheet_is_a_page_with_sentences(tmp_path, monkeypatch):
    """The file is named with what was expected."""
    bad = tmp_path / "own.toml"
    bad.write_text('title = "x"\n', encoding="utf-8")
    monkeypatch.setenv("GAL_LIMITS", str(bad))

    assert "own.toml" in limits_sheet_page().value


def test_a_file_name_holds_nothing_that_a_folder_could_take_amiss():
    """Letters, digits and dashes, whatever the title."""
    assert file_name("../../etc/<b>passwd</b>", "A4") == "etc-b-passwd-b-A4.pdf"
    assert file_name("Ω ⚙", "Letter") == "sheet-Letter.pdf"
