"""The job sheet: what a technician typed, what it comes to, and what is refused without loss."""

import copy
import dataclasses
import datetime as dt
import io
import json
import math
import re

import numpy as np
import pytest
import statsmodels.api as sm
from hypothesis import given
from hypothesis import strategies as st
from pypdf import PdfReader
from scipy import stats
from scipy.optimize import curve_fit

from quizzes.desks.sheets.job_sheet import JobSheetPanel, job_sheet_page
from quizzes.job_sheet.doubts import doubts
from quizzes.job_sheet.entry import EntryError
from quizzes.job_sheet.findings import find, summary
from quizzes.job_sheet.history import HISTORY_U_MM, next_date, read_history
from quizzes.job_sheet.reader import read_entry
from quizzes.job_sheet.words import blocks, verdict
from quizzes.sittings.in_force import sheet_in_force
from widgets.brake.gap.profile import Plane
from widgets.brake.judgement.rules import Outcome, Reading
from widgets.brake.sizes.sheet import load_sheet
from widgets.charts.readings_round import readings_round, readings_round_png
from widgets.page.panel import is_small

DAY = dt.date(2026, 11, 25)
SHEET = load_sheet()
CEDAR = SHEET.size("Cedar-47")
EIGHT = tuple(range(0, 360, 45))


def gap_rows(angles=EIGHT, mean=0.40, lean=0.0, at=0.0, step=0.05):
    """Return rows as typed: a plane with a mean and a lean, between two leaves."""
    made = []
    for angle in angles:
        gap_mm = mean + lean * math.cos(math.radians(angle - at))
        made.append([str(angle), f"{gap_mm - step / 2:.4f}", f"{gap_mm + step / 2:.4f}", "1"])
    return made


def typed(**changes):
    """Return a message as the page sends it, with fields and rows changed."""
    message = {
        "judge": True,
        "fields": {"size": "Cedar-47", "on": "2026-11-20", "code_days": "365"},
        "rows": {
            "gap": gap_rows(),
            "disc": [["0", "10.50"], ["180", "10.48"]],
            "turned": [],
            "history": [],
        },
    }
    for name, value in changes.items():
        message["rows" if name in message["rows"] else "fields"][name] = value
    return message


def entry_of(**changes):
    return read_entry(typed(**changes), SHEET, DAY)


def words_of(entry) -> str:
    found = find(entry)
    made = (verdict(found), *blocks(entry, found, read_history(entry, found)))
    return " ".join(" ".join((block.title, *block.lines)) for block in made)


# ---- the conclusion ----


@pytest.mark.parametrize(
    ("changes", "outcome"),
    [
        ({}, Outcome.FIT),
        ({"gap": gap_rows(mean=0.95)}, Outcome.ADJUST),  # over the largest gap, 0.80 mm
        ({"gap": gap_rows(lean=0.20)}, Outcome.ADJUST),  # leans by far more than 0.08 mm
        ({"disc": [["0", "10.5"], ["90", "8.70"]]}, Outcome.REPLACE),  # one place under 9.0 mm
    ],
)
def test_readings_far_from_every_limit_have_one_conclusion(changes, outcome):
    """Common practice, no source: over the gap is adjusted, under the disc is replaced."""
    assert find(entry_of(**changes)).outcome is outcome


def test_a_warp_is_referred_and_gets_no_turns_and_no_date():
    """A two-lobed gap lies on no plane: no screw helps, and the hoist stays out of service."""
    rows = [
        [str(a), f"{0.40 + 0.15 * math.cos(math.radians(2 * a)):.3f}", f"{0.45 + 0.15 * math.cos(math.radians(2 * a)):.3f}", "1"]
        for a in EIGHT
    ]  # fmt: skip
    entry = entry_of(gap=rows)
    found = find(entry)

    assert found.outcome is Outcome.REFER
    assert found.turns == ()
    assert "No date: the hoist stays out of service" in words_of(entry)


def test_of_two_rounds_the_one_that_asks_for_more_counts():
    """A gap that is too wide only after half a turn is too wide."""
    both = entry_of(turned=gap_rows(mean=0.95))

    assert find(entry_of()).outcome is Outcome.FIT
    assert find(both).outcome is Outcome.ADJUST
    assert find(both).widest.value_mm == pytest.approx(0.95)


@pytest.mark.parametrize(
    ("changes", "asked"),
    [
        ({"disc": [["0", "14.90"], ["180", "14.88"]]}, "a new one of Cedar-47 has 11 mm"),
        ({"disc": [["0", "0.43"], ["180", "0.43"]]}, "typed in inches it would be 10.92 mm"),
        ({"gap": gap_rows(mean=2.6)}, "more than 3 times the largest"),
    ],
)
def test_a_reading_that_can_hardly_be_is_asked_about_first(changes, asked):
    """Cedar-47 is 11.0 mm when new, 9.0 mm at the least, 0.8 mm its largest gap: before the reasons."""
    entry = entry_of(**changes)

    assert asked in verdict(find(entry)).lines[0]


def test_a_reading_that_can_be_is_not_asked_about():
    """A new disc may read its new thickness, and an outworn one a little less than the least."""
    for disc in ("11.02", "8.60"):
        assert not find(entry_of(disc=[["0", disc], ["180", disc]])).doubts


def test_an_even_gap_has_no_wide_side():
    """Eight like readings give no direction; an angle would be rounding. A tilt has one."""
    assert "widest at" not in words_of(entry_of(gap=gap_rows(lean=0.0)))
    assert "widest at 90°" in words_of(entry_of(gap=gap_rows(lean=0.1, at=90.0)))


def test_the_uncertainty_of_a_reading_is_that_of_its_step_at_least():
    """Outside check: JCGM 100:2008, 4.3.7: half a step of 0.025 mm, rectangular, is 0.0144 mm."""
    found = find(entry_of())

    assert all(reading.u_mm >= 0.025 / math.sqrt(3) for reading in found.gaps)
    assert all(reading.u_mm < 0.020 for reading in found.gaps)


def test_the_chance_of_keeping_the_limit_agrees_with_scipy():
    """Outside check: SciPy's normal distribution, about the widest reading."""
    found = find(entry_of(gap=gap_rows(mean=0.785)))
    widest = found.widest

    assert found.gap_chance == pytest.approx(stats.norm.cdf((0.80 - widest.value_mm) / widest.u_mm))
    assert 0.5 < found.gap_chance < 0.95


def test_a_summary_is_mean_least_largest_and_spread():
    """Worked by hand: 0.3, 0.4, 0.8 have the mean 0.5 and the spread 0.5."""
    short = summary([Reading(0, value, 0.01) for value in (0.3, 0.8, 0.4)])

    assert (short.count, short.least_mm, short.most_mm) == (3, 0.3, 0.8)
    assert (short.mean_mm, short.spread_mm) == (pytest.approx(0.5), pytest.approx(0.5))


# ---- plane and screws ----


def plane(angles, mean, cos, sin):
    return mean + cos * np.cos(np.radians(angles)) + sin * np.sin(np.radians(angles))


def test_the_plane_agrees_with_scipys_curve_fit():
    """Outside check: scipy.optimize.curve_fit through uneven readings, covariance as well."""
    rows = gap_rows(lean=0.1, at=70)
    rows[2][1:3], rows[5][1:3] = ["0.42", "0.47"], ["0.36", "0.41"]
    found = find(entry_of(gap=rows))
    values = [reading.value_mm for reading in found.gaps]
    u = [reading.u_mm for reading in found.gaps]
    best, covariance = curve_fit(plane, np.array(EIGHT), values, sigma=u, absolute_sigma=True)

    fitted = found.fit.plane
    assert (fitted.mean_mm, fitted.cos_mm, fitted.sin_mm) == pytest.approx(tuple(best), abs=2e-4)
    # One common uncertainty stands for eight that differ by a few parts in a hundred.
    assert found.covariance_mm2 == pytest.approx(covariance, rel=0.05, abs=1e-6)


def test_the_turns_bring_a_leaning_gap_to_the_setting():
    """Worked by hand: 0.50 mm all round, setting 0.30, pitch 1.5: each screw 0.20/1.5 of a turn in."""
    found = find(entry_of(gap=gap_rows(mean=0.85)))
    turns = [one.turn.turn_deg for one in found.turns]
    expected = -(0.85 - CEDAR.gap.setting_mm) / CEDAR.screws.pitch_mm * 360

    assert turns == pytest.approx([expected] * 3, abs=0.5)


@given(
    mean=st.floats(0.35, 0.7),
    lean=st.floats(0.0, 0.2),
    at=st.floats(0, 359),
)
def test_after_the_turns_the_gap_is_the_setting_all_the_way_round(mean, lean, at):
    """A law: plane plus what the three screws add is flat, by geometry worked out independently here."""
    found = find(entry_of(gap=gap_rows(mean=mean, lean=lean, at=at)))
    if not found.turns:
        return
    added = [one.turn.change_mm for one in found.turns]
    corners = np.array([[1, math.cos(math.radians(a)), math.sin(math.radians(a))] for a in (0, 120, 240)])  # fmt: skip
    at_screws = np.linalg.solve(corners, added)
    ratio = CEDAR.screws.gauging_circle_mm / CEDAR.screws.pitch_circle_mm
    for angle in range(0, 360, 30):
        way = math.radians(angle)
        put = at_screws[0] + ratio * (at_screws[1] * math.cos(way) + at_screws[2] * math.sin(way))

        assert found.body.at_mm(angle) + put == pytest.approx(CEDAR.gap.setting_mm, abs=1e-9)


def test_the_uncertainty_of_a_turn_agrees_with_a_simulation():
    """Outside check: readings scattered 20 000 times by NumPy, the turns worked out by least squares."""
    found = find(entry_of(gap=gap_rows(lean=0.1)))
    generator = np.random.default_rng(7)
    angles = np.radians(np.array(EIGHT, dtype=float))
    design = np.column_stack([np.ones(8), np.cos(angles), np.sin(angles)])
    values = np.array([reading.value_mm for reading in found.gaps])
    u = np.array([reading.u_mm for reading in found.gaps])
    tried = values + u * generator.standard_normal((20_000, 8))
    fits = np.linalg.lstsq(design, tried.T, rcond=None)[0]
    ratio = CEDAR.screws.gauging_circle_mm / CEDAR.screws.pitch_circle_mm
    for one, angle in zip(found.turns, (0.0, 120.0, 240.0), strict=True):
        way = math.radians(angle)
        change = -(fits[0] + (fits[1] * math.cos(way) + fits[2] * math.sin(way)) / ratio)

        # The spread of 20 000 draws is known to 1 part in 200 (1/sqrt(2n)), four times that here.
        assert one.expanded_mm == pytest.approx(2 * change.std(), rel=0.02)
        assert one.expanded_deg == pytest.approx(360 * one.expanded_mm / CEDAR.screws.pitch_mm)


def test_half_a_turn_of_the_rotor_tells_body_from_disc():
    """Worked by hand: body leans 0.10 at 0°, disc carries 0.06: rounds are 0.16 and 0.04."""
    entry = entry_of(gap=gap_rows(lean=0.16), turned=gap_rows(lean=0.04))
    found = find(entry)

    assert found.body.tilt_mm == pytest.approx(0.10, abs=1e-3)
    assert found.carried is not None
    assert found.carried.tilt_mm == pytest.approx(0.06, abs=1e-3)
    assert found.carried_shows
    assert "the disc or its seat is tapered" in words_of(entry)
    assert not find(entry_of(gap=gap_rows(lean=0.1), turned=gap_rows(lean=0.1))).carried_shows


# ---- history ----


def visits(*rows):
    return [[day, gap, "", work, duty] for day, gap, work, duty in rows]


STEADY = visits(
    ("2025-11-20", "0.300", "new disc", ""),
    ("2026-02-20", "0.326", "none", ""),
    ("2026-05-20", "0.348", "none", ""),
    ("2026-08-20", "0.376", "none", ""),
)


def test_the_wear_trend_agrees_with_statsmodels():
    """Outside check: statsmodels' weighted least squares, and its one-sided prediction bound."""
    entry = entry_of(history=STEADY)
    found = find(entry)
    history = read_history(entry, found)
    days = np.array([dt.date.fromisoformat(row[0]).toordinal() for row in STEADY] + [entry.on.toordinal()], dtype=float)  # fmt: skip
    gaps = np.array([float(row[1]) for row in STEADY] + [found.widest.value_mm])
    u = np.array([HISTORY_U_MM] * 4 + [found.widest.u_mm])
    fit = sm.WLS(gaps, sm.add_constant(days - days[-1]), weights=1 / u**2).fit()

    assert history.growth_mm_per_day == pytest.approx(fit.params[1], rel=1e-6)
    # Scatter less than the stated uncertainty does not make the line better than stated.
    stated = math.sqrt(fit.normalized_cov_params[1, 1] * max(1.0, fit.scale))
    assert history.growth_u_mm_per_day == pytest.approx(stated, rel=1e-6)
    level, slope = fit.params
    cov = fit.normalized_cov_params * max(1.0, fit.scale)
    after = history.days_by_wear
    variance = cov[0, 0] + 2 * cov[0, 1] * after + cov[1, 1] * after**2 + u[-1] ** 2
    bound = level + slope * after + stats.t.ppf(0.95, 3) * math.sqrt(variance)
    assert bound == pytest.approx(CEDAR.gap.max_mm, abs=1e-6)


def test_wear_decides_where_it_is_sooner_and_the_code_interval_where_it_is_not():
    """The day never lies beyond the interval that was stated."""
    soon, late = (
        entry_of(history=STEADY, code_days="3000"),
        entry_of(history=STEADY, code_days="30"),
    )
    days = [
        (next_date(entry, read_history(entry, find(entry))), entry.on) for entry in (soon, late)
    ]

    assert days[0][0][1] is True
    assert days[1][0] == (late.on + dt.timedelta(days=30), False)


@given(
    code_days=st.integers(1, 3660),
    gaps=st.lists(st.floats(0.2, 0.75), min_size=0, max_size=6),
)
def test_no_date_is_later_than_the_code_interval(code_days, gaps):
    """Whatever the history says."""
    rows = [[f"20{20 + at}-01-15", f"{gap:.3f}", "", "none", ""] for at, gap in enumerate(gaps)]
    entry = entry_of(history=rows, code_days=str(code_days))
    found = next_date(entry, read_history(entry, find(entry)))

    assert found is not None
    assert found[0] <= entry.on + dt.timedelta(days=code_days)


def test_without_interval_and_history_there_is_no_date():
    """The page asks for the interval in place of making one up."""
    assert "No date can be given: state the code interval" in words_of(entry_of(code_days=""))


def test_two_visits_give_half_of_what_they_promise():
    """Worked by hand: 0.10 mm in 100 days, room 0.40 mm less 2 u; half of the days. Common practice."""
    entry = entry_of(history=visits(("2026-08-12", "0.300", "adjusted", "")), code_days="3660")
    found = find(entry)
    history = read_history(entry, found)
    room_mm = CEDAR.gap.max_mm - 0.40 - 2 * found.widest.u_mm

    assert history.how == "two visits"
    assert history.days_by_wear == pytest.approx(0.5 * room_mm / 0.001, rel=1e-3)
    assert "needs 4 visits on different days" in history.missing


def test_twice_the_stops_leave_half_the_days():
    """Wear depends on stops: a hoist that will work twice as hard is looked at twice as soon."""
    rows = [[*row[:4], "100"] for row in STEADY]
    one = read_history(e := entry_of(history=rows, stops_ahead="100"), find(e))
    two = read_history(e := entry_of(history=rows, stops_ahead="200"), find(e))

    assert one.stops_per_day == 100
    assert two.days_by_wear == pytest.approx(one.days_by_wear / 2)
    assert one.growth_um_per_1000_stops == pytest.approx(1e6 * one.growth_mm_per_day / 100)


def test_a_counter_of_starts_gives_the_stops_of_a_day():
    """Worked by hand: 36 500 starts in the 365 days up to today are 100 a day."""
    rows = [*([*row[:4], ""] for row in STEADY)]
    rows[0][4] = "1000"
    entry = entry_of(history=rows, duty_kind="counter", duty_now="37500")

    assert read_history(entry, find(entry)).stops_per_day == pytest.approx(100)


def test_a_disc_that_lost_more_than_the_gap_gained_is_said():
    """Worked by hand: the gap gained 0.10 mm, the disc went from 11.00 to 10.48 mm."""
    entry = entry_of(history=[["2025-11-20", "0.30", "11.00", "new disc", ""]])

    assert "0.42 mm thinner than its record says" in words_of(entry)


def test_the_order_in_which_visits_are_typed_does_not_matter():
    """They are sorted by their day."""
    forward, back = entry_of(history=STEADY), entry_of(history=STEADY[::-1])

    assert forward.history == back.history


# ---- what is refused ----


def troubles(**changes):
    with pytest.raises(EntryError) as refused:
        entry_of(**changes)
    return {trouble.field: trouble.words for trouble in refused.value.troubles}


@pytest.mark.parametrize(
    ("changes", "field", "said"),
    [
        ({"size": ""}, "size", "expected one of the limits sheet"),
        ({"size": "cedar-47"}, "size", "read from the nameplate, got “cedar-47”"),
        ({"on": "2026-11-26"}, "on", "expected a date from 1970-01-01 to 2026-11-25"),
        ({"on": "20.11.2026"}, "on", "as year-month-day, got “20.11.2026”"),
        ({"on": "2026-02-30"}, "on", "as year-month-day"),
        ({"code_days": "0"}, "code_days", "expected a number from 1 to 3660 days, got “0”"),
        ({"caliper_error": "x"}, "caliper_error", "from 0.005 to 1 mm, got “x”"),
        ({"gap": []}, "gap.0.1", "expected 3 to 12 different places round the rim, got 0"),
        ({"gap": gap_rows((0, 360, 90))}, "gap.0.1", "got 2"),
        ({"gap": [["400", "0.3", "0.35", "1"]]}, "gap.0.0", "angle: expected a number from 0 to 360"),
        ({"gap": [["0", "nan", "0.35", "1"]]}, "gap.0.1", "go: expected a number from 0 to 5 mm, got “nan”"),
        ({"gap": [["0", "1e-1", "0.35", "1"]]}, "gap.0.1", "got “1e-1”"),
        ({"gap": [["0", "0.30", "", "1"]]}, "gap.0.2", "and nothing is there"),
        ({"gap": [["0", "0.30", "0.30", "1"]]}, "gap.0.2", "expected more than go (0.3 mm)"),
        ({"gap": [["0", "0.30", "0.95", "1"]]}, "gap.0.2", "by 0.5 mm at most"),
        ({"disc": []}, "disc.0.1", "expected 1 to 12 places"),
        ({"disc": [["0", "-3"]]}, "disc.0.1", "from 0.1 to 100 mm, got “-3”"),
        ({"disc": [["", "10"]]}, "disc.0.0", "angle: expected a number"),
        ({"history": visits(("2026-01-01", "", "none", "5"))}, "history.0.1", "gap: expected a number from 0.01 to 5 mm"),
        ({"history": visits(("2026-11-22", "0.3", "none", ""))}, "history.0.0", "to 2026-11-20"),
        ({"turned": gap_rows((0, 90))}, "turned.0.1", "Gap readings after half a turn: expected 3"),
    ],
)  # fmt: skip
def test_what_cannot_be_is_refused_by_field_with_what_was_expected(changes, field, said):
    """One sentence at the field that it belongs to."""
    assert said in troubles(**changes)[field]


def test_every_fault_is_told_at_once():
    """Nobody has to correct one field to hear of the next."""
    found = troubles(size="", on="", disc=[], gap=[["0", "a", "b", "1"]])

    assert set(found) == {"size", "on", "disc.0.1", "gap.0.1", "gap.0.2"}


def test_a_comma_is_a_decimal_point():
    """As half of the world writes it."""
    entry = entry_of(disc=[["0", "10,50"]])

    assert entry.discs[0].value_mm == 10.5


def test_a_row_without_a_reading_is_passed_over():
    """The angles stand there before anything was read."""
    rows = [*gap_rows((0, 120, 240)), ["300", "", "", "1"]]

    assert len(entry_of(gap=rows).first) == 3


def test_an_estimated_thread_is_said_beside_the_turns(tmp_path):
    """Of a sheet with three columns the pitch is a guess."""
    file = tmp_path / "own.toml"
    file.write_text('title = "x"\n[[size]]\nname = "Plain-1"\ngap_max_mm = 0.8\ngap_min_mm = 0.3\ndisc_min_mm = 9.0\n', encoding="utf-8")  # fmt: skip
    entry = read_entry(typed(size="Plain-1"), load_sheet(file), DAY)

    assert "estimated on this limits sheet: look at the brake before you turn" in words_of(entry)
    assert "(estimated)" in words_of(entry)


# ---- the page ----


@pytest.fixture
def page(monkeypatch):
    monkeypatch.delenv("GAL_LIMITS", raising=False)
    panel, sent = JobSheetPanel(sheet_in_force(), lambda: DAY), []
    monkeypatch.setattr(panel, "send", lambda content, buffers=None: sent.append((content, buffers)))  # fmt: skip
    return panel, sent


def test_the_form_says_that_nothing_is_kept_and_whose_word_counts(page):
    """Danger, maker, code, licensed person, and where what is typed stays."""
    panel, sent = page
    panel._hear({"ask": "form"})
    said = json.dumps(sent[0][0], ensure_ascii=False)

    for words in ("Nothing you type is kept on the server", "proved dead", "maker’s data", "local code", "licensed person"):  # fmt: skip
        assert words in said


def test_the_fullest_form_goes_over_the_line():
    """Twelve places twice, twelve of the disc and twenty visits, with long texts."""
    fields = dict.fromkeys(("hoist", "name", "gap_instrument", "disc_instrument"), "x" * 80)
    fields |= dict.fromkeys(("size", "on", "code_days", "caliper_error", "work_since", "duty_kind", "duty_now", "stops_ahead"), "2026-11-20")  # fmt: skip
    message = {
        "judge": True,
        "fields": fields | {"remarks": "x" * 2000},
        "rows": {
            "gap": [["360", "0.3000", "0.3500", "1"]] * 12,
            "turned": [["360", "0.3000", "0.3500", "1"]] * 12,
            "disc": [["360", "10.500"]] * 12,
            "history": [["2026-11-20", "0.300", "10.50", "new disc", "100000"]] * 20,
        },
    }

    assert is_small(message)


def test_the_findings_come_with_verdict_blocks_figure_and_the_caution(page):
    """What is drawn is text, and the figure says in words what it shows."""
    panel, sent = page
    panel._hear(typed(history=STEADY))
    (found,) = [content["found"] for content, _ in sent]

    assert found["outcome"] == "fit"
    assert [block["title"] for block in found["blocks"]] == ["The readings", "How even it is", "The three screws", "Wear", "Next inspection"]  # fmt: skip
    assert "8 readings round the rim" in found["figure"]["alt"]
    assert "not a permission" in found["calculation"]
    assert found["invented"]


@pytest.mark.parametrize("paper", ["A4", "Letter"])
def test_the_record_holds_everything_typed_as_it_was_typed(page, paper):
    """Markup stays text, every reading is there, and the same day gives the same bytes."""
    panel, sent = page
    message = typed(
        hoist="<b>H & 7</b>", name="A. Nybody", remarks="Oil?\n<script>x</script>", history=STEADY
    )
    message.pop("judge")
    for _ in range(2):
        panel._hear({**message, "print": paper})
    (_, (first,)), (content, (second,)) = sent
    pages = PdfReader(io.BytesIO(first)).pages
    text = re.sub(r"\s+", " ", " ".join(page.extract_text() for page in pages))

    assert first == second
    for words in ("<b>H & 7</b>", "A. Nybody", "<script>x</script>", "Fit for service", "10.48", "0.326", "not a permission", "Signature"):  # fmt: skip
        assert words in text
    # Outside check: ISO 216 and ANSI Y14.1, upright, in points of 1/72 in.
    wide, high = {"A4": (210 / 25.4 * 72, 297 / 25.4 * 72), "Letter": (612, 792)}[paper]
    box = pages[0].mediabox
    assert (float(box.width), float(box.height)) == pytest.approx((wide, high), abs=0.1)
    assert content["file"]["name"] == f"Job-b-H-7-b-Cedar-47-2026-11-20-{paper}.pdf"


def test_a_paper_there_is_not_gets_a_sentence(page):
    """No file and no exception."""
    panel, sent = page
    panel._hear({**typed(), "judge": None, "print": "A3"})

    assert "paper must be A4 or Letter" in sent[0][0]["trouble"]


anything = st.recursive(
    st.none() | st.booleans() | st.integers() | st.floats() | st.text(max_size=20),
    lambda inner: st.lists(inner, max_size=4) | st.dictionaries(st.sampled_from(["gap", "disc", "size", "on", "history", "x"]), inner, max_size=4),
    max_leaves=12,
)  # fmt: skip


@given(
    key=st.sampled_from(["judge", "print", "ask"]),
    wish=anything,
    fields=anything,
    rows=anything,
)
def test_nothing_that_arrives_breaks_the_page(key, wish, fields, rows):
    """At most one answer for one message, whatever it holds, and no exception."""
    panel = JobSheetPanel(sheet_in_force(), lambda: DAY)
    sent: list[object] = []
    panel.send = lambda content, buffers=None: sent.append(content)
    panel._hear({key: wish, "fields": fields, "rows": rows})

    assert len(sent) <= 1


def test_half_a_letter_is_no_letter(page):
    """A lone surrogate could be printed by nobody; it is left out."""
    panel, sent = page
    panel._hear({**typed(remarks="a\ud800b\x00c"), "judge": None, "print": "A4"})

    assert "file" in sent[0][0]


def test_nothing_typed_stays_in_the_kernel(page):
    """The panel holds the limits sheet and the clock, and nothing of the last form."""
    panel, _ = page
    panel._hear(typed(name="A. Nybody"))
    held = {name: value for name, value in vars(panel).items() if name.startswith("_")}

    assert "Nybody" not in repr(held)


def test_a_bad_limits_sheet_is_a_page_with_sentences(tmp_path, monkeypatch):
    """The file is named with what was expected."""
    bad = tmp_path / "own.toml"
    bad.write_text("not toml [", encoding="utf-8")
    monkeypatch.setenv("GAL_LIMITS", str(bad))

    assert "own.toml" in job_sheet_page().value


def test_a_bad_field_of_the_limits_sheet_is_named_in_words(tmp_path, monkeypatch):
    """Whoever opens the job sheet reads of a braking torque, not of a key alone."""
    bad = tmp_path / "own.toml"
    bad.write_text(
        'title = "A"\n[[size]]\nname = "One"\ngap_setting_mm = 0.4\ngap_max_mm = 1.0\n'
        'disc_min_mm = 10.0\ntorque_nm = "strong"\n',
        encoding="utf-8",
    )
    monkeypatch.setenv("GAL_LIMITS", str(bad))
    page = job_sheet_page().value

    assert "line 7, size 1, braking torque, N·m (torque_nm): expected a number" in page
    assert "torque_nm: expected" not in page


# ---- the figure ----


def test_the_figure_shows_readings_and_says_so_and_knows_no_truth():
    """Its words hold count, range and limits; the same readings give the same picture."""
    readings = [Reading(angle, 0.4 + angle / 1000, 0.016) for angle in (0, 120, 240)]
    given_to_it = (readings, [], Plane(0.52, 0.0, 0.0), CEDAR.gap, "Gap")
    drawn = readings_round(*copy.deepcopy(given_to_it))

    assert "3 readings round the rim, from 0.40 to 0.64 mm, widest at 240°" in drawn.alt
    assert "largest allowed 0.8 mm" in drawn.alt
    assert drawn.svg == readings_round(*given_to_it).svg
    assert readings_round_png(*given_to_it)[:8] == b"\x89PNG\r\n\x1a\n"
    assert readings_round_png(*given_to_it) == readings_round_png(*given_to_it)


def test_a_figure_of_nothing_is_refused():
    """There is nothing to show without a reading."""
    with pytest.raises(ValueError, match="at least one reading"):
        readings_round([], [], Plane(0.5), CEDAR.gap, "Gap")


def test_an_estimated_new_disc_never_speaks_against_a_reading(tmp_path):
    """A sheet that does not say how thick a new disc is cannot call a disc too thick."""
    sheet = tmp_path / "bare.toml"
    sheet.write_text(
        'title = "Bare"\n[[size]]\nname = "Bare"\ngap_setting_mm = 0.3\ngap_max_mm = 0.8\n'
        "disc_min_mm = 8.0\n",
        encoding="utf-8",
    )
    size = load_sheet(sheet).size("Bare")
    thick = [Reading(0.0, size.disc.new_mm + 1.0, 0.02)]
    given = dataclasses.replace(size, estimated=size.estimated - {"disc_new_mm"})

    assert "disc_new_mm" in size.estimated
    (asked,) = doubts(size, [Reading(0.0, 0.4, 0.01)], thick)
    assert "another disc" not in asked
    assert asked.count("?") == 1
    assert len(doubts(given, [Reading(0.0, 0.4, 0.01)], thick)) == 1


def test_go_and_no_go_a_millimetre_apart_are_refused():
    """Leaves of 5.00 and 6.00 mm bracket nothing that a brake of this kind can have."""
    with pytest.raises(EntryError) as refused:
        read_entry(typed(gap=[["0", "5.00", "6.00", "1"]] * 3), SHEET, DAY)

    assert any("no-go" in trouble.words for trouble in refused.value.troubles)


# ---- limits typed on the page ----

OWN = {
    "size": "own",
    "own_name": "Rowan-9",
    "own_gap_setting_mm": "0,30",
    "own_gap_max_mm": "0.80",
    "own_disc_min_mm": "9.0",
}


def test_limits_typed_on_the_page_judge_as_the_same_limits_of_a_sheet():
    """Cedar-47's three numbers, typed: the same readings come to the same conclusion."""
    own = read_entry(typed(**OWN), SHEET, DAY)
    known = read_entry(typed(), SHEET, DAY)

    assert (own.size.name, own.size.gap.setting_mm) == ("Rowan-9", 0.30)
    assert (own.size.gap.max_mm, own.size.disc.min_mm) == (0.80, 9.0)
    assert find(own).outcome is find(known).outcome
    assert own.limits_typed
    assert not known.limits_typed


def test_limits_that_were_typed_are_said_to_be_so_and_estimates_are_named(page):
    """On the page and on paper; what the maker's numbers leave out is an estimate, and says so."""
    panel, sent = page
    panel._hear(typed(**OWN))
    told = sent[-1][0]["found"]["verdict"]["lines"]

    assert any("typed in on this page" in line for line in told)
    assert {"disc_new_mm", "gap_evenness_mm"} <= read_entry(typed(**OWN), SHEET, DAY).size.estimated


@pytest.mark.parametrize(
    ("changed", "field", "said"),
    [
        ({"own_name": ""}, "own_name", "expected what the nameplate of the brake says"),
        ({"own_gap_max_mm": ""}, "own_gap_max_mm", "a number of millimetres, and nothing is there"),
        ({"own_gap_max_mm": "0.2"}, "own_gap_max_mm", "more than the gap to be set, 0.3 mm"),
        ({"own_disc_min_mm": "nine"}, "own_disc_min_mm", "a number of millimetres, got “nine”"),
        ({"own_disc_new_mm": "8.0"}, "own_disc_min_mm", "less than 8"),
        ({"own_name": "<b>"}, "own_name", "expected"),
        ({"own_gap_setting_mm": "99", "own_gap_max_mm": "120"}, "own_gap_max_mm", "expected"),
    ],
)
def test_limits_that_cannot_be_are_refused_by_field_in_words(changed, field, said):
    """One sentence at the field; no key of a file and no number of the code in it."""
    with pytest.raises(EntryError) as refused:
        read_entry(typed(**(OWN | changed)), SHEET, DAY)
    told = {one.field: one.words for one in refused.value.troubles}

    assert said in told[field]
    assert "_mm" not in " ".join(told.values())
