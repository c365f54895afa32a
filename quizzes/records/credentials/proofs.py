"""The two proofs on a credential: over its JSON, and over the statements it makes.

Source: W3C Data Integrity EdDSA Cryptosuites 1.0 (2025): section 3.3 `eddsa-jcs-2022`, section 3.2
`eddsa-rdfc-2022`. The second leaves out any property that the vocabulary does not define, so the
first is the one a verifier must demand.
"""

import hashlib
from collections.abc import Callable, Mapping
from typing import Any

import rfc8785
from pyld import jsonld

from quizzes.records.credentials.contexts import loaded
from quizzes.records.keys import multibase
from quizzes.records.keys.signing import PublicKey, SigningKey

JCS, RDFC = "eddsa-jcs-2022", "eddsa-rdfc-2022"
Document = Mapping[str, Any]
Loader = Callable[..., Any]


def hashed(document: Document, options: Document, loader: Loader = loaded) -> bytes:
    """Return the 64 bytes that a proof with these options signs.

    Parameters
    ----------
    document : mapping
        The credential without its proofs.
    options : mapping
        The proof without its `proofValue`.
    loader : callable, optional
        Where vocabularies come from; those kept here if left out.

    Raises
    ------
    ValueError
        If the suite is unknown, or the document has no canonical form.
    """
    if options["cryptosuite"] == JCS:
        parts = (rfc8785.dumps(dict(options)), rfc8785.dumps(dict(document)))
    elif options["cryptosuite"] == RDFC:
        # The proof is read with the document's vocabulary (section 3.2.5).
        named = {**options, "@context": document["@context"]}
        parts = (_statements(named, loader), _statements(document, loader))
    else:
        raise ValueError(f"expected {JCS} or {RDFC}, got {options['cryptosuite']!r:.40}")
    return b"".join(hashlib.sha256(part).digest() for part in parts)


def _statements(document: Document, loader: Loader) -> bytes:
    """Return a document's statements as canonical N-Quads (W3C RDF Canonicalization 1.0)."""
    try:
        quads = jsonld.normalize(
            dict(document),
            {
                "algorithm": "URDNA2015",
                "format": "application/n-quads",
                "documentLoader": loader,
            },
        )
    except jsonld.JsonLdError as error:
        raise ValueError(f"its statements cannot be read: {error.type or error.code}") from None
    return str(quads).encode()


def proved(document: Document, key: SigningKey, created: str) -> dict[str, Any]:
    """Return a document with both proofs, as an array: the JSON's first.

    Parameters
    ----------
    document : mapping
        Without proofs, with its `@context`.
    key : SigningKey
        The issuer's.
    created : str
        When, as `2026-11-28T09:30:00Z`.
    """
    made = []
    for suite in (JCS, RDFC):
        options: dict[str, Any] = {
            "type": "DataIntegrityProof",
            "cryptosuite": suite,
            "created": created,
            "verificationMethod": key.public.method,
            "proofPurpose": "assertionMethod",
        }
        if suite == JCS:
            options["@context"] = document["@context"]
        signature = key.sign(hashed(document, options))
        made.append({**options, "proofValue": multibase.encoded(signature)})
    return {**document, "proof": made}


def proof_holds(
    document: Document, proof: Document, key: PublicKey, loader: Loader = loaded
) -> bool:
    """Return whether a proof on a document is that key's."""
    options = {name: value for name, value in proof.items() if name != "proofValue"}
    try:
        signature = multibase.decoded(proof["proofValue"])
        return key.signed(signature, hashed(document, options, loader))
    except (ValueError, rfc8785.CanonicalizationError):
        return False
