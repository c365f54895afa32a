"""The program behind one page: an IPython kernel that logs its errors and opens no network port.

Started by the server as `python -m quizzes.server.kernel_program -f CONNECTION_FILE`.
"""

import importlib
import logging
import os
from typing import Any

from ipykernel import kernelapp
from ipykernel.iostream import IOPubThread
from ipykernel.kernelapp import IPKernelApp

from quizzes.server.tracebacks import log_errors_only


class NoSidePort(IOPubThread):
    """Publishes without the extra TCP port through which forked children would print."""

    def __init__(self, socket: Any, pipe: bool = False, session: Any = False) -> None:  # noqa: ANN401, ARG002, FBT001, FBT002 - the base's signature
        super().__init__(socket, pipe=False, session=session)  # type: ignore[no-untyped-call]


class PageKernel(IPKernelApp):
    """A kernel whose shell keeps its tracebacks; it does not start if that cannot be had."""

    def init_shell(self) -> None:
        """Make the shell, then send its errors to the log."""
        super().init_shell()  # type: ignore[no-untyped-call]
        log_errors_only(self.shell)
        # Its own lines too: on its own way they were neither bounded nor told from forged ones.
        self.log.handlers, self.log.propagate = [], True
        self.log.setLevel(logging.WARNING)  # below it stands what a person answers


# What the pages import: a kernel that stands ready has done so before its page asks.
PAGE_MODULES = (
    "quizzes.desks.apprentice.practice",
    "quizzes.desks.apprentice.assessment",
    "quizzes.desks.assessor.results",
    "quizzes.desks.trainer.stage",
    "quizzes.desks.trainer.guide",
    "quizzes.desks.sheets.job_sheet",
    "quizzes.desks.sheets.limits_sheet",
    "quizzes.desks.glossary.page",
    "quizzes.desks.explorers",
    "quizzes.desks.explorers.living",
    "quizzes.desks.apprentice.lesson_bench",
    "quizzes.desks.apprentice.lesson_proofs",
    "quizzes.desks.apprentice.lesson_runs",
    "quizzes.desks.apprentice.question_panel",
    "quizzes.desks.figure",
    "widgets.charts.brake_stack",
    "widgets.charts.decision_map",
    "widgets.charts.gap_round",
    "widgets.charts.levelling_turns",
    "widgets.charts.lining_section",
    "widgets.charts.near_a_limit",
    "widgets.charts.places_round",
    "widgets.charts.release_over_gap",
    "widgets.charts.reversal_test",
    "widgets.charts.stop_courses",
    "widgets.charts.torque_over_gap",
    "widgets.charts.wear_and_energy",
    "widgets.charts.wear_trend",
    "quizzes.desks.trainer.form_desk",
    "quizzes.desks.explorers.work_explorers",
    "widgets.brake.wear.trend",
    "scipy.special",
    "matplotlib.figure",
    "matplotlib.backends.backend_svg",
)


def warm_up() -> None:
    """Import what pages need; what cannot be imported is the page's own trouble, later."""
    for name in PAGE_MODULES:
        try:
            importlib.import_module(name)
        except Exception:
            logging.getLogger("gap_and_lining.page").exception("could not import %s", name)
    _read_once()


def _read_once() -> None:
    """Read what pages keep once it was read: questions, words explained, limits, forms."""
    from quizzes.desks.glossary.terms import glossary  # noqa: PLC0415 (late: slow to import)
    from quizzes.forms.offered import offers  # noqa: PLC0415
    from quizzes.questions.bank import the_bank  # noqa: PLC0415
    from quizzes.sittings.in_force import sheet_in_force  # noqa: PLC0415

    for read in (the_bank, glossary, sheet_in_force, offers):
        try:
            read()
        except Exception:
            logging.getLogger("gap_and_lining.page").exception("could not read %s", read.__name__)


def use_no_side_port() -> None:
    """Let kernels of this process publish without a port of the network."""
    kernelapp.IOPubThread = NoSidePort  # type: ignore[attr-defined]


def main() -> None:
    """Run until the server ends this kernel."""
    # A widget library that comes later lets the browser open widgets of its own.
    importlib.import_module("ipywidgets")
    if os.environ.get("GAL_WARM"):
        warm_up()
    use_no_side_port()
    PageKernel.launch_instance()


if __name__ == "__main__":
    main()
