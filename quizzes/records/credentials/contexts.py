"""The two published vocabularies that our credentials use, kept here: nothing is ever fetched.

`contexts/credentials_v2.jsonld` is the W3C's (Verifiable Credentials Data Model 2.0, 2025; W3C
Software and Document License), as public JSON-LD libraries ship it;
`contexts/open_badges_3_0_3.jsonld`
is 1EdTech's (Open Badges 3.0), byte for byte as served in October 2026. A vocabulary that changes
under its address would break proofs over statements, so the hash of each is fixed.
"""

import hashlib
import json
from functools import cache
from pathlib import Path
from typing import Any

VC_2 = "https://www.w3.org/ns/credentials/v2"
OB_3 = "https://purl.imsglobal.org/spec/ob/v3p0/context-3.0.3.json"
_FOLDER = Path(__file__).parent / "contexts"
_FILES = {
    VC_2: (
        "credentials_v2.jsonld",
        "8a9f494a89ecc51db093e90e84713e07e84d6d9204364a9b3c7868b21751236f",
    ),
    OB_3: (
        "open_badges_3_0_3.jsonld",
        "3d34f4d4ef1bce691106e63798beb5e7b862ba841423f5ee1e53ab7ddf3bca84",
    ),
}


class UnknownContextError(ValueError):
    """A document names a vocabulary that is not kept here."""


@cache
def _kept(url: str) -> str:
    name, sha256 = _FILES[url]
    content = (_FOLDER / name).read_bytes()
    if hashlib.sha256(content).hexdigest() != sha256:
        raise UnknownContextError(f"The vocabulary {name} was changed: install the program again.")
    return content.decode()


def loaded(url: str, _options: object = None) -> dict[str, Any]:
    """Return a vocabulary as the JSON-LD library asks for it.

    Raises
    ------
    UnknownContextError
        If it is not one of the two: no other is loaded, from here or from anywhere.
    """
    if url not in _FILES:
        raise UnknownContextError(f"The vocabulary {url!r:.120} is not one that is kept here.")
    return {
        "contextUrl": None,
        "documentUrl": url,
        "contentType": "application/ld+json",
        "document": json.loads(_kept(url)),
    }
