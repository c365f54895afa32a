"""The `serve` command: a record store, a server, one line with the address, a clean end."""

import datetime as dt
import logging
import os
import signal
import sys
import tempfile
from collections.abc import Iterator
from contextlib import contextmanager, nullcontext
from pathlib import Path
from typing import NamedTuple

import quizzes

from .demo_class.at_work import ClassAtWork
from .left_behind import PREFIX, clear_left_behind, held
from .people.how_known import HowKnown
from .room.address import Classroom, NoAddressError, room_address

_LOG = logging.getLogger("gap_and_lining")
LESSONS = Path(quizzes.__file__).parents[1] / "lessons"
TEMPLATE_ROOT = LESSONS / "page"

STOPPED = 0
FAILED = 1
REFUSED = 2


class Wish(NamedTuple):
    """What the trainer asked for the room: its address, and a certificate."""

    address: str = ""
    certificate: str | None = None
    key: str | None = None
    for_a_day: bool = False


def serve(
    port: int,
    records_url: str | None,
    *,
    demo: bool,
    room: Wish | None = None,
    identity_header: str = "",
) -> int:
    """Serve the lessons until told to stop.

    Parameters
    ----------
    port : int
        Port on the loopback address, 1 to 65535.
    records_url : str or None
        Where the records are, as an SQLAlchemy URL; by `GAL_RECORDS` or in the
        platform's data folder if None.
    demo : bool
        Whether to fill a throw-away record store with an invented class.
    room : Wish, optional
        How to serve other machines of the room; this machine alone if left out.
    identity_header : str
        The header in which a proxy on this machine hands over who asks; empty for none.

    Returns
    -------
    int
        The process's exit code: 0 stopped as asked, 1 failed, 2 refused.
    """
    # Voila takes a second to import; `--help` and a refused argument do not have to wait for it.
    from .logfile import start_log  # noqa: PLC0415

    # Until the server stands, either way of stopping unwinds to here.
    try:
        signal.signal(signal.SIGTERM, signal.default_int_handler)
        signal.signal(signal.SIGINT, signal.default_int_handler)
        return _serve(
            port, records_url, start_log(), room, HowKnown(demo, room is not None, identity_header)
        )
    except KeyboardInterrupt:
        return STOPPED
    except RuntimeError as error:
        if not told_to_stop(error):
            raise
        return STOPPED


def told_to_stop(error: RuntimeError) -> bool:
    """Return whether an error is Ctrl-C in disguise: Python 3.11 wraps it in a class being made."""
    return isinstance(error.__cause__, KeyboardInterrupt)


def _serve(
    port: int, records_url: str | None, log_path: Path, room: Wish | None, how: HowKnown
) -> int:
    os.environ.update(GAL_PLACE="web", GAL_LOG=str(log_path))
    os.environ["JUPYTER_PATH"] = _with_first(TEMPLATE_ROOT, os.environ.get("JUPYTER_PATH", ""))
    with _private_folder() as runtime:
        os.environ["IPYTHONDIR"] = str(runtime / "ipython")  # nobody's own start-up files
        os.environ["GAL_PRACTICE"] = str(runtime / "practice")  # gone with it
        refusal = _prepare_limits() or _prepare_records(records_url, runtime, demo=how.demo)
        if refusal:
            return _say(refusal, REFUSED)
        try:
            classroom = _classroom(room, runtime) if room else None
        except NoAddressError as error:
            return _say(str(error), REFUSED)
        with ClassAtWork() if how.demo else nullcontext() as at_work:
            return _run(port, runtime, log_path, classroom, how, at_work)


def _classroom(room: Wish, runtime: Path) -> Classroom:
    """Return where the class will find the server, its certificate read or made."""
    from .room.certificate import certificate_for_a_day, tls  # noqa: PLC0415 (late: slow)

    if bool(room.certificate) != bool(room.key) or (room.for_a_day and room.certificate):
        raise NoAddressError(
            "--certificate and --key go together, and --day-certificate stands for both."
        )
    address = room_address(room.address)
    if room.for_a_day:
        files = certificate_for_a_day(address, runtime, dt.datetime.now(dt.UTC))
    elif room.certificate and room.key:
        files = Path(room.certificate), Path(room.key)
    else:
        return Classroom(address)
    tls(*files)
    return Classroom(address, *files, for_a_day=room.for_a_day)


def _run(  # noqa: PLR0917 (each is one thing that the server needs)
    port: int,
    runtime: Path,
    log_path: Path,
    classroom: Classroom | None,
    how: HowKnown,
    at_work: ClassAtWork | None,
) -> int:
    from quizzes.records.room.rows import CLOSED  # noqa: PLC0415
    from quizzes.records.room.store import RoomStore  # noqa: PLC0415

    from .border.origins import Announced  # noqa: PLC0415
    from .people.identities import Identities  # noqa: PLC0415
    from .room.certificate import mark_of  # noqa: PLC0415
    from .room.poster import told  # noqa: PLC0415
    from .room.store_words import store_words  # noqa: PLC0415
    from .server import NotAnsweringError, NotOursError, PortBusyError, SuiteServer  # noqa: PLC0415
    from .settings import configuration  # noqa: PLC0415

    def tell() -> None:
        scheme = "https" if announced.secure else "http"
        sys.stdout.write(f"Gap and Lining: {scheme}://127.0.0.1:{port}/\n{store}\n")
        if classroom:
            codes = [one.code for one in people.store.classes() if one.state != CLOSED]
            sys.stdout.write(told(classroom, port, mark, codes))
        sys.stdout.flush()

    store = store_words(os.environ["GAL_RECORDS"], demo=how.demo)
    mark = mark_of(classroom.certificate) if classroom and classroom.certificate else ""
    announced = Announced(
        port,
        (classroom.address,) if classroom else (),
        secure=bool(classroom and classroom.secure),
    )

    config = configuration(LESSONS, announced, runtime)
    here = f"{'https' if announced.secure else 'http'}://127.0.0.1:{port}/"
    os.environ["GAL_DOOR"] = classroom.front_door(port) if classroom else here
    people = Identities(RoomStore(os.environ["GAL_RECORDS"]), how)
    server = SuiteServer(tell, announced, people, classroom, at_work, config=config)
    server.initialize([])
    try:
        server.start()
    except PortBusyError:
        return _say(
            f"Port {port} cannot be used: another program has it, or it is reserved. "
            f"Choose another, for example: python -m quizzes serve --port {_other(port)}",
            REFUSED,
        )
    except NotOursError:
        return _say(
            f"{classroom.address if classroom else 'The address'} is not an address of this "
            "machine. Your system’s network settings show the one it has.",
            REFUSED,
        )
    except NotAnsweringError:
        return _say(f"The server started but its front door did not open. See {log_path}", FAILED)
    return STOPPED


def _prepare_limits() -> str:
    """Look at the trainer's own limits sheet before anybody meets it; return a refusal or ''."""
    from widgets.brake.sizes.sheet import LimitsSheetError, load_sheet  # noqa: PLC0415

    named = os.environ.get("GAL_LIMITS")
    if not named:
        return ""
    # Resolved once, here: a kernel runs in another folder.
    os.environ["GAL_LIMITS"] = str(Path(named).expanduser().resolve())
    try:
        load_sheet(os.environ["GAL_LIMITS"])
    except LimitsSheetError as error:
        return f"The limits sheet named by GAL_LIMITS cannot be used.\n{error}"
    return ""


def _prepare_records(records_url: str | None, runtime: Path, *, demo: bool) -> str:
    """Make the record store ready and tell the kernels where it is; return a refusal or ''."""
    from quizzes import records  # noqa: PLC0415

    if demo and records_url:
        return "--demo keeps its records in a throw-away store: leave --records out."
    asked = f"sqlite:///{(runtime / 'demo.sqlite').as_posix()}" if demo else records_url
    if asked:
        os.environ["GAL_RECORDS"] = asked
    try:
        # Resolved once, here: a kernel runs in another folder.
        url = os.environ["GAL_RECORDS"] = records.default_url()
        records.create(url)
        if demo:
            from quizzes.server.demo_class.people import set_up_room  # noqa: PLC0415

            os.environ["GAL_KEYS"] = str(runtime / "keys")  # of nobody, gone with the store
            set_up_room(url)
        _look_through(url)
    except records.RecordsError as error:
        return str(error)
    return ""


def _look_through(url: str) -> None:
    """Hold the whole ledger against itself and its heads, and say so if something was changed."""
    from quizzes.records import Records  # noqa: PLC0415
    from quizzes.records.auditing.audit import audited  # noqa: PLC0415

    with Records(url) as store:
        found = audited(store)
    if not found.sound:
        _LOG.error("the record store does not hold: %s", " ".join(found.sentences()))
        places = " ".join(found.sentences()[1:6])
        sys.stderr.write(
            f"The record store was changed by something other than this suite. {places}\n"
            "The pages are served all the same; what is affected is marked there and "
            "counts for nothing. For the whole list: python -m quizzes verify\n"
        )


@contextmanager
def _private_folder() -> Iterator[Path]:
    """Yield a folder of our own, readable by nobody else, gone afterwards."""
    # Sockets live in it, whose paths may have about 100 characters; some platforms' own
    # temporary folders are too long for that.
    short = "/tmp" if os.name == "posix" and os.access("/tmp", os.W_OK) else None  # noqa: S108
    clear_left_behind(Path(short or tempfile.gettempdir()))
    with (
        tempfile.TemporaryDirectory(prefix=PREFIX, dir=short, ignore_cleanup_errors=True) as name,
        held(Path(name)),
    ):
        yield Path(name)


def _with_first(folder: Path, others: str) -> str:
    return os.pathsep.join(part for part in (str(folder), others) if part)


def _other(port: int) -> int:
    return port + 1 if port < 65535 else port - 1


def _say(sentence: str, exit_code: int) -> int:
    sys.stderr.write(sentence + "\n")
    return exit_code
