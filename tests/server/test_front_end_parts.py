"""Which parts the front end asks for: read from bundles made here, and from those installed."""

import sys
from pathlib import Path

import pytest
from voila.utils import get_voila_labextensions_path

from quizzes.server.front_end import joined
from quizzes.server.front_end_parts import ALWAYS_USED, BUNDLES, MAIN, parts_asked_for

STATIC = Path(sys.prefix, "share", "jupyter", "voila", "templates", "base", "static")
MANAGER, OTHER = (f"labextensions/{name}/static" for name in (BUNDLES[0], BUNDLES[2]))


@pytest.fixture
def installed(tmp_path):
    """Return folders with a front end and two extensions, their lists in both ways of writing."""
    static, extensions = tmp_path / "static", tmp_path / "labextensions"
    static.mkdir()
    (static / "voila.js").write_text(
        '{1:(e,t,r)=>{"use strict";Promise.all([r.e(10),r.e(11)]).then(r.bind(r,11))}};'
        'i("@a/shared","4.2.5",(()=>Promise.all([x.e(12),x.e(13)]).then((()=>()=>x(5)))));'
        'i("@a/alone","1.0.0",(()=>x.e(14).then((()=>()=>x(6)))));'
        'y={501:()=>c("default","@a/shared",!1,[1,4,2,5],(()=>x.e(15).then((()=>()=>x(5)))))},'
        "P={10:[501],13:[502]},j={}"
    )
    for part in (11, 12, 14, 15, 16, 17):
        (static / f"{part}.voila.js").write_text("x.e(17)")
    (static / "12.voila.js").write_text(f"{{id:{ALWAYS_USED},later:()=>x.e(16)}}")
    manager, other = (extensions / name / "static" for name in (BUNDLES[0], BUNDLES[2]))
    for folder in (manager, other):
        folder.mkdir(parents=True)
    (manager / "remoteEntry.aa11.js").write_text(
        't={"./index":()=>Promise.all([n.e(20),n.e(21)]).then(()=>()=>n(1))};'
        '{default:[{name:"@b/base",version:"6.0.12",factory:()=>I.e(22).then(()=>()=>I(2)),eager:0}]}'
        'chunkMapping:{20:["900"]},{900:{shareScope:"default",shareKey:"@a/shared",import:null}}'
    )
    (other / "remoteEntry.bb22.js").write_text(
        '{\n"./extension": () => {\nreturn Promise.all([__webpack_require__.e("2"), '
        '__webpack_require__.e("30")]).then(() => (1));\n},\n};\n'
        '{ chunkMapping: {"30":["319"]}, map: {"319": { shareScope: "default", '
        'shareKey: "@b/base", import: null }} }'
    )
    for folder, part in ((manager, 20), (manager, 21), (manager, 22), (other, 2), (other, 30)):
        (folder / f"{part}.0f.js").write_text("")
    return static, extensions


def test_what_is_asked_for_is_followed_from_bundle_to_bundle(installed):
    """Parts of taken modules come from whom they are shared by; 14, 15 and 17 no page asks for."""
    static, extensions = installed
    parts = parts_asked_for([static], [extensions])

    assert set(parts) == {
        *(f"static/{part}.voila.js" for part in (11, 12, 16)),
        *(f"{MANAGER}/{part}.*.js" for part in (20, 21, 22)),
        *(f"{OTHER}/{part}.*.js" for part in (2, 30)),
        MAIN,
    }
    assert parts[-1] == MAIN
    assert len(set(parts)) == len(parts)


def test_without_its_first_script_nothing_is_asked_for(installed):
    """Then a page loads what the library gives it, and no script of ours."""
    static, extensions = installed
    (static / "voila.js").unlink()

    assert parts_asked_for([static], [extensions]) == ()
    assert parts_asked_for([], []) == ()


@pytest.mark.parametrize("text", ["", "{{{[[[", "x.e(1)" * 1000, '"use strict";Promise.all(['])
def test_lists_that_are_written_otherwise_leave_parts_out_and_break_nothing(installed, text):
    """The front end asks for them itself."""
    static, extensions = installed
    for first in (static / "voila.js", *extensions.rglob("remoteEntry.*.js")):
        first.write_text(text)

    assert parts_asked_for([static], [extensions]) == (MAIN,)


def test_the_installed_front_end_is_joined_of_many_parts():
    """Its page is made of scores of them; a page with more is seen in tests/browser."""
    extensions = [Path(folder) for folder in get_voila_labextensions_path()]
    parts = parts_asked_for([STATIC], extensions)

    assert len(parts) > 50
    assert sum(part.startswith("labextensions/") for part in parts) >= len(BUNDLES)
    assert joined(parts, [STATIC], extensions).name
