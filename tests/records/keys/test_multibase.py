"""Base 58 against its published examples, and identifiers of keys against W3C's and RFC 8032's."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from quizzes.records.keys import multibase
from quizzes.records.keys.signing import PublicKey, SigningKey

# Outside check: draft-msporny-base58-03 (2021), section 5, test vectors.
BASE58 = [
    (b"Hello World!", "2NEpo7TZRRrLZSi2U"),
    (
        b"The quick brown fox jumps over the lazy dog.",
        "USm3fpXnKG5EUBx2ndxBDMPVciP5hGey2Jh4NDv6gmeo1LkMeiKrLJUUBk6Z",
    ),
    (bytes.fromhex("0000287fb4cd"), "11233QC4"),
]
# Outside check: the key pair of W3C Data Integrity EdDSA Cryptosuites 1.0 (2025), appendix A.
W3C_PUBLIC = "z6MkrJVnaZkeFzdQyMZu1cgjg7k1pZZ6pvBQ7XJPt4swbTQ2"
W3C_SECRET = "z3u2en7t5LR2WtQH5PfFqMqwVHBeXouLzo6haApm8XHqvjxq"
# Outside check: RFC 8032 (2017), 7.1, tests 1 to 3: secret, public, message, signature.
RFC_8032 = [
    (
        "9d61b19deffd5a60ba844af492ec2cc44449c5697b326919703bac031cae7f60",
        "d75a980182b10ab7d54bfed3c964073a0ee172f3daa62325af021a68f707511a",
        "",
        (
            "e5564300c360ac729086e2cc806e828a84877f1eb8e5d974d873e065224901555fb8821590a33bac"
            "c61e39701cf9b46bd25bf5f0595bbe24655141438e7a100b"
        ),
    ),
    (
        "4ccd089b28ff96da9db6c346ec114e0f5b8a319f35aba624da8cf6ed4fb8a6fb",
        "3d4017c3e843895a92b70aa74d1b7ebc9c982ccf2ec4968cc0cd55f12af4660c",
        "72",
        (
            "92a009a9f0d4cab8720e820b5f642540a2b27b5416503f8fb3762223ebdb69da085ac1e43e15996e"
            "458f3613d0f11d8c387b2eaeb4302aeeb00d291612bb0c00"
        ),
    ),
    (
        "c5aa8df43f9f837bedb7442f31dcb7b166d38535076f094b85ce3a2e0b4458f7",
        "fc51cd8e6218a1a38da47ed00230f0580816ed13ba3303ac5deb911548908025",
        "af82",
        (
            "6291d657deec24024827e69c3abe01a30ce548a284743a445e3680d7db5ac3ac18ff9b538d16f290"
            "ae67f760984dc6594a7c15e9716ed28dc027beceea1ec40a"
        ),
    ),
]


@pytest.mark.parametrize(("payload", "text"), BASE58, ids=["hello", "fox", "zeros"])
def test_base_58_is_as_published(payload, text):
    """Both ways, leading zero bytes among them."""
    assert multibase.encoded(payload) == "z" + text
    assert multibase.decoded("z" + text) == payload


@given(st.binary(max_size=150))
def test_what_was_written_is_read_back(payload):
    """For any bytes as long as a signature and more."""
    assert multibase.decoded(multibase.encoded(payload)) == payload


@pytest.mark.parametrize("text", ["", "2NEpo", "z0", "zO", "zé", "z" + "1" * 256, None, 7])
def test_what_is_no_base_58_is_refused(text):
    """Also a text so long that decoding it would take its time."""
    with pytest.raises(ValueError, match="base 58"):
        multibase.decoded(text)


def test_the_published_key_pair_belongs_together():
    """The published public key follows from the published secret one."""
    secret = multibase.decoded(W3C_SECRET)
    key = SigningKey.of_secret(secret[2:])

    assert secret[:2] == b"\x80\x26"  # multicodec ed25519-priv, as the same table has it
    assert key.public.multibase == W3C_PUBLIC
    assert PublicKey.from_did(f"did:key:{W3C_PUBLIC}") == key.public


@pytest.mark.parametrize(("secret", "public", "message", "signature"), RFC_8032)
def test_signatures_are_those_of_the_standard(secret, public, message, signature):
    """Made by us as published, and the published ones accepted by us."""
    key = SigningKey.of_secret(bytes.fromhex(secret))
    said = bytes.fromhex(message)

    assert key.public.raw.hex() == public
    assert key.sign(said).hex() == signature
    assert key.public.signed(bytes.fromhex(signature), said)
    assert not key.public.signed(bytes.fromhex(signature), said + b"x")
    assert not key.public.signed(bytes.fromhex(signature)[:-1], said)


@pytest.mark.parametrize(
    "did",
    [
        "",
        "did:web:example.org",
        "did:key:",
        "did:key:z6Mk",
        "did:key:zQ3shokFTS3brHcDQrn82RUDfCZESWL1ZdCEJwekUDPQiYBme",  # a secp256k1 key
        None,
    ],
)
def test_what_names_no_such_key_is_refused(did):
    """An empty one, another method, a cut one, another kind of key."""
    with pytest.raises(ValueError, match=r"did:key|base 58|Ed25519"):
        PublicKey.from_did(did)
