"""Pictures of signs: each one named is drawn, and each is a symptom that the bench knows."""

import json
import shutil
import subprocess
from pathlib import Path

import pytest

from quizzes.desks.explorers.signs import SIGNS, signs
from widgets.bench.symptoms import SYMPTOMS

ROOT = Path(__file__).parents[3]
LISTED = """
global.document = { createElementNS: () => ({ setAttribute() {}, append() {} }) };
const { isDrawn, sign } = await import(process.argv[1]);
const names = JSON.parse(process.argv[2]);
names.filter(isDrawn).forEach(sign);
console.log(JSON.stringify(names.filter((name) => !isDrawn(name))));
"""


@pytest.mark.skipif(shutil.which("node") is None, reason="node is not installed")
def test_each_sign_is_drawn_by_the_script_that_the_bench_uses(tmp_path):
    """One drawing for lesson and bench; what has none is not named."""
    folder = tmp_path / "widgets"
    bare = shutil.ignore_patterns("*.py", "__pycache__")
    shutil.copytree(ROOT / "widgets" / "page", folder / "page", ignore=bare)
    shutil.copytree(ROOT / "widgets" / "bench" / "view", folder / "bench" / "view", ignore=bare)
    (tmp_path / "package.json").write_text('{"type": "module"}')
    module = folder / "bench" / "view" / "drawing" / "sign_pictures.js"
    asked = ["node", "--input-type=module", "-e", LISTED, module.as_uri(), json.dumps(list(SIGNS))]
    run = subprocess.run(asked, capture_output=True, text=True)

    assert run.returncode == 0, run.stderr[-1000:]
    assert json.loads(run.stdout) == []


def test_each_sign_but_the_sound_one_is_a_symptom_of_the_bench():
    """A picture that nobody could meet would teach nothing."""
    assert set(SIGNS) - {"sound"} <= {symptom.code for symptom in SYMPTOMS}


@pytest.mark.parametrize("codes", [(), ("sound", "no-such-sign")])
def test_a_sign_that_is_not_there_is_refused_by_name(codes):
    """The sentence names what there is."""
    with pytest.raises(ValueError, match="codes must be of sound"):
        signs(*codes)


def test_the_page_gets_names_and_words_when_it_asks():
    """Nothing is sent before, and nothing for any other question."""
    panel, sent = signs("sound", "dust-caked"), []
    panel.send = sent.append
    panel._hear({"ask": "truth"})
    panel._hear({"ask": "signs"})

    assert [code for code, _, _ in sent[0]["signs"]] == ["sound", "dust-caked"]
    assert len(sent) == 1
