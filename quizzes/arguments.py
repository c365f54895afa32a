"""The words of the command line: every command with its options. It imports nothing slow."""

import argparse
import datetime as dt
from typing import Any

HANDED = ("credential", "pdf", "records", "code-book", "learning", "due", "calendar", "status")


def _records_word(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("--records", metavar="URL", help="record store (default: GAL_RECORDS)")


def _classroom_words(serving: argparse.ArgumentParser) -> None:
    serving.add_argument(
        "--classroom",
        nargs="?",
        const="",
        metavar="ADDRESS",
        help="serve the room's other machines too, at this address (found if left out)",
    )
    serving.add_argument("--certificate", metavar="FILE", help="PEM file, for TLS in the room")
    serving.add_argument("--key", metavar="FILE", help="its key, a PEM file")
    serving.add_argument(
        "--day-certificate", action="store_true", help="make a certificate for today"
    )


def parser() -> argparse.ArgumentParser:
    """Return the parser of the whole command line."""
    parser = argparse.ArgumentParser(
        prog="python -m quizzes",
        description="Gap and Lining: practise and assess the care of spring-applied hoist brakes.",
    )
    commands = parser.add_subparsers(dest="command", required=True, metavar="COMMAND")
    serving = commands.add_parser("serve", help="serve the pages on this machine until Ctrl-C")
    serving.add_argument(
        "--demo", action="store_true", help="show an invented class from a throw-away record store"
    )
    serving.add_argument(
        "--port", type=_port, default=8866, help="port on 127.0.0.1 (default: %(default)s)"
    )
    serving.add_argument(
        "--questions", metavar="FOLDER", help="questions of your own (default: GAL_QUESTIONS)"
    )
    _classroom_words(serving)
    serving.add_argument(
        "--identity-header", default="", metavar="NAME", help="header in which a proxy names people"
    )
    serving.add_argument(
        "--records",
        metavar="URL",
        help="SQLAlchemy URL of the record store (default: GAL_RECORDS, else a file of this user)",
    )
    _rehearse_words(commands.add_parser("rehearse", help="rehearse a form with virtual candidates"))
    _replay_words(commands.add_parser("replay", help="grade a stored or exported sitting again"))
    exporting = commands.add_parser(
        "export", help="print a stored sitting as JSON, with its key; or write everything"
    )
    exporting.add_argument("sitting", nargs="?", metavar="ID", help="the sitting's identity")
    exporting.add_argument(
        "--to", metavar="FOLDER", help="a new folder for everything, with a code book"
    )
    _records_word(exporting)
    _verify_words(
        commands.add_parser("verify", help="check the record store, a signed record or a head")
    )
    handing = commands.add_parser("hand-out", help="write records, due list, withdrawals to a file")
    handing.add_argument(
        "what",
        choices=HANDED,
        help="credential and pdf are of one sitting, the others of the whole store",
    )
    handing.add_argument("--to", required=True, metavar="FILE", help="where to write it")
    handing.add_argument("--sitting", metavar="ID", help="the sitting's identity")
    handing.add_argument("--paper", choices=("A4", "Letter"), default="A4", help="of a PDF")
    _records_word(handing)
    _keeping_words(commands)
    listing = commands.add_parser("sittings", help="list every sitting as CSV")
    _records_word(listing)
    heading = commands.add_parser("head", help="sign the ledger and print its head, to be kept")
    heading.add_argument("--file", metavar="FILE", help="write the signed head here, to hand out")
    _records_word(heading)
    _keys_words(commands.add_parser("keys", help="show, make or change the signing key"))
    linting = commands.add_parser("lint", help="look for faults in the questions, ours and yours")
    linting.add_argument(
        "folder", nargs="?", metavar="FOLDER", help="questions of your own (default: GAL_QUESTIONS)"
    )
    _panel_words(commands.add_parser("panel", help="enter a panel of judges, end or show it"))
    commands.add_parser("minutes", help="print the table of minutes that forms are timed by")
    return parser


def _panel_words(parser: argparse.ArgumentParser) -> None:
    what = parser.add_mutually_exclusive_group()
    what.add_argument(
        "file",
        nargs="?",
        metavar="FILE",
        help="a TOML file, entered and in force for new sittings; left out, the panel is shown",
    )
    what.add_argument("--end", metavar="REASON", help="take the panel out of force")
    parser.add_argument("--check", action="store_true", help="read FILE only, and enter nothing")
    _records_word(parser)


def _keeping_words(commands: Any) -> None:  # noqa: ANN401 - argparse names no such type
    words = {
        "backup": "copy the record store into one new file, while people work",
        "restore": "fill an empty record store from a backup",
        "import": "take people from a CSV file: name,number",
        "people": "list people and their last sitting; erase those past your retention period",
        "erase": "erase one person: name, words, photographs; sittings stay under a pseudonym",
    }
    made = {name: commands.add_parser(name, help=said) for name, said in words.items()}
    for parser in made.values():
        _records_word(parser)
    made["backup"].add_argument("--to", required=True, metavar="FILE", help="a new file")
    made["restore"].add_argument("backup", metavar="FILE", help="the file that `backup` wrote")
    made["import"].add_argument("file", metavar="FILE", help="CSV with the columns name,number")
    made["people"].add_argument(
        "--idle-months",
        type=float,
        metavar="N",
        help="people who sat nothing for N months",
    )
    made["people"].add_argument(
        "--erase", action="store_true", help="erase those listed: names, words, photographs"
    )
    made["erase"].add_argument("person", metavar="ID", help="the person's pseudonym")


def _rehearse_words(parser: argparse.ArgumentParser) -> None:
    parser.add_argument(
        "--form", default="full", help="self_check, class_exercise, full, or a blueprint's file"
    )
    parser.add_argument("--n", type=_count, default=100, help="sittings (default: %(default)s)")
    parser.add_argument("--seed", metavar="HEX", help="32 hex digits or more; drawn if left out")
    parser.add_argument("--cores", type=int, default=0, help="cores to use (default: 0, all)")
    parser.add_argument(
        "--limits", metavar="FILE", help="limits sheet (default: GAL_LIMITS, else the invented one)"
    )
    parser.add_argument("--json", action="store_true", help="print the report as JSON")


def _replay_words(parser: argparse.ArgumentParser) -> None:
    which = parser.add_mutually_exclusive_group(required=True)
    which.add_argument("file", nargs="?", help="an exported sitting")
    which.add_argument("--sitting", metavar="ID", help="a stored sitting's identity")
    _records_word(parser)
    parser.add_argument(
        "--export",
        metavar="FILE",
        help="with --sitting: an earlier export to compare the store with",
    )
    parser.add_argument("--edition", help="rules to grade by (default: those of the sitting)")
    parser.add_argument("--json", action="store_true", help="print the outcome as JSON")


def _verify_words(parser: argparse.ArgumentParser) -> None:
    parser.epilog = (
        "Exit codes: 0 good, 1 tampered, 2 unreadable, 3 expired, 4 not yet valid, 5 withdrawn, "
        "6 unknown issuer, 7 the issuer's key cannot be used, 8 the list of withdrawals cannot."
    )
    parser.add_argument(
        "file",
        nargs="?",
        help="a signed record as JSON, the PDF that carries it, or a head, receipt or growth; "
        "left out, the whole record store is audited (0 sound, 1 changed, 2 not readable)",
    )
    parser.add_argument(
        "--head",
        action="append",
        metavar="HEAD",
        help="with the store: a head that somebody kept, as printed on a record or as a file "
        "(may be repeated)",
    )
    parser.add_argument("--records", metavar="URL", help="the store (default: GAL_RECORDS)")
    parser.add_argument(
        "--issuer",
        action="append",
        metavar="KEY",
        help="whom to trust: a list of issuers, a public key in PEM, or did:key:... "
        "(may be repeated; default: the keys of this machine)",
    )
    parser.add_argument("--status", metavar="FILE", help="the issuer's signed list of withdrawals")
    parser.add_argument("--on", type=_day, metavar="DATE", help="day to check for (default: now)")
    parser.add_argument("--json", action="store_true", help="print what was found as JSON")


def _keys_words(parser: argparse.ArgumentParser) -> None:
    what = parser.add_mutually_exclusive_group()
    what.add_argument("--house", metavar="NAME", help="make the first key, for this organisation")
    what.add_argument("--change", action="store_true", help="let a new key take over from the old")
    parser.add_argument(
        "--passphrase",
        action="store_true",
        help="ask for the key's passphrase (else GAL_KEYS_PASSPHRASE, else none)",
    )


def _day(word: str) -> dt.date:
    try:
        return dt.date.fromisoformat(word)
    except ValueError:
        raise argparse.ArgumentTypeError(f"expected a day like 2026-11-28, got {word!r}") from None


def _count(word: str) -> int:
    return _whole(word, 1_000_000, "expected a number from 1 to 1,000,000")


def _port(word: str) -> int:
    return _whole(word, 65535, "a port is a number from 1 to 65535")


def _whole(word: str, most: int, wanted: str) -> int:
    number = int(word) if word.isascii() and word.isdigit() else 0
    if not 1 <= number <= most:
        raise argparse.ArgumentTypeError(f"{wanted}, got {word!r}")
    return number
