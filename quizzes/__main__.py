"""The command line: `python -m quizzes serve`."""

import argparse
import sys
from collections.abc import Sequence

from quizzes.desks.serving.command import serve


def main(arguments: Sequence[str] | None = None) -> int:
    """Do what the command line asks and return the exit code.

    Parameters
    ----------
    arguments : sequence of str, optional
        The words after `python -m quizzes`; those of the process if left out.

    Returns
    -------
    int
        0 when stopped as asked, 1 when something failed, 2 when refused.
    """
    asked = _parser().parse_args(arguments)
    return serve(asked.port, asked.records, demo=asked.demo)


def _parser() -> argparse.ArgumentParser:
    parser = argparse.ArgumentParser(
        prog="python -m quizzes",
        description="Gap and Lining: practise and assess the care of spring-applied hoist brakes.",
    )
    commands = parser.add_subparsers(required=True, metavar="COMMAND")
    serving = commands.add_parser("serve", help="serve the pages on this machine until Ctrl-C")
    serving.add_argument(
        "--demo", action="store_true", help="show an invented class from a throw-away record store"
    )
    serving.add_argument(
        "--port", type=_port, default=8866, help="port on 127.0.0.1 (default: %(default)s)"
    )
    serving.add_argument(
        "--records",
        metavar="URL",
        help="SQLAlchemy URL of the record store (default: GAL_RECORDS, else a file of this user)",
    )
    return parser


def _port(word: str) -> int:
    port = int(word) if word.isascii() and word.isdigit() else 0
    if not 1 <= port <= 65535:
        raise argparse.ArgumentTypeError(f"a port is a number from 1 to 65535, got {word!r}")
    return port


if __name__ == "__main__":
    sys.exit(main())
