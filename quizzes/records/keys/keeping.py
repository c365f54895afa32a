"""Keys on disk: made at first use, for this user's eyes only, changed with a statement by both.

A folder holds `issuer.pem` (the secret, PKCS#8, encrypted if there is a passphrase) and
`issuers.json` (what a verifier needs: the public keys and since when; to be handed out).
"""

import contextlib
import datetime as dt
import json
import os
import secrets
import stat
from collections.abc import Iterator
from pathlib import Path

import platformdirs
from cryptography.hazmat.primitives.asymmetric.ed25519 import Ed25519PrivateKey
from cryptography.hazmat.primitives.serialization import (
    BestAvailableEncryption,
    Encoding,
    KeySerializationEncryption,
    NoEncryption,
    PrivateFormat,
    load_pem_private_key,
)

from quizzes.records.checks import aware, plain_text
from quizzes.records.keys.errors import KeyFileError
from quizzes.records.keys.signing import SigningKey
from quizzes.records.keys.trust import (
    LARGEST_BYTES,
    TrustedKey,
    TrustList,
    changed,
    trust_of,
    trust_text,
)

try:
    import fcntl
except ImportError:  # Windows has none: there, one person changes keys at a time
    fcntl = None  # type: ignore[assignment]

SECRET, NEXT, PUBLIC = "issuer.pem", "issuer.next.pem", "issuers.json"
_LARGEST_KEY_BYTES = 10_000
_OTHERS = stat.S_IRWXG | stat.S_IRWXO
_POSIX = os.name == "posix"


def default_folder() -> Path:
    """Return where this user's keys lie: `GAL_KEYS`, or the platform's folder for data."""
    named = os.environ.get("GAL_KEYS", "").strip()
    if named:
        return Path(named).expanduser().absolute()
    return platformdirs.user_data_path("gap-and-lining", appauthor=False) / "keys"


def issuer_key(
    folder: Path, name: str, at: dt.datetime, passphrase: bytes | None = None
) -> SigningKey:
    """Return the key that this house signs with; made if there is none yet.

    Parameters
    ----------
    folder : Path
        Where keys lie; made with access for this user alone.
    name : str
        The body that issues, as its list of trusted keys will say.
    at : datetime
        Now, with a time zone: since when a new key is in use.
    passphrase : bytes, optional
        Encrypts the file. It is needed again each time.

    Raises
    ------
    KeyFileError
        If the file lies open to others, belongs to somebody else, or cannot be read.
    ValueError
        If the name cannot be printed, or the moment has no time zone; no key is made then.
    """
    folder, name, at = Path(folder), plain_text("name", name), aware("at", at)
    with _said(folder):
        _private_folder(folder)
    with _said(folder), _alone(folder):
        _finish_change(folder, passphrase)
        if not (folder / SECRET).exists():
            _stored(folder / SECRET, _pem(SigningKey.drawn(), passphrase))
        key = loaded_key(folder / SECRET, passphrase)
        _known(folder, key, name, at)
        return key


def trusted(folder: Path) -> TrustList:
    """Return the public keys of a folder, as they are handed out.

    Raises
    ------
    KeyFileError
        If there are none, or the file is damaged.
    """
    with _said(Path(folder)):
        return trust_of(_json_of(Path(folder) / PUBLIC))


def change_key(folder: Path, at: dt.datetime, passphrase: bytes | None = None) -> SigningKey:
    """Return a new key that takes over from the old one; what the old one signed stays good.

    Parameters
    ----------
    folder : Path
        One in which `issuer_key` has made a key.
    at : datetime
        Now, with a time zone.
    passphrase : bytes, optional
        The one of the old key; it encrypts the new one too.

    Raises
    ------
    KeyFileError
        If there is no key to change, or it cannot be read.

    Notes
    -----
    The new secret is written first, then the public list, then the new secret takes the old
    one's place: whatever moment the power fails, the next start ends or undoes the change. The
    old secret is gone then; nobody needs it to check what it signed.
    """
    folder = Path(folder)
    with _said(folder), _alone(folder):
        _finish_change(folder, passphrase)
        old = loaded_key(folder / SECRET, passphrase)
        new = SigningKey.drawn()
        after = trusted(folder).after(changed(old, new, at))
        _stored(folder / NEXT, _pem(new, passphrase))
        _published(folder, after)
        (folder / NEXT).replace(folder / SECRET)
        _synced(folder)
        return new


def loaded_key(path: Path, passphrase: bytes | None = None) -> SigningKey:
    """Return the key of a PKCS#8 file that only this user may read.

    Raises
    ------
    KeyFileError
        If it is missing, open to others, somebody else's, encrypted otherwise, or no such key.
    """
    with _said(path.parent):
        text = _guarded(path)
    try:
        found = load_pem_private_key(text, passphrase)
    except TypeError:
        state = "is not encrypted, but a passphrase was given" if passphrase else "is encrypted"
        ask = "Leave the passphrase out" if passphrase else "Give its passphrase"
        raise KeyFileError(f"The key file {path.name} {state}. {ask}.") from None
    except ValueError:
        raise KeyFileError(
            f"The key file {path.name} cannot be read: wrong passphrase, or no PKCS#8 key in PEM."
        ) from None
    if not isinstance(found, Ed25519PrivateKey):
        raise KeyFileError(f"The key file {path.name} holds another kind of key than Ed25519.")
    return SigningKey(found)


def _pem(key: SigningKey, passphrase: bytes | None) -> bytes:
    sealed: KeySerializationEncryption = (
        BestAvailableEncryption(passphrase) if passphrase else NoEncryption()
    )
    return key.secret.private_bytes(Encoding.PEM, PrivateFormat.PKCS8, sealed)


def _private_folder(folder: Path) -> None:
    folder.mkdir(mode=0o700, parents=True, exist_ok=True)
    if _POSIX and folder.stat().st_mode & (stat.S_IWGRP | stat.S_IWOTH):
        raise KeyFileError(
            f"Others may write to the folder of keys {folder}; close it: chmod 700 {folder}"
        )


def _guarded(path: Path) -> bytes:
    """Return what a secret file holds, after a look at who else may read it."""
    handle = os.open(path, os.O_RDONLY | getattr(os, "O_NOFOLLOW", 0))
    with os.fdopen(handle, "rb") as file:
        state = os.fstat(file.fileno())
        if not stat.S_ISREG(state.st_mode) or state.st_size > _LARGEST_KEY_BYTES:
            raise KeyFileError(f"{path.name} is not a key file.")
        if _POSIX and stat.S_IMODE(state.st_mode) & _OTHERS:
            raise KeyFileError(
                f"The key file {path} lies open to others (mode "
                f"{stat.S_IMODE(state.st_mode):04o}). It may have been copied: change the key, "
                f"or close the file if you are sure: chmod 600 {path}"
            )
        if _POSIX and state.st_uid != os.geteuid():
            raise KeyFileError(f"The key file {path} belongs to another user of this machine.")
        return file.read(_LARGEST_KEY_BYTES)


def _stored(path: Path, content: bytes, *, mode: int = 0o600, again: bool = False) -> None:
    """Write a file whole or not at all; unless `again`, one that stands there already stays."""
    draft = path.with_name(f".{path.name}.{secrets.token_hex(8)}")
    handle = os.open(draft, os.O_WRONLY | os.O_CREAT | os.O_EXCL, mode)
    try:
        with os.fdopen(handle, "wb") as file:
            file.write(content)
            file.flush()
            os.fsync(file.fileno())
        if again:
            draft.replace(path)
        else:
            with contextlib.suppress(FileExistsError):  # another process was first: its key counts
                os.link(draft, path)
    finally:
        draft.unlink(missing_ok=True)
    _synced(path.parent)


def _synced(folder: Path) -> None:
    if _POSIX:
        handle = os.open(folder, os.O_RDONLY)
        try:
            os.fsync(handle)
        finally:
            os.close(handle)


def _published(folder: Path, trust: TrustList) -> None:
    _stored(folder / PUBLIC, trust_text(trust).encode(), mode=0o644, again=True)


def _known(folder: Path, key: SigningKey, name: str, at: dt.datetime) -> None:
    """See to it that the list names the key in use, and refuse one that it does not know."""
    if not (folder / PUBLIC).exists():
        return _published(folder, TrustList((TrustedKey(key.public, name, at),)))
    held = trusted(folder).holder(key.public)
    if not any(one.until is None for one in held):
        state = "was retired" if held else f"is not named in {PUBLIC}"
        raise KeyFileError(
            f"The key in {folder / SECRET} {state}: it is not this organisation's key now. "
            "Put the right file back from its copy."
        )
    return None


def _finish_change(folder: Path, passphrase: bytes | None) -> None:
    """End a change that was cut off: take the next key if the list names it, else drop it."""
    waiting = folder / NEXT
    if not waiting.exists():
        return
    named = trusted(folder).holder(loaded_key(waiting, passphrase).public)
    if named:
        waiting.replace(folder / SECRET)
    else:
        waiting.unlink()
    _synced(folder)


def _json_of(path: Path) -> object:
    if path.stat().st_size > LARGEST_BYTES:
        raise KeyFileError(f"{path.name} is larger than {LARGEST_BYTES} bytes.")
    try:
        return json.loads(path.read_text(encoding="utf-8"))
    except (ValueError, RecursionError):
        raise KeyFileError(f"{path.name} is not JSON.") from None


@contextlib.contextmanager
def _alone(folder: Path) -> Iterator[None]:
    """Let no other process make or change a key meanwhile; sweep up what a killed one left."""
    if fcntl is None:
        yield
        return
    handle = os.open(folder, os.O_RDONLY)
    try:
        fcntl.flock(handle, fcntl.LOCK_EX)
        for name in (SECRET, NEXT, PUBLIC):
            for draft in folder.glob(f".{name}.*"):
                draft.unlink(missing_ok=True)
        yield
    finally:
        os.close(handle)


@contextlib.contextmanager
def _said(folder: Path) -> Iterator[None]:
    """Turn the system's refusals into one sentence."""
    try:
        yield
    except FileNotFoundError as error:
        raise KeyFileError(f"There is no {error.filename}.") from None
    except OSError as error:
        raise KeyFileError(
            f"The folder of keys {folder} cannot be used: {error.strerror}."
        ) from None
