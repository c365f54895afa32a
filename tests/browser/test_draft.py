"""What is typed into a long form stays on the device until it is kept: a tablet sleeps and reloads."""

import json

import pytest

pytest.importorskip("playwright.sync_api")

from widgets.page.prompt_panel import FormPanel, choice_field, text_field

from .conftest import PHONE

pytestmark = pytest.mark.browser
ANYWHERE = "http://127.0.0.1:9/"  # nobody listens there: the test answers itself
MARKS = [("shown", "shown"), ("not shown", "not shown"), ("not asked", "not asked")]
FORM = {
    "title": "A sheet",
    "fields": [
        choice_field("size", "Size", [("", "choose"), ("QL-60", "QL-60")]),
        text_field("hoist", "Hoist"),
        choice_field("S1", "Isolates", MARKS, "not asked") | {"kind": "marks"},
        {"name": "gaps", "kind": "long", "label": "Gap readings"},
    ],
    "buttons": [["observe", "Keep this sheet"]],
    "draft": {"key": "0f", "back": "What was typed here before is back."},
}
PAGE = """<div id="form"></div><script type="module">
%s
window.told = [];
const model = { on: (_, hear) => { window.hear = hear; }, off() {}, send: (said) => told.push(said) };
render({ model, el: document.getElementById("form") });
</script>"""


@pytest.fixture
def sheet(open_page):
    """A page of one form, without a kernel; `show` draws it as the kernel would."""
    page = open_page(PHONE, has_touch=True)
    script = FormPanel._esm.replace("export default { render };", "")
    page.route("**", lambda route: route.fulfill(body=PAGE % script, content_type="text/html"))

    def show(**changes):
        page.evaluate("(form) => hear({ form })", FORM | changes)
        return page

    page.goto(ANYWHERE)
    return show


def typed(page):
    """What the page would send now."""
    page.get_by_role("button", name="Keep this sheet").click()
    return page.evaluate("told.at(-1).values")


def test_a_sheet_half_filled_comes_back_after_the_page_was_loaded_again(sheet):
    """Chosen, typed, marked; another person's sheet on the same tablet is empty."""
    page = sheet()
    page.get_by_label("Size").select_option("QL-60")
    page.get_by_label("Hoist").fill("hoist 3")
    page.get_by_text("not shown").tap()
    page.get_by_label("Gap readings").fill("0 0.35 0.40\n90 0.35 0.40")
    page.reload()
    sheet()
    said = page.locator(".form-said").inner_text()
    back = typed(page)
    other = typed(sheet(draft={"key": "0e", "back": ""}))

    assert said == FORM["draft"]["back"]
    assert back == {
        "size": "QL-60", "hoist": "hoist 3", "S1": "not shown", "gaps": "0 0.35 0.40\n90 0.35 0.40"
    }  # fmt: skip
    assert other == {"size": "", "hoist": "", "S1": "not asked", "gaps": ""}


def test_a_sheet_that_was_kept_is_gone_from_the_device(sheet):
    """And what was stored there by somebody else is no value that the form does not offer."""
    page = sheet()
    page.get_by_label("Hoist").fill("hoist 3")
    page.evaluate("hear({ forget_draft: '0f' })")
    kept = page.evaluate("localStorage.getItem('gal-draft 0f')")
    forged = json.dumps({"size": "none", "S1": "superb", "hoist": {"a": 1}, "more": "x"})
    page.evaluate("(typed) => localStorage.setItem('gal-draft 0f', typed)", forged)

    assert kept is None
    assert typed(sheet()) == {"size": "", "hoist": "", "S1": "not asked", "gaps": ""}
