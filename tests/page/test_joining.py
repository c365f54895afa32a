"""Joining a part's modules: what is understood runs as it did, and everything else is refused."""

import subprocess
from pathlib import Path

import pytest

from widgets.page.joining import JoiningError, joined_file


@pytest.fixture
def joined(tmp_path):
    """Return the joined text of the first of some modules, given by their names."""

    def join(**texts: str) -> str:
        for name, text in texts.items():
            (tmp_path / f"{name}.js").write_text(text, encoding="utf-8")
        return joined_file(tmp_path / f"{next(iter(texts))}.js")

    return join


def run(text: str, tmp_path: Path) -> str:
    """Return what a joined module prints, run by node as the one module it has become."""
    script = tmp_path / "joined.mjs"
    script.write_text(text, encoding="utf-8")
    return subprocess.run(
        ["node", str(script)], capture_output=True, text=True, check=True
    ).stdout.strip()


# the first module, its neighbour, and what the sentence about them must hold
REFUSED = {
    "alias": (
        'import { a as b } from "./other.js";',
        "export const a = 1;",
        "first.js, line 1: expected `import { name }",
    ),
    "star": ('import * as all from "./other.js";', "export const a = 1;", "got `import * as all"),
    "default": ('import a from "./other.js";', "export const a = 1;", "got `import a from"),
    "effect": ('import "./other.js";', "", 'got `import "./other.js";`'),
    "package": ('import { a } from "other";', "", "first.js, line 1"),
    "indented": ('  import { a } from "./other.js";', "export const a = 1;", "first.js, line 1"),
    "second line": ('\n// one\nimport a from "./other.js";', "", "first.js, line 3"),
    "list": (
        'import { a } from "./other.js";',
        "const a = 1;\nexport { a };",
        "other.js, line 2: expected",
    ),
    "list with alias": (
        'import { a } from "./other.js";',
        "const b = 1;\nexport { b as a };",
        "got `export { b as a };`",
    ),
    "from elsewhere": (
        'import { a } from "./other.js";',
        'export { a } from "./third.js";',
        "other.js, line 1",
    ),
    "all from elsewhere": (
        'import { a } from "./other.js";',
        'export * from "./third.js";',
        "other.js, line 1",
    ),
    "unpacked": (
        'import { a } from "./other.js";',
        "export const { a } = { a: 1 };",
        "other.js, line 1",
    ),
    "default below the first": (
        'import { a } from "./other.js";',
        "export const a = 1;\nexport default a;",
        "other.js, line 2",
    ),
    "not exported": (
        'import { a } from "./other.js";',
        "const a = 1;",
        "first.js imports a, which other.js lacks",
    ),
    "circle": (
        'import { a } from "./other.js";\nexport const b = 1;',
        'import { b } from "./first.js";\nexport const a = b;',
        "in a circle: first.js -> other.js -> first.js",
    ),
    "itself": ('import { a } from "./first.js";\nexport const a = 1;', "", "in a circle: first.js"),
}


@pytest.mark.parametrize("form", REFUSED)
def test_a_form_that_is_not_understood_is_refused(joined, form):
    """With the file and, where there is one, the line; nothing is joined wrongly instead."""
    first, other, said = REFUSED[form]
    with pytest.raises(JoiningError) as refused:
        joined(first=first, other=other)

    assert said in str(refused.value)
    assert "\n" not in str(refused.value)


def test_two_files_of_one_name_are_refused(tmp_path):
    """Their scopes would have one name."""
    (tmp_path / "inner").mkdir()
    (tmp_path / "part.js").write_text("export const a = 1;")
    (tmp_path / "inner" / "part.js").write_text("export const b = 2;")
    (tmp_path / "first.js").write_text(
        'import { a } from "./part.js";\nimport { b } from "./inner/part.js";'
    )
    with pytest.raises(JoiningError, match=r"have the same file name; rename one of them"):
        joined_file(tmp_path / "first.js")


def test_a_module_that_is_not_there_is_refused(joined):
    """By the operating system's own error, which names the file."""
    with pytest.raises(FileNotFoundError, match=r"other\.js"):
        joined(first='import { a } from "./other.js";')


def test_every_form_that_is_understood_runs_as_it_did(joined, tmp_path):
    """Names over several lines, let, classes, functions, async ones and generators."""
    text = joined(
        first=(
            'import {\n  count,\n  One,\n  twice,\n  later,\n  each,\n} from "./other.js";\n'
            "console.log(count, new One().name, twice(4), [...each()].join(), await later());\n"
        ),
        other=(
            "export let count = 3;\nexport class One { name = 'one'; }\n"
            "export function twice(n) { return 2 * n; }\n"
            "export async function later() { return 'late'; }\n"
            "export function* each() { yield 1; yield 2; }\n"
        ),
    )  # fmt: skip

    assert run(text, tmp_path) == "3 one 8 1,2 late"


def test_a_neighbour_of_two_is_there_once_and_keeps_its_own_names(joined, tmp_path):
    """What both share is one object; what a module does not export is not seen outside it."""
    text = joined(
        first=(
            'import { left } from "./left.js";\nimport { right } from "./right.js";\n'
            "const own = 'mine';\nconsole.log(left === right, own);\n"
        ),
        left='import { shared } from "./base.js";\nconst own = 1;\nexport const left = shared;',
        right='import { shared } from "./base.js";\nconst own = 2;\nexport const right = shared;',
        base="const own = 3;\nexport const shared = { own };",
    )

    assert text.count("from_base = ") == 1
    assert run(text, tmp_path) == "true mine"


def test_a_comment_may_hold_the_words_import_and_export(joined, tmp_path):
    """At the start of its line as well, in either kind of comment."""
    text = joined(
        first=(
            "// import nothing from nowhere\n/*\nimport of a comment\nexport { of } a comment\n*/\n"
            'import { a } from "./other.js";\nconsole.log(a);\n'
        ),
        other="/* export default\n   export * from here */\nexport const a = 5;",
    )

    assert run(text, tmp_path) == "5"


def test_a_module_loaded_later_is_left_alone(joined):
    """`import(...)` is a call, which the browser makes itself."""
    first = 'const later = () =>\n  import("./elsewhere.js");\n'

    assert joined(first=first) == first


def test_the_first_module_alone_may_have_a_default(joined):
    """It is what the page's part is taken from."""
    text = joined(
        first='import { a } from "./other.js";\nexport default { a };', other="export const a = 1;"
    )

    assert text.endswith("const { a } = from_other;\nexport default { a };")
