"""The contracts on imports: in a small tree of empty packages each refuses what it is there for."""

import os
import re
import subprocess
import sys
import tomllib
from pathlib import Path

import pytest

SETTINGS = Path(__file__).parents[2] / "pyproject.toml"
CONTRACTS = tomllib.loads(SETTINGS.read_text(encoding="utf-8"))["tool"]["importlinter"]["contracts"]


def layers_of(contract: dict) -> list[list[str]]:
    """Return the modules of each layer, the highest first, with their container."""
    (container,) = contract.get("containers", [""])
    inside = f"{container}." if container else ""
    return [[inside + name for name in layer.split(" | ")] for layer in contract["layers"]]


def modules() -> set[str]:
    """Return every module of ours that a contract names."""
    named = set()
    for contract in CONTRACTS:
        if contract["type"] == "layers":
            named |= {name for layer in layers_of(contract) for name in layer}
        else:
            named |= set(contract["source_modules"])
    return named


def bad_import(contract: dict) -> tuple[str, str]:
    """Return a module and what it must not import: the top from the bottom, or what is forbidden."""
    if contract["type"] == "layers":
        layers = layers_of(contract)
        return layers[-1][0], layers[0][0]
    return contract["source_modules"][-1], contract["forbidden_modules"][0]


def looked_at(folder: Path, imports: list[tuple[str, str]]) -> dict[str, str]:
    """Return what the linter says of each contract in a tree with these imports and no other."""
    for name in modules():
        package = folder.joinpath(*name.split("."))
        package.mkdir(parents=True, exist_ok=True)
        for place in (package, *package.relative_to(folder).parents[:-1]):
            (folder / place / "__init__.py").touch()
    for name, wanted in imports:
        with folder.joinpath(*name.split("."), "__init__.py").open("a") as module:
            module.write(f"import {wanted}\n")
    tool = Path(sys.executable).with_name("lint-imports")
    done = subprocess.run(
        [str(tool), "--config", str(SETTINGS), "--no-cache"],
        cwd=folder,
        env=os.environ | {"PYTHONPATH": str(folder), "NO_COLOR": "1", "COLUMNS": "160"},
        capture_output=True,
        text=True,
        timeout=60,
    )
    return dict(re.findall(r"^(.+) (KEPT|BROKEN)\b", done.stdout, re.MULTILINE))


@pytest.mark.parametrize("state", ["KEPT", "BROKEN"])
def test_a_contract_is_broken_by_what_it_is_there_to_refuse(tmp_path, state):
    """Empty packages keep every contract; with one bad import for each, each is broken."""
    bad = [bad_import(contract) for contract in CONTRACTS] if state == "BROKEN" else []

    assert looked_at(tmp_path, bad) == {contract["name"]: state for contract in CONTRACTS}
