"""The issuer's signature over an export, so that nothing can be taken out of the file unseen."""

import datetime as dt
from collections.abc import Mapping
from typing import Any

import rfc8785

from quizzes.records.errors import LOG
from quizzes.records.keys import multibase
from quizzes.records.keys.errors import KeyFileError
from quizzes.records.keys.issuer import issuer_trust, the_issuer
from quizzes.records.keys.signing import PublicKey

_UNSIGNED = "It carries no signature: nobody vouches that nothing was taken out of the file."
SIGNED = "signed"


def signed_export(export: dict[str, Any], at: dt.datetime) -> dict[str, Any]:
    """Return an export with the issuer's signature; without one where no key can be used."""
    try:
        key = the_issuer(at).key
    except (KeyFileError, ValueError) as error:
        LOG.error("the export is not signed: %s", error)
        return export
    signature = multibase.encoded(key.sign(_said(export)))
    return {**export, SIGNED: {"key": key.public.did, "signature": signature}}


def signature_of(export: Mapping[str, Any]) -> tuple[tuple[str, ...], str]:
    """Return what is wrong with the signature of an export, and whose it is, in words."""
    signed = export.get(SIGNED)
    if signed is None:
        return (), _UNSIGNED
    try:
        key = PublicKey.from_did(signed["key"])
        holds = key.signed(multibase.decoded(signed["signature"]), _said(export))
    except (KeyError, TypeError, ValueError):
        return ("the signature on the export cannot be read",), ""
    if not holds:
        return ("the export was altered after it was signed",), ""
    try:
        known = issuer_trust().holder(key)
    except KeyFileError:
        known = ()
    if known:
        return (), f"Whole, and signed by {known[0].name}."
    return (), f"Whole, and signed by {key.did}, a key that is not among those of this machine."


def _said(export: Mapping[str, Any]) -> bytes:
    bare = {name: value for name, value in export.items() if name != SIGNED}
    try:
        return rfc8785.dumps(bare)
    except (rfc8785.CanonicalizationError, RecursionError) as error:
        raise ValueError(f"it has no canonical form: {error}") from None
