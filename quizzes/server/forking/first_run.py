"""A page's cells, run by its own kernel before anybody listens, and what each of them shows."""

import io
import json
import os
import sys
from collections.abc import Iterable, Iterator
from contextlib import contextmanager
from typing import Any

SHOWN = ("display_data", "execute_result")
BROKEN = {"output_type": "error", "ename": "PageTroubleError", "evalue": "", "traceback": []}


class Shown:
    """Collects what one cell shows, in the order in which it does.

    Parameters
    ----------
    shell : InteractiveShell
        The kernel's shell.
    """

    def __init__(self, shell: Any) -> None:  # noqa: ANN401 - IPython is untyped here
        self._shell = shell
        self.outputs: list[dict[str, Any]] = []

    @contextmanager
    def collecting(self) -> Iterator[None]:
        """Keep what is displayed or printed from going out, and collect it."""
        publishers = (self._shell.displayhook, self._shell.display_pub)
        printed, sys.stdout = sys.stdout, Printed(self)
        for publisher in publishers:
            publisher.register_hook(self._displayed)
        try:
            yield
        finally:
            sys.stdout = printed
            for publisher in publishers:
                publisher.unregister_hook(self._displayed)

    def _displayed(self, message: dict[str, Any]) -> dict[str, Any] | None:
        kind, content = message["header"]["msg_type"], message["content"]
        if kind not in SHOWN:
            return message
        output = {"output_type": kind, "data": content["data"], "metadata": content["metadata"]}
        if kind == "execute_result":
            output["execution_count"] = None
        self.outputs.append(output)
        return None

    def printed(self, text: str) -> None:
        """Add text to what was printed last, or begin a new output."""
        last = self.outputs[-1] if self.outputs else {}
        if last.get("output_type") == "stream":
            last["text"] += text
        else:
            self.outputs.append({"output_type": "stream", "name": "stdout", "text": text})


class Printed(io.TextIOBase):
    """What `print` writes to while a cell runs."""

    def __init__(self, shown: Shown) -> None:
        self._shown = shown

    def write(self, text: str) -> int:
        """Take text."""
        if text:
            self._shown.printed(text)
        return len(text)


def run(kernel: Any, cells: Iterable[str]) -> Iterator[list[dict[str, Any]]]:  # noqa: ANN401 - as above
    """Yield what each cell shows; the last one is the first that breaks.

    Parameters
    ----------
    kernel : IPythonKernel
        Whose shell runs them.
    cells : iterable of str
        Their sources.

    Yields
    ------
    list of dict
        Outputs in the notebook format.
    """
    shell = kernel.shell
    kernel.set_parent([], kernel.session.msg("execute_request", {}))
    for source in cells:
        shown = Shown(shell)
        with shown.collecting():
            well = shell.run_cell(source, store_history=False).success
        yield shown.outputs if well else [*shown.outputs, BROKEN]
        if not well:
            return


def answer(kernel: Any, cells: Iterable[str], descriptor: int) -> None:  # noqa: ANN401 - as above
    """Run a page's cells and write what each shows as one line of JSON.

    Parameters
    ----------
    kernel : IPythonKernel
        Whose shell runs them.
    cells : iterable of str
        Their sources.
    descriptor : int
        Where to; closed at the end.
    """
    with os.fdopen(descriptor, "w", encoding="utf-8") as line:
        try:
            for outputs in run(kernel, cells):
                line.write(json.dumps(outputs, default=str) + "\n")
                line.flush()
        except (
            BrokenPipeError
        ):  # the page was left before it stood; nobody will ask for this kernel
            os._exit(0)
