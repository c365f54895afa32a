"""Reading caliper, rule and dial from the page as the eye does: by which drawn lines agree.

Nothing here looks at a number that the page was sent, only at where lines and figures stand.
"""

from typing import NamedTuple

from playwright.sync_api import Page, expect

VERNIER_STEP_MM = 0.02  # printed on the caliper: one line of fifty on 49 mm
RULE_STEP_MM = 0.5  # the marks of the rule
# What the dial says of itself: nothing at -120 degrees from upright, 120 % at +120 degrees.
DIAL_START_DEG, DIAL_PERCENT_PER_DEG = -120.0, 0.5

_DRAWN = """(svg) => {
  const box = (node) => { const b = node.getBBox(); return [b.x, b.y, b.y + b.height]; };
  const figures = [...svg.querySelectorAll("text")].map((node) =>
    [Number(node.getAttribute("x")), Number(node.getAttribute("y")), Number(node.textContent)]);
  const edge = svg.querySelector("path.edge");
  return {
    marks: [...svg.querySelectorAll("path.mark")].map(box), figures,
    edge: edge && edge.getBBox().x,
  };
}"""
_POINTER = """(path) => Number(/rotate\\(([-\\d.]+)\\)/.exec(path.getAttribute("transform"))[1])"""


class Drawn(NamedTuple):
    """Lines of a scale: x of those that end at a common height from above, and from below."""

    above: list[float]
    below: list[float]
    height: float


def _drawn(marks: list[list[float]]) -> Drawn:
    """Return the lines that stand on the height where two scales meet, and that hang from it."""
    ends = [round(y, 3) for _, top, bottom in marks for y in (top, bottom)]
    height = max(set(ends), key=ends.count)
    above = sorted(x for x, _, bottom in marks if abs(bottom - height) < 0.01)
    below = sorted(x for x, top, _ in marks if abs(top - height) < 0.01)
    return Drawn(above, below, height)


def _scale_of(
    lines: list[float], figures: list[list[float]], step_mm: float
) -> tuple[float, float]:
    """Return where a scale's zero stands and how wide a millimetre is, from a figure beside it."""
    unit = (lines[-1] - lines[0]) / (len(lines) - 1) / step_mm
    # The figure at 0 may stand aside for lack of room; the largest never does.
    x, _, mm = max(figures, key=lambda figure: figure[2])
    at = min(lines, key=lambda line: abs(line - x))
    return at - mm * unit, unit


def read_vernier(page: Page) -> float:
    """Return what a caliper on the page shows, mm: whole marks before the zero, and the line that agrees."""
    picture = page.locator("svg.scale-whole")
    expect(picture).to_be_visible()
    seen = picture.evaluate(_DRAWN)
    drawn = _drawn(seen["marks"])
    zero, unit = _scale_of(
        drawn.above, [f for f in seen["figures"] if f[1] < drawn.height], step_mm=1.0
    )

    def off_mm(line: int) -> float:
        at = (drawn.below[line] - zero) / unit
        return abs(at - round(at))

    agrees = min(range(50), key=off_mm)
    assert off_mm(agrees) < VERNIER_STEP_MM / 4, "no line of the vernier agrees with a main mark"
    at_zero_mm = (drawn.below[0] - zero) / unit
    whole = int(at_zero_mm + VERNIER_STEP_MM / 2)
    return round(whole + agrees * VERNIER_STEP_MM, 2)


def read_glass(page: Page) -> float:
    """Return by how much the line in the middle of the glass stands right of a main mark, mm."""
    glass = page.locator("svg.scale-glass")
    expect(glass).to_be_visible()
    drawn = _drawn(glass.evaluate(_DRAWN)["marks"])
    middle = float(glass.get_attribute("viewBox").split()[2]) / 2
    line = min(drawn.below, key=lambda x: abs(x - middle))
    unit = drawn.above[1] - drawn.above[0]
    return min((line - mark for mark in drawn.above), key=abs) / unit


def read_rule(page: Page) -> float:
    """Return what a rule on the page shows, mm: the mark at which the far face stands."""
    picture = page.locator("svg.scale-rule")
    expect(picture).to_be_visible()
    seen = picture.evaluate(_DRAWN)
    marks = _drawn(seen["marks"]).below
    zero, unit = _scale_of(marks, seen["figures"], RULE_STEP_MM)
    at = min(marks, key=lambda x: abs(x - seen["edge"]))
    return round((at - zero) / unit / RULE_STEP_MM) * RULE_STEP_MM


def read_dial(page: Page) -> float:
    """Return at what share of the rated voltage the pointer of the test supply stands, percent."""
    pointed = page.locator(".gal-meter svg.dial path.pointer").evaluate(_POINTER)
    return round((pointed - DIAL_START_DEG) * DIAL_PERCENT_PER_DEG, 1)


def read_display(page: Page, number: int) -> float | None:
    """Return what the meter (0) or the thermometer (1) shows; None for over the scale."""
    figures = page.locator(".gal-meter .display .figures").nth(number)
    expect(figures).not_to_be_empty()
    shown = figures.inner_text()
    return None if shown == "over" else float(shown.removeprefix("> "))
