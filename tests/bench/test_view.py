"""The bench in the browser, seen from the kernel: what crosses the border, and what its modules may hold."""

import json
import re
import shutil
import subprocess
from dataclasses import replace
from pathlib import Path
from typing import get_args

import pytest

import widgets.bench.view as view_package
import widgets.page as page_package
from widgets.bench.actions import Action
from widgets.bench.actions.codec import from_json, to_json
from widgets.bench.session import Session
from widgets.bench.setup import Setup
from widgets.bench.view.bench_panel import Table
from widgets.bench.view.page import bench_page
from widgets.bench.view.parts import (
    Answer,
    EndView,
    Limits,
    Notes,
    Part,
    Report,
    Tray,
    WorkOrder,
)
from widgets.brake.condition import Disc, sound_condition
from widgets.brake.gap.profile import Plane
from widgets.brake.sizes.sheet import load_sheet
from widgets.page.joining import joined_file

VIEW = Path(view_package.__file__).parent
PAGE = Path(page_package.__file__).parent
JS_TESTS = Path(__file__).parent / "js"
MODULES = sorted(VIEW.rglob("*.js"))
PARTS = (WorkOrder, EndView, Tray, Limits, Notes, Report, Answer)
PAGES = ("work_order", "end_view", "tray", "limits", "notes", "report", "answer")
LONGEST_MODULE = 250  # lines; STYLE.md asks for small files
SEED = bytes(range(16))

node = pytest.mark.skipif(shutil.which("node") is None, reason="node is not installed")


def table(gap: Plane | None = None, disc_mm: float = 11.0, dust_mm: float = 0.0) -> Table:
    sheet = load_sheet()
    size = sheet.size("Cedar-47")
    condition = sound_condition(size, gap=gap, disc=Disc(disc_mm))
    setup = Setup.of(size, replace(condition, dust_mm=dust_mm), SEED)
    return Table(Session(setup), sheet, "Work order 7")


def text_of(kind: str) -> str:
    return "\n".join(module.read_text(encoding="utf-8") for module in VIEW.rglob(kind))


@pytest.fixture
def modules(tmp_path) -> Path:
    """A copy of the page's modules that node reads as modules."""
    copy = tmp_path / "widgets" / "bench" / "view"
    bare = shutil.ignore_patterns("*.py", "__pycache__")
    shutil.copytree(VIEW, copy, ignore=bare)
    shutil.copytree(PAGE, tmp_path / "widgets" / "page", ignore=bare)
    (tmp_path / "package.json").write_text('{"type": "module"}')
    return copy


@pytest.fixture
def sent(monkeypatch) -> list[dict]:
    """Messages that parts send to the page."""
    messages = []
    monkeypatch.setattr(Part, "send", lambda _, content, buffers=None: messages.append(content))
    return messages


# ---- what crosses the border ----


@pytest.mark.parametrize("kind", PARTS, ids=lambda kind: kind.__name__)
def test_a_part_tells_the_page_its_bench_and_nothing_of_the_brake(kind):
    """Beside what every anywidget syncs, a part holds one trait: the key of its bench."""
    import anywidget

    every = set(anywidget.AnyWidget().keys)
    assert set(kind(table(), table_key="k").keys) - every <= {"table_key", "_esm", "_css"}


def test_two_brakes_that_look_alike_cannot_be_told_apart_from_what_the_page_gets(sent):
    """Gap, disc and dust differ; state and first message are the same to the letter."""
    benches = table(), table(Plane(0.71, 0.11, -0.06), disc_mm=9.3, dust_mm=0.05)
    states = [
        [kind(one, table_key="k").get_state(drop_defaults=True) for kind in PARTS]
        for one in benches
    ]
    for state in (*states[0], *states[1]):
        state.pop("layout", None)  # a random name of the library's own layout object
    for one in benches:
        EndView(one, table_key="k").heard({"ask": "everything"})

    assert states[0] == states[1]
    assert json.dumps(sent[0]) == json.dumps(sent[1])


def test_the_page_cannot_move_a_part_to_another_bench():
    """A trait set from the browser is dropped at the border."""
    part = Notes(table(), table_key="mine")
    update = {"method": "update", "state": {"table_key": "yours"}, "buffer_paths": []}
    part._handle_msg({"content": {"data": update}, "buffers": []})

    assert part.table_key == "mine"


def test_the_parts_of_one_page_belong_together_and_to_no_other_page():
    """Two benches on one page have a key each, shared by their own parts."""

    def keys(widget) -> set[str]:
        own = {widget.table_key} if isinstance(widget, Part) else set()
        return own.union(*(keys(child) for child in getattr(widget, "children", ())))

    first, second = keys(bench_page(table())), keys(bench_page(table()))
    assert len(first) == len(second) == 1
    assert first != second


def test_a_wish_from_the_page_is_carried_out_and_answered_once(sent):
    """One message with the new scene for the whole page; it goes to the part that wished."""
    bench = table()
    parts = [kind(bench, table_key="k") for kind in PARTS]
    parts[0].heard({"wish": {"kind": "land_load"}})

    assert [message["scene"]["load_landed"] for message in sent] == [True]


def test_what_no_part_asked_for_is_shown_to_all_of_them(sent):
    """A step that the kernel takes by itself, before any part was heard, is sent to each."""
    bench = table()
    parts = [kind(bench, table_key="k") for kind in PARTS]
    bench.session.wish({"kind": "land_load"})

    assert len(sent) == len(parts)
    assert all(message["scene"]["load_landed"] for message in sent)


def test_a_refusal_is_told_once_and_shows_no_scene(sent):
    """The cover cannot be put on twice: one sentence for the page, nothing else."""
    bench = table()
    parts = [kind(bench, table_key="k") for kind in PARTS]
    parts[2].heard({"wish": {"kind": "refit_cover"}})

    assert [tuple(message) for message in sent] == [("reply",)]
    assert all(not message["reply"]["done"] for message in sent)
    assert bench.session.state.step == 0


def test_a_refusal_at_one_bench_is_not_heard_at_another(sent):
    """Two benches on a page: the second stays silent."""
    first, second = table(), table()
    parts = [Notes(one, table_key="k") for one in (first, second)]
    told = []
    parts[1].send = told.append
    parts[0].heard({"wish": {"kind": "refit_cover"}})

    assert len(sent) == 1
    assert told == []


# ---- what the page can wish, and in what words ----


def test_the_page_offers_every_action_of_the_bench_and_no_other():
    """What the modules wish for is what the bench can do."""
    kinds = {member.kind for member in get_args(Action)}
    named = set(re.findall(r'"([a-z_]+)"', text_of("*.js")))
    wished = set(re.findall(r'wish\("([a-z_]+)"', text_of("*.js")))

    assert kinds <= named
    assert wished <= kinds


@node
def test_every_key_of_the_hands_and_of_the_tray_wishes_what_the_bench_can_read(modules):
    """Kind and fields of each key are an action, down to the spelling of a choice."""
    script = (
        f"import {{ LINES, PUT_BACK }} from '{(modules / 'tools' / 'acts.js').as_uri()}';"
        "const acts = [...Object.values(LINES).map((line) => line[2]), ...Object.values(PUT_BACK)];"
        "console.log(JSON.stringify(acts.flat().map(([, kind, fields]) => ({ kind, ...fields }))));"
    )
    run = subprocess.run(
        ["node", "--input-type=module", "-e", script], capture_output=True, text=True, check=True
    )
    wishes = [to_json(from_json(wish)) for wish in json.loads(run.stdout)]

    assert len({wish["kind"] for wish in wishes}) > 25


def test_every_key_that_must_be_turned_the_right_way_has_its_wrong_way_beside_it():
    """Reversed, off its key, lip out, by the wrench, on the alternating side: all are offered."""
    text = text_of("*.js")
    wrong = ["on_key: false", "smooth_to_disc: false", 'by: "wrench"', 'side: "ac"', '"forced"']
    wrong += ["seated: false", '"brake", "Collar to the brake"', '"solvent"', '"air_blast"']

    assert [one for one in wrong if one not in text] == []


@pytest.mark.parametrize(
    ("module", "name", "many"),
    [
        ("tools/acts.js", "CLEAN_WITH", 5),
        ("tools/fitting.js", "WAYS", 2),
        ("panels/report.js", "OUTCOMES", 4),
    ],
)
def test_the_order_of_the_choices_gives_no_answer_away(module, name, many):
    """Ways to clean, ways round and outcomes stand in alphabetical order."""
    text = (VIEW / module).read_text(encoding="utf-8")
    block = re.search(rf"const {name} = (\[.*?\]);", text, re.DOTALL).group(1)
    words = re.findall(r'\["\w+", "([^"]+)"\]', block)

    assert len(words) == many
    assert words == sorted(words)


def test_nothing_of_the_side_view_follows_from_a_length():
    """The section takes yes, no and names from a scene: no field in mm, and no turn of a screw."""
    for module in ("section", "section_parts", "standing", "hatching", "../panels/parts_key"):
        text = (
            (VIEW / "drawing" / f"{module}.js")
            .read_text(encoding="utf-8")
            .replace("wear_plate_mm === 0", "")
        )

        assert not re.search(r"\w+_mm\b|turned_deg|gap_notes|disc_notes", text), module


def test_no_torque_and_no_reading_is_filled_in_for_the_person_from_the_sheet():
    """The limits are read by a person: only the sheet and the ring know the fields of a row."""
    users = {
        module.name
        for module in MODULES
        if re.search(
            r"retaining_torque_nm|gap_setting_mm|gap_max_mm|disc_min_mm", module.read_text()
        )
    }
    assert users == {"limits.js", "ring.js"}


# ---- what the modules and styles may hold ----


@pytest.mark.parametrize("module", MODULES, ids=lambda module: module.name)
def test_a_module_makes_no_markup_reaches_no_network_and_leaves_no_globals(module):
    """None of the words for it occurs."""
    forbidden = (
        r"innerHTML|outerHTML|insertAdjacentHTML|document\.write|\beval\b|new Function|fetch\(|"
        r"XMLHttpRequest|WebSocket|https?://(?!www\.w3\.org/2000/svg)|globalThis|window\.|"
        r"getElementById|\bid:|localStorage|sessionStorage|console\."
    )
    assert not re.search(forbidden, module.read_text(encoding="utf-8"))


@pytest.mark.parametrize("module", MODULES, ids=lambda module: module.name)
def test_a_module_is_small_and_says_first_what_it_does(module):
    """It starts with a comment and stays within a few screens."""
    lines = module.read_text(encoding="utf-8").splitlines()
    assert lines[0].startswith("// ")
    assert len(lines) < LONGEST_MODULE


@pytest.mark.parametrize(
    "style", sorted([*VIEW.rglob("*.css"), *PAGE.glob("style.css")]), ids=lambda style: style.name
)
def test_every_rule_of_a_style_is_for_the_bench_alone(style):
    """Each selector starts with a class of ours, so that the page around it is left alone."""
    text = re.sub(r"/\*.*?\*/", "", style.read_text(encoding="utf-8"), flags=re.DOTALL)
    selectors = [part.strip() for part in re.findall(r"([^{}]+)\{", text)]
    rules = [one for one in selectors if not one.startswith("@")]

    assert rules
    assert all(re.match(r"\.gal(-\w+)?\b", one) for rule in rules for one in split_selectors(rule))


def split_selectors(rule: str) -> list[str]:
    """Return the selectors of a list, leaving commas in brackets alone."""
    return [one.strip() for one in re.split(r",(?![^()]*\))", rule)]


@node
@pytest.mark.parametrize("name", PAGES)
def test_a_joined_module_is_one_valid_module_without_imports(name, tmp_path):
    """Node reads what the browser gets; nothing in it waits for a neighbour."""
    module = tmp_path / f"{name}.mjs"
    module.write_text(joined_file(VIEW / "panels" / f"{name}.js"), encoding="utf-8")
    checked = subprocess.run(["node", "--check", module], capture_output=True, text=True)

    assert checked.returncode == 0, checked.stderr
    assert not re.search(r"^import ", module.read_text(encoding="utf-8"), re.MULTILINE)


@node
@pytest.mark.parametrize("name", PAGES)
def test_a_joined_module_offers_a_render_function(name, tmp_path):
    """Its default export is what anywidget asks for."""
    module = tmp_path / f"{name}.mjs"
    module.write_text(joined_file(VIEW / "panels" / f"{name}.js"), encoding="utf-8")
    script = f"import part from '{module.as_uri()}'; if (typeof part.render !== 'function') throw 1"
    run = subprocess.run(["node", "--input-type=module", "-e", script], capture_output=True)

    assert run.returncode == 0, run.stderr


def test_a_module_that_two_others_import_is_joined_once():
    """The end view's many modules share one copy of the element maker."""
    assert joined_file(VIEW / "panels" / "end_view.js").count("const from_dom =") == 1


def test_a_module_that_is_not_there_is_refused():
    """A mistyped name does not become an empty page."""
    with pytest.raises(FileNotFoundError):
        joined_file(VIEW / "panels" / "end_veiw.js")


@node
def test_the_pure_parts_of_the_page_pass_their_own_tests(modules):
    """Node's test runner finds no fault in angles, readings, stages, parts and the line."""
    tests = modules.parents[2] / "tests" / "bench" / "js"
    shutil.copytree(JS_TESTS, tests)
    files = sorted(tests.glob("*.test.mjs"))
    run = subprocess.run(["node", "--test", *files], capture_output=True, text=True)

    assert files
    assert run.returncode == 0, run.stdout[-3000:]
