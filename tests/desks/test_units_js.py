"""The switch of units and the words of the lessons: the page's pure scripts, run by Node."""

import json
import shutil
import subprocess
from pathlib import Path

import pytest

ROOT = Path(__file__).parents[2]
STATIC = ROOT / "lessons" / "page" / "voila" / "templates" / "suite" / "static"
TESTS = Path(__file__).with_name("js")
node = pytest.mark.skipif(shutil.which("node") is None, reason="node is not installed")


@pytest.fixture
def as_modules(tmp_path) -> Path:
    """A copy of the scripts and their tests in a folder that Node takes for modules."""
    (tmp_path / "package.json").write_text('{"type": "module"}', encoding="utf-8")
    shutil.copytree(STATIC, tmp_path / STATIC.relative_to(ROOT))
    shutil.copytree(TESTS, tmp_path / TESTS.relative_to(ROOT))
    return tmp_path


@node
def test_the_scripts_pass_their_own_tests(as_modules):
    """Node's test runner finds no fault in units and terms."""
    files = sorted((as_modules / TESTS.relative_to(ROOT)).glob("units*.test.mjs"))
    run = subprocess.run(["node", "--test", *files], capture_output=True, text=True)

    assert len(files) >= 2
    assert run.returncode == 0, run.stdout[-3000:]


@node
def test_inches_agree_with_exact_arithmetic(as_modules):
    """Outside check: decimal quotients by Python's decimal module, the inch being 25.4 mm exactly."""
    from decimal import ROUND_HALF_UP, Decimal

    lengths = [f"{n / 100:.2f}" for n in range(1, 3000, 7)]
    module = (as_modules / STATIC.relative_to(ROOT) / "units.js").as_uri()
    script = f"import {{ inches }} from '{module}'; console.log(JSON.stringify({json.dumps(lengths)}.map((mm) => inches(mm))))"
    run = subprocess.run(
        ["node", "--input-type=module", "-e", script], capture_output=True, text=True, check=True
    )
    steps = [Decimal("0.0001") if Decimal(mm) < 10 else Decimal("0.001") for mm in lengths]
    exact = [
        (Decimal(mm) / Decimal("25.4")).quantize(step, ROUND_HALF_UP)
        for mm, step in zip(lengths, steps, strict=True)
    ]

    assert [Decimal(text) for text in json.loads(run.stdout)] == exact


@node
@pytest.mark.parametrize("script", sorted(STATIC.glob("*.js")), ids=lambda path: path.name)
def test_a_script_of_the_page_can_be_read(script, as_modules):
    """Node parses each script of the template."""
    copy = as_modules / script.relative_to(ROOT)
    checked = subprocess.run(["node", "--check", copy], capture_output=True, text=True)

    assert checked.returncode == 0, checked.stderr
