"""Pages as they stand before anybody opens them: read, and their template set up, once.

The library does both again for every visitor, which takes longer than forking the kernel.
"""

import json
from collections.abc import AsyncIterator, Awaitable, Callable
from copy import deepcopy
from dataclasses import dataclass
from pathlib import Path
from typing import Any

import nbformat
from nbformat import NotebookNode
from tornado.web import HTTPError
from voila.notebook_renderer import NotebookRenderer
from voila.utils import get_page_config

from quizzes.server.templates import SuiteExporter

Outputs = list[dict[str, Any]]
ENDING = ".ipynb"


@dataclass(frozen=True)
class KeptPage:
    """A notebook, read and with its template ready.

    Parameters
    ----------
    notebook : NotebookNode
        Without outputs.
    exporter : SuiteExporter
        Holds the template and its filters.
    resources, page_config : dict
        What the template asks for.
    stamp : tuple of int
        The file's time and size when it was read.
    name : str
        Its path from the pages' folder on.
    """

    notebook: NotebookNode
    exporter: SuiteExporter
    resources: dict[str, Any]
    page_config: dict[str, Any]
    stamp: tuple[int, int]
    name: str

    @property
    def sources(self) -> tuple[str, ...]:
        """What the kernel has to run."""
        return tuple(cell.source for cell in self.notebook.cells if cell.cell_type == "code")

    async def pieces(
        self, begin: Callable[[], Awaitable[str]], shown: Callable[[], Awaitable[Outputs]]
    ) -> AsyncIterator[str]:
        """Yield the page, piece by piece.

        Parameters
        ----------
        begin : callable
            Returns a kernel's number, once there is one; asked first.
        shown : callable
            Returns what the next cell shows, once it has.

        Yields
        ------
        str
            HTML; an empty string where what comes next has to be waited for.
        """

        async def kernel_start(_notebook: NotebookNode) -> str:
            return await begin()

        async def cells(notebook: NotebookNode, _kernel_id: str) -> AsyncIterator[NotebookNode]:
            for cell in notebook.cells:
                if cell.cell_type != "code":
                    yield cell
                    continue
                outputs = await shown()
                yield nbformat.from_dict({**cell, "outputs": outputs})  # type: ignore[no-untyped-call]
                if any(output["output_type"] == "error" for output in outputs):
                    return

        async for piece in self.exporter.template.generate_async(
            nb=self.notebook,
            resources=self.resources,
            frontend="voila",
            main_js="voila.js",
            kernel_start=kernel_start,
            cell_generator=cells,
            progressive_rendering=False,
            static_url=self.exporter.static_url,
            page_config=self.page_config,
        ):
            yield piece


class KeptPages:
    """All pages that have been asked for.

    Parameters
    ----------
    folder : Path
        Where the notebooks are.
    """

    def __init__(self, folder: Path) -> None:
        self._folder = folder.resolve()
        self._kept: dict[str, KeptPage] = {}
        self._configuration: dict[str, Any] | None = None

    async def page(self, name: str, handler: Any) -> KeptPage:  # noqa: ANN401 - the library's handler
        """Return a page, read again if its file has changed.

        Parameters
        ----------
        name : str
            The notebook's path from the folder on.
        handler : VoilaHandler
            Whose settings say how pages look.

        Raises
        ------
        HTTPError
            404 if there is no such notebook, 500 if it cannot be read.
        """
        try:
            path = (self._folder / name).resolve()
            there = path.suffix == ENDING and self._folder in path.parents and path.is_file()
        except (OSError, ValueError):  # no name of a file: too long, or with a sign that none has
            there = False
        if not there:
            raise HTTPError(404, "no page at %r", name)
        name = path.relative_to(
            self._folder
        ).as_posix()  # one name for each, however it was asked for
        about = path.stat()
        stamp = about.st_mtime_ns, about.st_size
        kept = self._kept.get(name)
        if kept is None or kept.stamp != stamp:
            kept = self._kept[name] = await self._read(name, stamp, handler)
        return kept

    def forget(self) -> None:
        """Read all pages again: what their header shows has changed."""
        self._kept.clear()

    async def _read(self, name: str, stamp: tuple[int, int], handler: Any) -> KeptPage:  # noqa: ANN401 - as above
        if self._configuration is None:
            self._configuration = get_page_config(
                handler.base_url, handler.settings, handler.log, handler.voila_configuration
            )
        page_config = handler.page_config_hook(
            deepcopy(self._configuration), notebook_path=name, settings=handler.settings
        )
        reader = NotebookRenderer(
            request_handler=handler,
            voila_configuration=handler.voila_configuration,
            traitlet_config=handler.traitlet_config,
            notebook_path=name,
            template_paths=handler.template_paths,
            config_manager=handler.config_manager,
            contents_manager=handler.contents_manager,
            base_url=handler.base_url,
            kernel_spec_manager=handler.kernel_spec_manager,
            page_config=page_config,
            mathjax_config=handler.settings.get("mathjax_config"),
            mathjax_url=handler.settings.get("mathjax_url"),
        )
        await reader.initialize(template=None, theme=None)
        exporter: SuiteExporter = reader.exporter
        notebook, resources = exporter.set_up(reader.notebook, reader.resources)
        return KeptPage(notebook, exporter, resources, reader.page_config, stamp, name)


def outputs_of(line: bytes) -> Outputs:
    """Return what a line from a kernel's first run says that a cell shows."""
    said: Outputs = json.loads(line)
    return said
