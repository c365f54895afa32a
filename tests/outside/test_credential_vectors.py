"""The cryptosuites against W3C's vectors; a status list against W3C's example."""

import base64
import datetime as dt
import gzip
import json
from pathlib import Path

import pytest

from quizzes.records.credentials.contexts import loaded
from quizzes.records.credentials.proofs import JCS, RDFC, hashed, proof_holds
from quizzes.records.credentials.status import PLACES, Withdrawals, withdrawals_of
from quizzes.records.credentials.verifying import Finding, verified
from quizzes.records.keys import multibase
from quizzes.records.keys.signing import PublicKey, SigningKey
from quizzes.records.keys.trust import TrustedKey, TrustList

SOURCES = Path(__file__).parents[1] / "sources"
VECTORS = SOURCES / "w3c_eddsa"
# W3C publishes this vocabulary for its examples: every word is taken as one of a name space.
EXAMPLES = "https://www.w3.org/ns/credentials/examples/v2"
# W3C Data Integrity EdDSA Cryptosuites 1.0 (Recommendation, 2025), A.2: hash of the document and
# of the proof's options in hex, signature; the proof names its key by a did:key.
REC_JCS_HASHES = (
    "66ab154f5c2890a140cb8388a22a160454f80575f6eae09e5a097cabe539a1db"
    "59b7cb6251b8991add1ce0bc83107e3db9dbbab5bd2c28f687db1a03abc92f19"
)
REC_JCS_PROOF = (
    "z2HnFSSPPBzR36zdDgK8PbEHeXbR56YF24jwMpt3R1eHXQzJDMWS93FCzpvJpwTWd3GAVFuUfjoJdcnTMuVor51aX"
)
# W3C Bitstring Status List 1.0 (2025), example 4: a list of 131,072 places, none withdrawn.
REC_LIST = "uH4sIAAAAAAAAA-3BMQEAAADCoPVPbQwfoAAAAAAAAAAAAAAAAAAAAIC3AYbSVKsAQAAA"


def with_examples(url, options=None):
    """Return our vocabularies, and for the published vectors that of the examples."""
    if url != EXAMPLES:
        return loaded(url, options)
    words = {"@context": {"@vocab": "https://www.w3.org/ns/credentials/examples#"}}
    return {
        "contextUrl": None,
        "documentUrl": url,
        "contentType": "application/ld+json",
        "document": words,
    }


def vector(name):
    """Return a published vector as document and proof."""
    found = json.loads((VECTORS / name).read_text())
    return found, found.pop("proof")


def key_pair():
    """Return the published key pair as ours."""
    pair = json.loads((VECTORS / "keyPair.json").read_text())
    return SigningKey.of_secret(multibase.decoded(pair["privateKeyMultibase"])[2:])


@pytest.mark.parametrize("name", ["signedJCS.json", "signedDataInt.json"])
def test_the_published_proofs_are_made_and_accepted(name):
    """Signed by us with the published secret, the proof value is the published one."""
    document, proof = vector(name)
    options = {part: value for part, value in proof.items() if part != "proofValue"}
    key = key_pair()
    made = multibase.encoded(key.sign(hashed(document, options, with_examples)))

    assert made == proof["proofValue"]
    assert proof_holds(document, proof, key.public, with_examples)


@pytest.mark.parametrize("name", ["signedJCS.json", "signedDataInt.json"])
def test_a_published_credential_with_a_word_changed_is_refused(name):
    """The proof is over what the document says, and over its own options."""
    document, proof = vector(name)
    key = key_pair().public

    other = {**document, "credentialSubject": {"id": "did:example:abcdefgh", "alumniOf": "Else"}}
    assert not proof_holds(other, proof, key, with_examples)
    later = {**proof, "created": "2024-02-24T23:36:38Z"}
    assert not proof_holds(document, later, key, with_examples)


def test_the_recommendations_jcs_example_comes_out():
    """Both hashes and the signature as printed."""
    document, proof = vector("signedJCS.json")
    key = key_pair()
    options = {part: value for part, value in proof.items() if part != "proofValue"}
    options["verificationMethod"] = key.public.method
    both = hashed(document, options)

    assert both.hex() == REC_JCS_HASHES
    assert multibase.encoded(key.sign(both)) == REC_JCS_PROOF


@pytest.mark.parametrize("suite", [JCS, RDFC])
def test_a_credential_of_another_program_is_accepted(suite):
    """Made for this project by a program that shares no code with this one (ASSESS.md, 4.2)."""
    found = json.loads((SOURCES / "example_ob3_signed.json").read_text())
    proofs = found.pop("proof")
    key = PublicKey.from_did(found["issuer"]["id"])
    [proof] = [one for one in proofs if one["cryptosuite"] == suite]

    assert proof_holds(found, proof, key)
    assert not proof_holds({**found, "name": "Crane driver"}, proof, key)


def test_the_published_status_list_is_read():
    """131,072 places, none withdrawn; and ours, unpacked by the library, is its bytes."""
    none = withdrawals_of(REC_LIST)

    assert none == Withdrawals.of(())
    assert len(none.bits) * 8 == PLACES
    packed = Withdrawals.of((0, 9, PLACES - 1)).encoded
    bits = gzip.decompress(base64.urlsafe_b64decode(packed[1:] + "=" * (-len(packed[1:]) % 4)))
    # Section 2.2: index 0 is the left-most bit.
    assert (bits[0], bits[1], bits[-1]) == (0b10000000, 0b01000000, 0b00000001)


def test_the_other_programs_credential_is_found_good_as_a_whole():
    """Shape, both proofs, trust and dates; a day after its end it is expired."""
    found = json.loads((SOURCES / "example_ob3_signed.json").read_text())
    key = PublicKey.from_did(found["issuer"]["id"])
    since = dt.datetime(2026, 1, 1, tzinfo=dt.UTC)
    trust = TrustList((TrustedKey(key, "Demo Assessment Body", since),))

    now = dt.datetime(2027, 1, 1, tzinfo=dt.UTC)
    assert verified(found, trust, now).finding is Finding.GOOD
    late = dt.datetime(2027, 11, 26, tzinfo=dt.UTC)
    assert verified(found, trust, late).finding is Finding.EXPIRED
