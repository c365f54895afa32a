"""The page template, compiled once and not anew for every page.

The library makes a new template environment for each page and compiles a dozen templates in it,
which takes a tenth of a second before the first byte.
"""

from io import BytesIO

import voila.notebook_renderer
from jinja2 import BytecodeCache, Environment
from jinja2.bccache import Bucket
from voila.exporter import VoilaExporter


class InMemory(BytecodeCache):
    """Compiled templates by their key; one whose source has changed does not match any more."""

    def __init__(self) -> None:
        self._compiled: dict[str, bytes] = {}

    def load_bytecode(self, bucket: Bucket) -> None:
        """Fill a bucket, if its template has been compiled before and is still the same."""
        if compiled := self._compiled.get(bucket.key):
            bucket.load_bytecode(BytesIO(compiled))

    def dump_bytecode(self, bucket: Bucket) -> None:
        """Keep what a bucket holds."""
        self._compiled[bucket.key] = bucket.bytecode_to_string()

    def clear(self) -> None:
        """Forget all."""
        self._compiled.clear()


_TEMPLATES = InMemory()


class SuiteExporter(VoilaExporter):  # type: ignore[misc]  # untyped base
    """Turns a notebook into a page with templates that are compiled once a process."""

    def _create_environment(self) -> Environment:
        environment: Environment = super()._create_environment()
        environment.bytecode_cache = _TEMPLATES
        return environment


def use_suite_exporter() -> None:
    """Let pages be made by our exporter: the library offers no setting for it."""
    voila.notebook_renderer.VoilaExporter = SuiteExporter
