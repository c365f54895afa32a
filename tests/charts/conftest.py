"""What the tests of the living drawing share: the page's own modules, asked by node."""

import json
import shutil
import subprocess
from pathlib import Path

import pytest

ROOT = Path(__file__).parents[2]
VIEW = ROOT / "widgets" / "bench" / "view"
READER = Path(__file__).with_name("js") / "read_living.mjs"


@pytest.fixture(scope="session")
def shown(tmp_path_factory):
    """Ask the page's own modules, run by node, what they would show of a scene."""
    folder = tmp_path_factory.mktemp("living")
    copy = folder / "widgets" / "bench" / "view"
    bare = shutil.ignore_patterns("*.py", "__pycache__")
    shutil.copytree(VIEW, copy, ignore=bare)
    shutil.copytree(ROOT / "widgets" / "page", folder / "widgets" / "page", ignore=bare)
    (folder / "package.json").write_text('{"type": "module"}')

    def ask(scene, asked):
        said = {
            "modules": (copy / "living").as_uri(),
            "tables": scene.tables(),
            "courses": scene.courses(),
            "size": dict(scene.size),
            "asked": asked,
        }
        run = subprocess.run(
            ["node", str(READER)],
            input=json.dumps(said, allow_nan=False),
            capture_output=True,
            text=True,
        )
        assert run.returncode == 0, run.stderr[-2000:]
        return json.loads(run.stdout)

    return ask
