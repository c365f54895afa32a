"""The living cutaway in a real browser: what is on the page, in words and in lines, is the model's."""

import re

import pytest
from playwright.sync_api import Page, expect

from quizzes.desks.explorers.brake_explorers import lesson_size
from widgets.brake.magnet import pull_n
from widgets.brake.magnet.coil import coil_ampere_turns
from widgets.brake.torque.clamping import clamping_force_n

from .conftest import serious

pytestmark = pytest.mark.browser
CEDAR = lesson_size("Cedar-47")
SETTING_UNITS = 17  # the bench draws the setting gap so wide


def fact(page: Page, name: str) -> float:
    """Return the number of a fact; the front door keeps them out of sight."""
    row = page.locator("#living-door .living-facts > div").filter(has_text=name)
    return float(re.match(r"[\d.]+", row.locator("b").text_content())[0])


def set_to(page: Page, slider: str, value: float) -> None:
    """Move a slider as a hand does: by value, with the events of a move."""
    page.locator("#living-door label", has_text=slider).evaluate(
        """(label, value) => {
          const field = document.getElementById(label.htmlFor);
          field.value = value;
          field.dispatchEvent(new Event("input", { bubbles: true }));
        }""",
        value,
    )


def test_the_front_door_draws_and_says_the_models_numbers(page, served):
    """At six gaps and voltages below the clack: forces in words, the gap in units, one to one."""
    page.goto(served)
    gap = page.locator("#living-door .gap")
    expect(page.get_by_role("button", name="Next moment")).to_be_enabled(timeout=30_000)
    for gap_mm, supply in [(0.2, 10), (0.3, 20), (0.3, 30), (0.5, 40), (0.8, 50), (1.0, 15)]:
        set_to(page, "Air gap", gap_mm)  # first: a narrow gap would clack at the next voltage
        set_to(page, "Voltage at the coil", supply)
        width = SETTING_UNITS * gap_mm / CEDAR.gap.setting_mm
        expect(gap).to_have_attribute("width", f"{width:.2f}")
        drive = coil_ampere_turns(CEDAR.coil, supply / 100 * CEDAR.coil.voltage_v, 20.0)

        spring_n = clamping_force_n(gap_mm, CEDAR.springs, CEDAR.gap.setting_mm)
        assert fact(page, "Springs push") == pytest.approx(spring_n, abs=0.6)
        assert fact(page, "Magnet pulls") == pytest.approx(
            pull_n(gap_mm, drive, CEDAR.magnet), rel=5e-3, abs=2
        )


def test_who_asked_for_less_motion_gets_stills_with_a_key(open_page, served):
    """Each press of the key is a still: before the clack, after it; nothing moves between."""
    page = open_page(reduced_motion="reduce")
    page.goto(served)
    key = page.get_by_role("button", name="Next moment")
    expect(key).to_be_enabled(timeout=30_000)
    gap = page.locator("#living-door .gap")
    key.click()
    expect(gap).to_have_attribute("width", f"{SETTING_UNITS:.2f}")
    key.click()
    expect(gap).to_have_attribute("width", "0.00")

    assert not serious(page)


def test_a_grip_is_moved_by_the_arrow_keys(page, served):
    """The place on the drawing is a slider for the keyboard too, and says its value."""
    page.goto(served)
    grip = page.get_by_role("slider", name="Air gap").first
    expect(grip).to_have_attribute("aria-valuetext", "0.30 mm", timeout=30_000)
    grip.focus()
    page.keyboard.press("ArrowRight")

    expect(grip).to_have_attribute("aria-valuetext", "0.31 mm")
