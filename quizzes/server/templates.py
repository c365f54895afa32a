"""The page template, compiled once and not again for every page.

The library makes a new template environment for each page and compiles a dozen templates in it,
which takes a tenth of a second before the first byte.
"""

from functools import lru_cache
from io import BytesIO
from typing import Any

import voila.notebook_renderer
import voila.utils
from jinja2 import BytecodeCache, Environment, pass_context
from jinja2.bccache import Bucket
from jinja2.runtime import Context
from nbconvert.exporters.exporter import Exporter
from nbconvert.filters.highlight import Highlight2HTML
from nbconvert.preprocessors.clearoutput import ClearOutputPreprocessor
from nbformat import NotebookNode
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


# What the library's templates ask, and what the exporter calls it.
INCLUDED = {
    "code": "code_cell",
    "markdown": "markdown",
    "raw": "raw",
    "unknown": "unknown",
    "input": "input",
    "output": "output",
    "input_prompt": "input_prompt",
    "output_prompt": "output_prompt",
}


def trusted(output: dict[str, Any]) -> dict[str, Any]:
    """Return an output that the front end may show as it is: our own kernel made it."""
    output["trusted"] = True
    return output


class SuiteExporter(VoilaExporter):  # type: ignore[misc]  # untyped base
    """Turns a notebook into a page with templates that are compiled once a process."""

    def __init__(self, *things: Any, **settings: Any) -> None:  # noqa: ANN401 - as its base takes them
        super().__init__(*things, **settings)
        self._set: dict[str, str] = {}

    @pass_context
    def markdown2html(self, context: Context, source: str) -> str:
        """Return Markdown as HTML, set once for each text without attachments."""
        if context["cell"].get("attachments"):
            return str(super().markdown2html(context, source))
        if source not in self._set:
            self._set[source] = super().markdown2html(context, source)
        return self._set[source]

    def set_up(
        self, notebook: NotebookNode, resources: dict[str, Any]
    ) -> tuple[NotebookNode, dict[str, Any]]:
        """Return a notebook without outputs and what its template needs, for many visitors.

        Parameters
        ----------
        notebook : NotebookNode
            As it was read.
        resources : dict
            What the page's renderer knows.
        """
        highlight: Any = Highlight2HTML
        self.register_filter("highlight_code", highlight(pygments_lexer="python", parent=self))
        self.register_filter("trusted", trusted)
        clear: Any = ClearOutputPreprocessor()  # type: ignore[no-untyped-call]
        bare, _ = clear.preprocess(notebook, {})
        bare, resources = Exporter.from_notebook_node(self, bare, resources)
        resources.setdefault("raw_mimetypes", self.raw_mimetypes)
        resources["global_content_filter"] = {
            f"include_{part}": not getattr(self, f"exclude_{name}")
            for part, name in INCLUDED.items()
        } | {"no_prompt": self.exclude_input_prompt and self.exclude_output_prompt}
        return bare, resources

    def _create_environment(self) -> Environment:
        environment: Environment = super()._create_environment()
        environment.bytecode_cache = _TEMPLATES
        return environment


def use_suite_exporter() -> None:
    """Let pages be made by our exporter: the library offers no setting for it.

    Nor does it keep the addresses of a template's files: it looks through a dozen folders for each
    file of each page.
    """
    voila.notebook_renderer.VoilaExporter = SuiteExporter
    if not hasattr(voila.utils.make_url, "cache_info"):
        voila.utils.make_url = lru_cache(maxsize=256)(voila.utils.make_url)
