"""The command line: `python -m quizzes serve`, and the assessor's tools beside it."""
# ruff: noqa: E402 (a signal is to be heard before the imports)

import _signal  # type: ignore[import-not-found]  # the built-in half of `signal`, there at once
import os


def _stop(*_signal: object) -> None:
    """End quietly: told to stop before there is anything to end."""
    os._exit(0)


if __name__ == "__main__":
    # First of all: imports take a while, and a signal in them would be told as a traceback.
    _signal.signal(_signal.SIGINT, _stop)
    _signal.signal(_signal.SIGTERM, _stop)

import argparse
import logging
import signal
import sys
from collections.abc import Sequence
from pathlib import Path

from quizzes.arguments import parser

KEEPING = ("backup", "restore", "import", "people", "erase")


def main(arguments: Sequence[str] | None = None) -> int:
    """Do what the command line asks and return the exit code.

    Parameters
    ----------
    arguments : sequence of str, optional
        The words after `python -m quizzes`; those of the process if left out.

    Returns
    -------
    int
        0 when stopped as asked, 1 when something failed, 2 when refused; `verify` has more.
    """
    asked = parser().parse_args(arguments)
    if asked.command == "serve":
        from quizzes.server.serving import Wish, serve  # noqa: PLC0415 (late: slow to import)

        room = None
        if asked.classroom is not None:
            room = Wish(asked.classroom, asked.certificate, asked.key, asked.day_certificate)
        elif asked.certificate or asked.key or asked.day_certificate:
            sys.stderr.write("A certificate is for --classroom, which was left out.\n")
            return 2
        if asked.questions:
            os.environ["GAL_QUESTIONS"] = str(Path(asked.questions).absolute())
        header = asked.identity_header
        return serve(asked.port, asked.records, demo=asked.demo, room=room, identity_header=header)
    if signal.getsignal(signal.SIGINT) is _stop:  # what works with others has to end them too
        signal.signal(signal.SIGINT, signal.default_int_handler)
        signal.signal(signal.SIGTERM, signal.SIG_DFL)
    # What went wrong is said once, by the command; without this it would be printed as well.
    logging.getLogger("gap_and_lining").addHandler(logging.NullHandler())
    if asked.command in ("verify", "keys", "head"):
        return _signatures(asked)
    return _run(asked)


def _run(asked: argparse.Namespace) -> int:
    """Do one of the other commands; each imports what it needs and no more."""
    if asked.command in KEEPING:
        from quizzes.records.keeping.command import keeping_command  # noqa: PLC0415 (late)

        return keeping_command(vars(asked))
    if asked.command == "hand-out":
        from quizzes.desks.assessor.handing_out import hand_out_command  # noqa: PLC0415 (late)

        return hand_out_command(vars(asked))
    if asked.command == "rehearse":
        from quizzes.candidates.rehearsed.command import rehearse_command  # noqa: PLC0415 (late)

        return rehearse_command(vars(asked))
    from quizzes import commands  # noqa: PLC0415 (late: slow to import)

    run = {
        "replay": commands.replay_command,
        "export": commands.export_command,
        "sittings": commands.sittings_command,
        "lint": commands.lint_bank_command,
        "minutes": commands.minutes_command,
        "panel": commands.panel_command,
    }[asked.command]
    return run(vars(asked))


def _signatures(asked: argparse.Namespace) -> int:
    """Do what has to do with signatures; it needs no SciPy, and a store only for heads."""
    if asked.command == "keys":
        from quizzes.records.keys.command import keys_command  # noqa: PLC0415 (late)

        return keys_command(vars(asked))
    if asked.command == "verify" and asked.file:
        from quizzes.records.credentials.command import verify_command  # noqa: PLC0415 (late)

        return verify_command(vars(asked))
    from quizzes.records.auditing import command  # noqa: PLC0415 (late)

    store = command.head_command if asked.command == "head" else command.verify_store_command
    return store(vars(asked))


if __name__ == "__main__":
    sys.exit(main())
