"""Which parts the front end asks for, read from what its bundles say of themselves.

A bundle's first script lists the parts that its modules stand in, the modules that it shares
with the other bundles, and those that it takes from them. Followed from where a page begins,
these lists end at the parts that every page asks for. What is read wrongly, because a release
of the library writes its lists otherwise, is left out; the front end then asks for it itself.
"""

import re
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from pathlib import Path

MAIN = "static/voila.js"
EXTENSIONS = "labextensions"  # the other kind of part than `static`
# Whose shared modules count comes first; the others find theirs there.
BUNDLES = ("@jupyter-widgets/jupyterlab-manager", "@voila-dashboards/widgets-manager8", "anywidget")
# A page is typeset when it opens, so that what this plugin asks for later is asked for always.
ALWAYS_USED = '"@jupyterlab/mathjax-extension:plugin"'

_CALLS = r"""(?:Promise\.all\(\[)?(?:[\w$]+\.e\("?\d+"?\),?\s*)+"""
_CALL = re.compile(r"""\.e\("?(\d+)"?\)""")
_ENTRY = re.compile(rf'"use strict";({_CALLS})')
_EXPOSED = re.compile(
    rf'"\./(?:index|extension)":\s*\(\)\s*=>\s*(?:\{{\s*return\s*)?({_CALLS})', re.ASCII
)
_SHARED = re.compile(rf'"([^"]+)",(?:version:)?"\d[^"]*",(?:factory:)?\(?\(\)=>({_CALLS})')
_TAKEN = re.compile(
    r'(\d+)"?:\s*(?:\(\)=>\w+\("default",|\{\s*shareScope:\s*"default",\s*shareKey:\s*)"([^"]+)"'
)
_MODULES_OF_PARTS = re.compile(r'\{(?:"?\d+"?:\s*\[(?:"?\d+"?,?\s*)+\],?\s*)+\}')
_MODULES_OF_PART = re.compile(r'"?(\d+)"?:\s*\[([^\]]+)\]')


@dataclass(frozen=True, slots=True)
class _Bundle:
    """A bundle's lists: how its parts are named, where it begins, and what belongs to what."""

    pattern: str
    folders: tuple[Path, ...]
    begins: tuple[str, ...]
    shared: dict[str, tuple[str, ...]]
    taken: dict[str, tuple[str, ...]]

    def file_of(self, part: str) -> Path | None:
        """Return a part's file; none for a number under which only taken modules stand."""
        name = self.pattern.format(part).partition("/")[2]
        return next((one for folder in self.folders for one in sorted(folder.glob(name))), None)


def parts_asked_for(static: Iterable[Path], extensions: Iterable[Path]) -> tuple[str, ...]:
    """Return the parts that every page asks for, the front end's own first script last.

    Parameters
    ----------
    static, extensions : iterable of Path
        The folders in which each kind is looked for, the first one first.

    Returns
    -------
    tuple of str
        `static/...` or `labextensions/...`, a star for a build's mark; empty if the front end's
        own first script is not there.
    """
    bundles = tuple(_bundles(tuple(static), tuple(extensions)))
    if not bundles or bundles[0].pattern != "static/{}.voila.js":
        return ()
    providers: dict[str, tuple[_Bundle, tuple[str, ...]]] = {}
    for bundle in bundles:
        for name, parts in bundle.shared.items():
            providers.setdefault(name, (bundle, parts))
    found: dict[str, None] = {}
    seen: set[tuple[str, str]] = set()
    ahead = [(bundle, part) for bundle in bundles for part in bundle.begins]
    while ahead:
        bundle, part = ahead.pop()
        if (bundle.pattern, part) in seen:
            continue
        seen.add((bundle.pattern, part))
        file = bundle.file_of(part)
        if file is not None:
            found[bundle.pattern.format(part)] = None
            ahead += [(bundle, one) for one in _used_at_once(file)]
        for name in bundle.taken.get(part, ()):
            if name in providers:
                provider, parts = providers[name]
                ahead += [(provider, one) for one in parts]
    return (*sorted(found), MAIN)


def _bundles(static: tuple[Path, ...], extensions: tuple[Path, ...]) -> Iterator[_Bundle]:
    main = next((file for folder in static if (file := folder / "voila.js").is_file()), None)
    if main is not None:
        yield _read(main, "static/{}.voila.js", static, _ENTRY)
    for name in BUNDLES:
        folders = tuple(folder / name / "static" for folder in extensions)
        first = [one for folder in folders for one in sorted(folder.glob("remoteEntry.*.js"))]
        if first:
            pattern = f"{EXTENSIONS}/{name}/static/{{}}.*.js"
            yield _read(first[0], pattern, extensions, _EXPOSED)


def _read(file: Path, pattern: str, folders: tuple[Path, ...], begin: re.Pattern[str]) -> _Bundle:
    text = file.read_text(encoding="utf-8")
    names = dict(_TAKEN.findall(text))
    taken: dict[str, tuple[str, ...]] = {}
    for table in _MODULES_OF_PARTS.findall(text):
        for part, modules in _MODULES_OF_PART.findall(table):
            numbers = re.findall(r"\d+", modules)
            taken[part] = tuple(names[number] for number in numbers if number in names)
    return _Bundle(
        pattern=pattern,
        folders=folders,
        begins=tuple(part for calls in begin.findall(text) for part in _CALL.findall(calls)),
        shared={name: tuple(_CALL.findall(calls)) for name, calls in _SHARED.findall(text)},
        taken=taken,
    )


def _used_at_once(file: Path) -> list[str]:
    """Return what a part asks for later, if every page has it do so."""
    text = file.read_text(encoding="utf-8")
    return _CALL.findall(text) if ALWAYS_USED in text else []
