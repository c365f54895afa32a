"""A credential of ours, checked by us and by a second implementation; and every way to forge one."""

import copy
import datetime as dt
import json
import socket
import tracemalloc

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from pyld import jsonld

from quizzes.records.credentials import contexts
from quizzes.records.credentials.contexts import UnknownContextError, loaded
from quizzes.records.credentials.document import document, issued
from quizzes.records.credentials.proofs import JCS, RDFC, hashed, proof_holds, proved
from quizzes.records.credentials.record import Outcome
from quizzes.records.credentials.status import PLACES, Withdrawals, status_list, withdrawals_of
from quizzes.records.credentials.verifying import Finding, verified
from quizzes.records.keys import multibase
from quizzes.records.keys.signing import SigningKey
from quizzes.records.keys.trust import TrustedKey, TrustList, changed
from tests.records.credentials.records import DECIDED, HOUSE, LIST, UNTIL, record
from tests.records.credentials.second import holds

KEY = SigningKey.drawn()
SINCE = dt.datetime(2026, 1, 1, tzinfo=dt.UTC)
TRUST = TrustList((TrustedKey(KEY.public, HOUSE, SINCE),))
SIGNED = DECIDED + dt.timedelta(hours=1)
NOW = dt.datetime(2027, 3, 1, 12, 0, tzinfo=dt.UTC)
ISSUED = issued(record(), KEY, HOUSE, SIGNED)


def stated(withdrawn=(), at=NOW, key=KEY, house=HOUSE, list_id=LIST):
    """Return a signed list of withdrawals."""
    return status_list(list_id, Withdrawals.of(withdrawn), key, house, at)


def bent(change):
    """Return the credential after a change to a copy of it, through JSON as it would travel."""
    other = copy.deepcopy(ISSUED)
    change(other)
    return json.loads(json.dumps(other))


def test_a_credential_is_accepted_with_nothing_but_the_public_key():
    """It says whose it is, until when, and that withdrawal is not known without a list."""
    found = verified(json.loads(json.dumps(ISSUED)), TRUST, NOW)

    assert found.finding is Finding.GOOD
    assert found.sentences == (
        f"Authentic and unchanged, signed by {HOUSE}. In date until 28 November 2027 09:30 UTC.",
        "Whether it was withdrawn is not known: no status list was given.",
    )
    assert found.credential.credential_subject.identifier[0].identity_hash == "Robin Ashdown"


def test_nothing_is_fetched(monkeypatch):
    """With every way out of the machine barred, a record is signed and found good."""

    def barred(*_, **__):
        raise AssertionError("reached out of the machine")

    monkeypatch.setattr(socket, "socket", barred)
    monkeypatch.setattr(socket, "getaddrinfo", barred)

    assert verified(issued(record(), KEY, HOUSE, SIGNED), TRUST, NOW).finding is Finding.GOOD
    with pytest.raises(UnknownContextError, match="not one that is kept here"):
        loaded("https://www.w3.org/2018/credentials/v1")


def test_a_changed_vocabulary_is_refused(monkeypatch, tmp_path):
    """Whoever bends the words bends the statements: the file's hash is looked at."""
    (tmp_path / "credentials_v2.jsonld").write_text('{"@context": {}}')
    monkeypatch.setattr(contexts, "_FOLDER", tmp_path)
    contexts._kept.cache_clear()
    try:
        with pytest.raises(UnknownContextError, match="was changed"):
            loaded(contexts.VC_2)
    finally:
        contexts._kept.cache_clear()


def test_a_second_implementation_agrees():
    """Standards alone, no shared code: it takes ours, and refuses ours with a word changed."""
    assert holds(ISSUED)
    assert not holds(bent(lambda one: one.update(name="Crane driver")))


def test_it_carries_both_proofs_as_an_array():
    """1EdTech's conformance names the one, our verifier demands the other."""
    assert [proof["cryptosuite"] for proof in ISSUED["proof"]] == [JCS, RDFC]


def test_it_has_what_open_badges_asks_for():
    """Required by Open Badges 3.0 (1EdTech, 2024), B.1.2 AchievementCredential and the rest of B."""
    assert {"@context", "id", "type", "credentialSubject", "issuer", "validFrom"} <= set(ISSUED)
    subject = ISSUED["credentialSubject"]
    achievement = subject["achievement"]
    assert {"id", "type", "name", "description", "criteria"} <= set(achievement)
    described = {one["id"] for one in achievement["resultDescription"]}
    for one in achievement["resultDescription"]:
        assert {"id", "type", "name", "resultType"} <= set(one)
        # The list of ResultType, as far as we use it.
        assert one["resultType"] in {"Percent", "RawScore", "RubricCriterionLevel", "Status"}
    assert {one["resultDescription"] for one in subject["result"]} == described
    assert {"hashed", "identityHash", "identityType", "type"} == set(subject["identifier"][0])


def test_every_word_of_it_is_a_statement():
    """The vocabularies define each property: nothing that we write falls out of the rdfc proof."""
    said = {name: part for name, part in ISSUED.items() if name != "proof"}
    quads = jsonld.normalize(
        said,
        {"algorithm": "URDNA2015", "format": "application/n-quads", "documentLoader": loaded},
    )
    texts = list(_texts({k: v for k, v in said.items() if k != "@context"}))

    assert len(texts) > 60
    for text in texts:
        assert json.dumps(text, ensure_ascii=False)[1:-1] in quads or f"#{text}>" in quads


def _texts(found):
    if isinstance(found, dict):
        for part in found.values():
            yield from _texts(part)
    elif isinstance(found, list):
        for part in found:
            yield from _texts(part)
    elif isinstance(found, str):
        yield found


def _places(found, place=()):
    """Return where the texts of an object stand."""
    if isinstance(found, dict):
        for name, part in found.items():
            yield from _places(part, (*place, name))
    elif isinstance(found, list):
        for number, part in enumerate(found):
            yield from _places(part, (*place, number))
    else:
        yield place


PLACES_OF_TEXT = [
    place
    for place in _places(ISSUED)
    if place[0] not in ("@context", "type", "proof") and place[-2:-1] != ("type",)
]


@pytest.mark.parametrize("place", PLACES_OF_TEXT, ids=lambda p: ".".join(map(str, p)))
def test_whatever_word_is_altered_is_found(place):
    """Each text in turn, with one sign more: never good, and tampered unless it has no shape."""

    def change(one):
        part = one
        for step in place[:-1]:
            part = part[step]
        value = part[place[-1]]
        part[place[-1]] = value + "x" if isinstance(value, str) else not value

    found = verified(bent(change), TRUST, NOW, stated())

    assert found.finding in (Finding.TAMPERED, Finding.UNREADABLE, Finding.UNKNOWN_ISSUER)
    assert found.credential is None


def _swap_values(one):
    first, second = one["proof"]
    first["proofValue"], second["proofValue"] = second["proofValue"], first["proofValue"]


def _swap_suites(one):
    first, second = one["proof"]
    first["cryptosuite"], second["cryptosuite"] = RDFC, JCS


FORGED = {
    "altered value": (
        lambda one: one["credentialSubject"]["result"][0].update(value="99"),
        Finding.TAMPERED,
    ),
    "altered date": (lambda one: one.update(validUntil="2037-11-28T09:30:00Z"), Finding.TAMPERED),
    "altered name": (
        lambda one: one["credentialSubject"]["identifier"][0].update(identityHash="Else Body"),
        Finding.TAMPERED,
    ),
    "added element": (
        lambda one: one["evidence"].append(
            {"type": ["Evidence"], "name": "R9: Everything", "narrative": "All of it."}
        ),
        Finding.TAMPERED,
    ),
    "element taken out": (lambda one: one["evidence"].pop(), Finding.TAMPERED),
    "evidence reordered": (lambda one: one["evidence"].reverse(), Finding.TAMPERED),
    "status taken out": (lambda one: one.pop("credentialStatus"), Finding.TAMPERED),
    "status moved": (
        lambda one: one["credentialStatus"].update(statusListIndex="4"),
        Finding.TAMPERED,
    ),
    "unknown property": (lambda one: one.update(grade="with distinction"), Finding.UNREADABLE),
    "unknown property inside": (
        lambda one: one["credentialSubject"].update(licence="all hoists"),
        Finding.UNREADABLE,
    ),
    "unknown property in the proof": (
        lambda one: one["proof"][0].update(domain="else"),
        Finding.UNREADABLE,
    ),
    "swapped proof values": (_swap_values, Finding.TAMPERED),
    "swapped suites": (_swap_suites, Finding.TAMPERED),
    "proofs in the other order": (lambda one: one["proof"].reverse(), Finding.GOOD),
    "jcs proof only": (lambda one: one["proof"].pop(), Finding.GOOD),
    "rdfc proof only": (lambda one: one["proof"].pop(0), Finding.UNREADABLE),
    "jcs proof twice": (
        lambda one: one.update(proof=[one["proof"][0], one["proof"][0]]),
        Finding.UNREADABLE,
    ),
    "no proof": (lambda one: one.pop("proof"), Finding.UNREADABLE),
    "empty proof": (lambda one: one.update(proof=[]), Finding.UNREADABLE),
    "proof not in an array": (
        lambda one: one.update(proof=one["proof"][0]),
        Finding.UNREADABLE,
    ),
    "another suite": (
        lambda one: one["proof"][0].update(cryptosuite="none"),
        Finding.UNREADABLE,
    ),
    "proof cut": (
        lambda one: one["proof"][0].update(proofValue=one["proof"][0]["proofValue"][:-3]),
        Finding.TAMPERED,
    ),
    "proof of another date": (
        lambda one: one["proof"][0].update(created="2026-11-29T09:30:00Z"),
        Finding.TAMPERED,
    ),
    "rdfc proof damaged": (
        lambda one: one["proof"][1].update(proofValue=one["proof"][0]["proofValue"]),
        Finding.TAMPERED,
    ),
    "proof's context taken out": (lambda one: one["proof"][0].pop("@context"), Finding.TAMPERED),
    "a context of its own in the rdfc proof": (
        lambda one: one["proof"][1].update({"@context": ["https://else.example/context"]}),
        Finding.TAMPERED,
    ),
    "other context": (
        lambda one: one.update({"@context": ["https://www.w3.org/ns/credentials/v2"]}),
        Finding.UNREADABLE,
    ),
    "context added": (
        lambda one: one["@context"].append("https://else.example/context"),
        Finding.UNREADABLE,
    ),
    "context inline": (
        lambda one: one["@context"].append({"name": "https://else.example/name"}),
        Finding.UNREADABLE,
    ),
    "issuer of no key": (
        lambda one: one["issuer"].update(id="https://else.example/issuer"),
        Finding.UNKNOWN_ISSUER,
    ),
    "number for a text": (
        lambda one: one["credentialSubject"]["result"][0].update(value=24),
        Finding.UNREADABLE,
    ),
    "null": (lambda one: one.update(validUntil=None), Finding.UNREADABLE),
    "half a sign": (lambda one: one.update(name="\ud800"), None),
}


@pytest.mark.parametrize("kind", FORGED)
def test_a_forged_credential_is_told_from_a_good_one(kind):
    """One change at a time; the finding is the expected one and is a sentence."""
    change, finding = FORGED[kind]
    found = verified(bent(change), TRUST, NOW, stated())

    if finding is None:
        assert found.finding in (Finding.UNREADABLE, Finding.TAMPERED)
    else:
        assert found.finding is finding
    assert all(sentence.endswith(".") for sentence in found.sentences)


def test_the_rdfc_proof_alone_would_have_let_an_added_property_through():
    """Why the other is demanded: a word outside the vocabulary is not a statement, so it is not signed."""
    added = {**ISSUED, "grade": "with distinction"}
    added.pop("proof")
    jcs, rdfc = ISSUED["proof"]

    assert proof_holds(added, rdfc, KEY.public)
    assert not proof_holds(added, jcs, KEY.public)


def test_somebody_elses_signature_in_our_name_is_tampered():
    """Signed again by another key, with our identifier left in place."""
    thief = SigningKey.drawn()
    said = {name: part for name, part in ISSUED.items() if name != "proof"}
    own = proved(said, thief, "2026-11-28T10:30:00Z")
    for proof in own["proof"]:
        proof["verificationMethod"] = KEY.public.method

    assert verified(own, TRUST, NOW).finding is Finding.TAMPERED
    assert verified(proved(said, thief, "2026-11-28T10:30:00Z"), TRUST, NOW).finding is (
        Finding.TAMPERED
    )


def test_a_proof_in_another_keys_name_is_refused_even_if_our_key_made_it():
    """Who reads the name only would look up the wrong key."""
    said = {name: part for name, part in ISSUED.items() if name != "proof"}
    options = {name: part for name, part in ISSUED["proof"][0].items() if name != "proofValue"}
    options["verificationMethod"] = SigningKey.drawn().public.method
    own = {**options, "proofValue": multibase.encoded(KEY.sign(hashed(said, options)))}

    assert proof_holds(said, own, KEY.public)
    assert verified({**said, "proof": [own]}, TRUST, NOW).finding is Finding.TAMPERED


def test_an_unknown_issuer_is_told_from_a_forgery():
    """The signature fits the key it names, but nobody trusts that key; the name it uses is quoted."""
    stranger = issued(record(), SigningKey.drawn(), HOUSE, SIGNED)
    found = verified(stranger, TRUST, NOW)

    assert found.finding is Finding.UNKNOWN_ISSUER
    assert "The signature fits" in found.sentences[0]
    assert f"calls itself '{HOUSE}'" in found.sentences[0]
    assert found.credential is None
    wrong_key = TrustList((TrustedKey(SigningKey.drawn().public, "Else", SINCE),))
    assert verified(ISSUED, wrong_key, NOW).finding is Finding.UNKNOWN_ISSUER


def test_a_strangers_file_costs_no_more_than_its_signature(monkeypatch):
    """Working out statements can be made dear, so it is done for trusted issuers only."""
    monkeypatch.setattr(jsonld, "normalize", lambda *_: pytest.fail("worked out"))
    stranger = proved_without_rdfc(SigningKey.drawn())

    assert verified(stranger, TRUST, NOW).finding is Finding.UNKNOWN_ISSUER


def proved_without_rdfc(key):
    """Return a credential with a good jcs proof and another that was never looked at."""
    said = document(record(), key.public.did, HOUSE)
    options = {
        "type": "DataIntegrityProof",
        "cryptosuite": JCS,
        "created": "2026-11-28T10:30:00Z",
        "verificationMethod": key.public.method,
        "proofPurpose": "assertionMethod",
    }
    message = hashed(said, options)
    jcs = {**options, "proofValue": multibase.encoded(key.sign(message))}
    return {**said, "proof": [jcs, {**jcs, "cryptosuite": RDFC}]}


@pytest.mark.parametrize(
    ("now", "finding", "words"),
    [
        (DECIDED - dt.timedelta(days=1), Finding.NOT_YET_VALID, "begins on 28 November 2026 10:30"),
        (SIGNED - dt.timedelta(seconds=1), Finding.NOT_YET_VALID, "clock says"),
        (SIGNED, Finding.GOOD, "Authentic"),
        (UNTIL, Finding.GOOD, "Authentic"),
        (UNTIL + dt.timedelta(seconds=1), Finding.EXPIRED, "ended on 28 November 2027 09:30"),
    ],
)
def test_a_credential_has_its_time(now, finding, words):
    """Before, at the first moment, at the last, after; what it says is shown with it."""
    found = verified(ISSUED, TRUST, now)

    assert found.finding is finding
    assert words in found.sentences[0]
    assert found.credential is not None


def test_a_withdrawn_credential_is_told_with_the_lists_date():
    """Withdrawn beats expired: whoever looks later still learns it."""
    listed = stated({94_567})

    for now in (NOW, UNTIL + dt.timedelta(days=1)):
        found = verified(ISSUED, TRUST, now, listed)
        assert found.finding is Finding.WITHDRAWN
        assert "status list of 1 March 2027 12:00 UTC" in found.sentences[0]
    other = verified(ISSUED, TRUST, NOW, stated({94_566, 94_568}))
    assert other.finding is Finding.GOOD
    assert other.status_as_of == NOW
    assert other.sentences[1] == (
        "Not withdrawn: status as of 1 March 2027 12:00 UTC. Later is not known."
    )


def test_a_list_older_than_the_credential_says_nothing_of_it():
    """It cannot have known it."""
    found = verified(ISSUED, TRUST, NOW, stated(at=SIGNED - dt.timedelta(days=1)))

    assert found.finding is Finding.GOOD
    assert "older than the credential" in found.sentences[1]
    assert found.status_as_of is None


def _unpacked_bomb():
    import base64
    import gzip

    packed = gzip.compress(bytes(100_000_000), 9)
    return "u" + base64.urlsafe_b64encode(packed).decode().rstrip("=")


@pytest.mark.parametrize(
    ("make", "words"),
    [
        (lambda: stated(key=SigningKey.drawn()), "not among the trusted keys"),
        (lambda: {**stated({94_567}), "validFrom": "2027-03-02T00:00:00Z"}, "does not fit what"),
        (
            lambda: stated(list_id="7d3f0a52-0000-4000-8000-00000000bbbb"),
            "The status list is another one",
        ),
        (lambda: ISSUED, "@context"),
        (list, "not a status list"),
        (lambda: {**stated(), "note": "more"}, "note is unknown"),
    ],
    ids=["stranger", "altered", "other list", "a credential", "nothing", "added"],
)
def test_a_list_that_does_not_count_is_refused(make, words):
    """A withdrawn person who brings a list of their own gains nothing."""
    found = verified(ISSUED, TRUST, NOW, make())

    assert found.finding is Finding.BAD_LIST
    assert words in found.sentences[0]


def test_another_trusted_houses_list_does_not_clear_ours():
    """It could carry our list's identity."""
    other = SigningKey.drawn()
    both = TrustList((*TRUST.keys, TrustedKey(other.public, "Else House", SINCE)))
    found = verified(ISSUED, both, NOW, stated(key=other, house="Else House"))

    assert found.finding is Finding.BAD_LIST
    assert "signed by Else House, the credential by Quince Lane" in found.sentences[0]


def test_a_list_that_unpacks_without_end_is_refused_unpacked():
    """100 MB of zeros in 130 kB: it is refused before even a tenth of it is in memory."""
    packed = _unpacked_bomb()
    tracemalloc.start()
    try:
        with pytest.raises(ValueError, match="larger than any list"):
            withdrawals_of(packed)
        _, most_bytes = tracemalloc.get_traced_memory()
    finally:
        tracemalloc.stop()

    assert most_bytes < 10_000_000


@pytest.mark.parametrize("text", ["", "x", "u", "uAAAA", "u!!!!", "uH4sIAAAAAAAAA"])
def test_a_damaged_list_is_refused(text):
    """No base, no packing, cut off."""
    with pytest.raises(ValueError, match="status list"):
        withdrawals_of(text)


@given(st.sets(st.integers(0, PLACES - 1), max_size=40))
@settings(max_examples=25)
def test_exactly_the_withdrawn_are_listed(places):
    """Packed and unpacked; the neighbours are not."""
    listed = withdrawals_of(Withdrawals.of(places).encoded)

    assert all(place in listed for place in places)
    near = {p + step for p in places for step in (-1, 1)} - places
    assert not any(place in listed for place in near if 0 <= place < PLACES)


def test_what_an_old_key_signed_stays_good_after_the_change():
    """Signed before by the old and after by the new; what the old one signs later does not count."""
    new, at = SigningKey.drawn(), dt.datetime(2027, 1, 1, tzinfo=dt.UTC)
    after = TRUST.after(changed(KEY, new, at))
    late = at + dt.timedelta(days=1)

    assert verified(ISSUED, after, NOW, stated(key=new)).finding is Finding.GOOD
    assert verified(issued(record(), new, HOUSE, late), after, NOW).finding is Finding.GOOD
    stolen = verified(issued(record(), KEY, HOUSE, late), after, NOW)
    assert stolen.finding is Finding.UNKNOWN_ISSUER
    assert "was not in use" in stolen.sentences[0]
    early = verified(issued(record(), new, HOUSE, SIGNED), after, NOW)
    assert early.finding is Finding.UNKNOWN_ISSUER


def test_not_yet_competent_is_never_awarded():
    """There is nothing to hand out."""
    with pytest.raises(ValueError, match="only a competent outcome"):
        issued(record(outcome=Outcome.NOT_YET), KEY, HOUSE, SIGNED)


@given(
    st.recursive(
        st.none() | st.booleans() | st.integers() | st.floats() | st.text(),
        lambda c: st.lists(c) | st.dictionaries(st.text(), c),
        max_leaves=12,
    )
)
def test_no_json_breaks_the_verifier(found):
    """Whatever comes, it is a finding and a sentence."""
    assert verified(found, TRUST, NOW).finding is Finding.UNREADABLE
    replaced = verified({**ISSUED, "credentialSubject": found}, TRUST, NOW, found)
    assert replaced.finding is Finding.UNREADABLE


def test_the_same_record_signed_at_the_same_moment_is_the_same_file():
    """Ed25519 has no dice."""
    assert issued(record(), KEY, HOUSE, SIGNED) == ISSUED
