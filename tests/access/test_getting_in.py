"""Passphrases and tries: what is kept, and how whoever errs is slowed down."""

import pytest
from argon2 import PasswordHasher, Type, extract_parameters

from quizzes.access.passphrases import PassphraseError, fits, hashed
from quizzes.access.throttle import FREE_TRIES, LONGEST_WAIT_S, MOST_KEPT, Pace, Throttle

FOUR_WORDS = "pallet thistle copper noon"


def test_what_is_kept_is_an_argon2id_hash_and_fits_its_passphrase_alone():
    """Outside check: RFC 9106, section 4: Argon2id; salt of 16 bytes, tag of 32; 64 MiB at t = 3."""
    kept = hashed(FOUR_WORDS, FOUR_WORDS)
    parameters = extract_parameters(kept)

    assert parameters.type is Type.ID
    assert (parameters.salt_len, parameters.hash_len) == (16, 32)
    assert (parameters.memory_cost, parameters.time_cost) == (64 * 1024, 3)
    assert FOUR_WORDS not in kept
    assert fits(kept, FOUR_WORDS)
    assert not fits(kept, FOUR_WORDS + " ")
    assert not fits(None, "the passphrase of nobody at all")
    assert not fits("no hash", FOUR_WORDS)


@pytest.mark.parametrize(("one", "again"), [("short pass", "short pass"), (FOUR_WORDS, "pallet thistle"), ("a" * 20, "a" * 20),
                                            (FOUR_WORDS * 20, FOUR_WORDS * 20)])  # fmt: skip
def test_a_passphrase_that_cannot_be_is_refused_and_not_repeated(one, again):
    """One sentence, without the passphrase in it."""
    with pytest.raises(PassphraseError) as refused:
        hashed(one, again)

    assert one not in str(refused.value)


def test_failed_tries_slow_down_and_are_forgiven():
    """A person may mistype; then each failure doubles the wait, up to five minutes."""
    throttle, waits = Throttle(), []
    for _ in range(FREE_TRIES + 10):
        waits.append(throttle.wait_s(0.0, "one"))
        throttle.failed(0.0, "one")

    assert waits[:FREE_TRIES] == [0.0] * FREE_TRIES
    assert waits[FREE_TRIES : FREE_TRIES + 4] == [2.0, 4.0, 8.0, 16.0]
    assert waits[-1] == LONGEST_WAIT_S
    assert throttle.wait_s(0.0, "another") == 0
    assert throttle.wait_s(0.0, "another", "one") == LONGEST_WAIT_S
    throttle.succeeded("one")
    assert throttle.wait_s(0.0, "one") == 0


def test_a_guesser_gets_through_few_numbers_of_a_class():
    """By the waits alone an hour holds fewer than thirty tries, of some hundred numbers."""
    throttle, now_s, tries = Throttle(), 0.0, 0
    while now_s < 3600:
        now_s += throttle.wait_s(now_s, "guesser")
        throttle.failed(now_s, "guesser")
        tries += 1

    assert tries < 30


def test_so_many_times_within_a_while_and_no_more():
    """After a while it goes on, and nobody waits for somebody else."""
    pace = Pace(3, 10.0)
    had = [pace.may(at_s, "a") for at_s in (0.0, 1.0, 2.0, 3.0, 9.9, 10.0, 10.5, 11.0)]

    assert had == [True, True, True, False, False, True, False, True]
    assert pace.may(3.0, "b")


def test_what_is_remembered_is_bounded():
    """Names that somebody makes up fill nothing."""
    throttle = Throttle()
    for name in range(MOST_KEPT + 50):
        throttle.failed(0.0, str(name))

    assert len(throttle._failures) == MOST_KEPT


def test_the_librarys_own_reader_knows_the_hash():
    """Outside check: argon2-cffi's verifier reads the PHC string and asks for no new hash."""
    assert not PasswordHasher().check_needs_rehash(hashed(FOUR_WORDS, FOUR_WORDS))
