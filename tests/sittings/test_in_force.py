"""The limits sheet in force: read once, and again as soon as its file is another."""

import pytest

from quizzes.sittings.in_force import sheet_in_force
from widgets.brake.sizes.sheet import INVENTED, LimitsSheetError


def test_a_sheet_that_is_changed_is_read_again(tmp_path, monkeypatch):
    """The same file gives the same sheet without being read; a changed one, its new title."""
    own = tmp_path / "own.toml"
    text = INVENTED.read_text(encoding="utf-8")
    own.write_text(text, encoding="utf-8")
    monkeypatch.setenv("GAL_LIMITS", str(own))
    first = sheet_in_force()
    title = first.sheet.title

    assert sheet_in_force() is first
    own.write_text(text.replace(title, f"{title}, second issue"), encoding="utf-8")
    assert sheet_in_force().sheet.title == f"{title}, second issue"


def test_a_sheet_that_goes_bad_or_away_is_told_each_time(tmp_path, monkeypatch):
    """What was good before does not stand in for a file that is bad, nor for one that is gone."""
    own = tmp_path / "own.toml"
    own.write_bytes(INVENTED.read_bytes())
    monkeypatch.setenv("GAL_LIMITS", str(own))
    sheet_in_force()

    own.write_text("title = 3\n", encoding="utf-8")
    for _ in range(2):
        with pytest.raises(LimitsSheetError, match=r"own\.toml"):
            sheet_in_force()
    own.unlink()
    with pytest.raises(LimitsSheetError, match=r"own\.toml"):
        sheet_in_force()
