"""The still drawings of the front door and of the wait are the bench's own section."""

import shutil
import subprocess
from pathlib import Path

import pytest

ROOT = Path(__file__).parents[2]
TEMPLATE = ROOT / "lessons" / "page" / "voila" / "templates" / "suite"
DRAWER = Path(__file__).parent / "js" / "draw_section.mjs"


@pytest.mark.skipif(shutil.which("node") is None, reason="node is not installed")
@pytest.mark.parametrize("name", ["section", "wait"])
def test_a_still_drawing_is_made_from_the_shapes_of_the_bench(name, tmp_path):
    """One brake in the suite: a shape that moves on the bench moves here, or this says so."""
    bare = shutil.ignore_patterns("*.py", "__pycache__")
    shutil.copytree(ROOT / "widgets" / "page", tmp_path / "widgets" / "page", ignore=bare)
    view = Path("widgets", "bench", "view", "drawing")
    shutil.copytree(ROOT / view, tmp_path / view, ignore=bare)
    (tmp_path / "package.json").write_text('{"type": "module"}')
    drawer = tmp_path / "tests" / "bench" / "js" / DRAWER.name
    drawer.parent.mkdir(parents=True)
    shutil.copy(DRAWER, drawer)
    drawn = subprocess.run(["node", drawer, name], capture_output=True, text=True, check=True)

    assert drawn.stdout == (TEMPLATE / f"{name}.svg").read_text(encoding="utf-8")
