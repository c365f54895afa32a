"""Brakes for whole jobs on the page, the candidate that does them, and what must not be told of them."""

import re
from dataclasses import replace
from functools import lru_cache
from pathlib import Path
from typing import Any

import nbformat

from quizzes.candidates.worker import CAREFUL, work
from quizzes.cases.case import Case
from quizzes.cases.practice import draw_practice
from quizzes.grading.grade import grade_case
from widgets.bench.session import Session
from widgets.bench.setup import Order
from widgets.bench.standing import gap_now
from widgets.bench.starts import at_start
from widgets.brake.sizes.sheet import load_sheet

SHEET = load_sheet()
SIZE = "Cedar-47"
# Six places, by pairs of leaves to two hundredths: of 64 brakes each was set in one round. By leaves
# of the set alone one in twelve asked for a fourth.
SITTER = replace(
    CAREFUL,
    leaf_by_leaf=True,
    places=(0.0, 60.0, 120.0, 180.0, 240.0, 300.0),
    disc_places=(0.0, 90.0, 180.0, 270.0),
)
MOST_ACTIONS = {"adjust": 160, "replace": 205}
CLOCK = re.compile(r"\d{4}-\d\d-\d\dT[\d:.]+Z")  # a message's own time holds digits by chance
_PAGE = """from quizzes.desks.apprentice.practice import Practice
Practice(bytes.fromhex("{key}")).page"""


@lru_cache(maxsize=2)
def practice_key(outcome: str) -> bytes:
    """Return the key of the first practice brake that needs this and can be done right in few steps."""
    for number in range(2_000):
        key = number.to_bytes(2) * 16
        case = draw_practice(SHEET, key, SIZE)
        session = Session(case.setup())
        work(session.act, SHEET, SITTER, case.order)
        state = session.state
        few = len(session.events) <= MOST_ACTIONS[outcome]
        if few and state.decision == outcome and state.into_service:
            grade = grade_case(case, session.events)
            if grade.standing == "right" and not grade.critical:
                return key
    raise AssertionError(f"no brake of {SIZE} ends in {outcome}")


def order_told(page: Any) -> Order:
    """Return what the work order on the page lets the candidate do, and what the job ends with."""
    words = page.locator(".gal-order").inner_text()
    may = [] if "opened by an electrician only" in words else ["terminals"]
    may += [] if "authorised for it, not by you" in words else ["load-test"]
    ends_with = "static" if "static load test" in words else "dynamic"
    return Order(
        may=tuple(may),
        ends_with="run" if "no load test is asked" in words else ends_with,
        brakes=2 if "two brakes" in words else 1,
    )


def write_practice_pages(folder: Path) -> None:
    """Write a practice page for each kind of job, `adjust.ipynb` and `replace.ipynb`."""
    for outcome in MOST_ACTIONS:
        written = nbformat.v4.new_notebook(metadata={"title": "Practice", "kernelspec": {"name": "python3", "display_name": "Python 3"}})  # fmt: skip
        written.cells = [nbformat.v4.new_code_cell(_PAGE.format(key=practice_key(outcome).hex()))]
        nbformat.write(written, folder / f"{outcome}.ipynb")


def hidden_numbers(case: Case) -> set[str]:
    """Return the hidden gaps and thicknesses of a brake to four and more places, and its seed."""
    condition, setup = case.condition, case.setup()
    gap = gap_now(setup, at_start(setup))
    hidden = [gap.plane.mean_mm, gap.plane.tilt_mm, condition.disc.thickness_mm]
    hidden += [gap.at_mm(float(angle)) for angle in range(0, 360, 15)]
    hidden += [*condition.screw_height_mm, *condition.take_up_mm]
    hidden += [condition.dust_mm, condition.disc.thinnest_mm, condition.coil_c]
    texts = {f"{value:.{digits}f}" for value in hidden for digits in (4, 5, 6)}
    texts |= {repr(value) for value in hidden} | {case.seed.hex()}
    # What is exact to few figures, 0.2000 or 20.0, stands on any page by right.
    return {text for text in texts if len(text.strip("0.").replace(".", "")) >= 4}


def told(frames: list[str], hidden: set[str]) -> set[str]:
    """Return the hidden texts that stand in frames, the frames' own clocks aside."""
    texts = [CLOCK.sub("", frame) for frame in frames]
    return {text for text in hidden if any(text in frame for frame in texts)}
