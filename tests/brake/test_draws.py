"""Dice that fall the same way years later."""

import copy
import pickle
import struct
import subprocess
import sys

import pytest
from hypothesis import given
from hypothesis import strategies as st

from widgets.brake import draws
from widgets.brake.draws import Draws

KEY = bytes(range(32))
DRAWS = Draws(KEY)
LABELS = st.lists(st.one_of(st.text(max_size=6), st.integers()), max_size=4)

# BLAKE2b written independently from RFC 7693 sections 2 and 3, so that the draws are checked without hashlib.
_IV = (
    0x6A09E667F3BCC908, 0xBB67AE8584CAA73B, 0x3C6EF372FE94F82B, 0xA54FF53A5F1D36F1,
    0x510E527FADE682D1, 0x9B05688C2B3E6C1F, 0x1F83D9ABFB41BD6B, 0x5BE0CD19137E2179,
)  # fmt: skip
_SIGMA = (
    (0, 1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 11, 12, 13, 14, 15),
    (14, 10, 4, 8, 9, 15, 13, 6, 1, 12, 0, 2, 11, 7, 5, 3),
    (11, 8, 12, 0, 5, 2, 15, 13, 10, 14, 3, 6, 7, 1, 9, 4),
    (7, 9, 3, 1, 13, 12, 11, 14, 2, 6, 5, 10, 4, 0, 15, 8),
    (9, 0, 5, 7, 2, 4, 10, 15, 14, 1, 11, 12, 6, 8, 3, 13),
    (2, 12, 6, 10, 0, 11, 8, 3, 4, 13, 7, 5, 15, 14, 1, 9),
    (12, 5, 1, 15, 14, 13, 4, 10, 0, 7, 6, 3, 9, 2, 8, 11),
    (13, 11, 7, 14, 12, 1, 3, 9, 5, 0, 15, 4, 8, 6, 2, 10),
    (6, 15, 14, 9, 11, 3, 0, 8, 12, 2, 13, 7, 1, 4, 10, 5),
    (10, 2, 8, 4, 7, 6, 1, 5, 15, 11, 9, 14, 3, 12, 13, 0),
)
_MIXED = ((0, 4, 8, 12), (1, 5, 9, 13), (2, 6, 10, 14), (3, 7, 11, 15),
          (0, 5, 10, 15), (1, 6, 11, 12), (2, 7, 8, 13), (3, 4, 9, 14))  # fmt: skip
_WORD = (1 << 64) - 1


def _turn(word, by):
    return (word >> by | word << (64 - by)) & _WORD


def _compress(h, block, count, last):
    v = [*h, *_IV]
    v[12] ^= count
    v[14] ^= _WORD if last else 0
    m = struct.unpack("<16Q", block)
    for turn in range(12):
        for place, (a, b, c, d) in enumerate(_MIXED):
            for half, (first, second) in enumerate(((32, 24), (16, 63))):
                v[a] = (v[a] + v[b] + m[_SIGMA[turn % 10][2 * place + half]]) & _WORD
                v[d] = _turn(v[d] ^ v[a], first)
                v[c] = (v[c] + v[d]) & _WORD
                v[b] = _turn(v[b] ^ v[c], second)
    return [x ^ v[i] ^ v[i + 8] for i, x in enumerate(h)]


def _blake2b(message, key, size):
    h = [_IV[0] ^ 0x01010000 ^ len(key) << 8 ^ size, *_IV[1:]]
    text = (key.ljust(128, b"\0") if key else b"") + message
    blocks = [text[at : at + 128] for at in range(0, len(text), 128)] or [b""]
    for number, block in enumerate(blocks, 1):
        last = number == len(blocks)
        count = len(text) if last else 128 * number
        h = _compress(h, block.ljust(128, b"\0"), count, last)
    return struct.pack("<8Q", *h)[:size]


def test_the_reference_hash_gives_the_published_digests():
    """The hash of these tests agrees with RFC 7693 appendix A, and the keyed vector of its authors."""
    plain = _blake2b(b"abc", b"", 64).hex()  # RFC 7693 appendix A
    keyed = _blake2b(b"", bytes(range(64)), 64).hex()  # blake2b known answer 0, from memory

    assert plain.startswith("ba80a53f981c4d0d6a2797b69f12f6e94c212f14685ac4b74b12bb6fdbffa2d1")
    assert keyed.startswith("10ebb67700b1868efb4417987acf4690ae9d972fb7a590c2f02871799aaa4786")


@pytest.mark.parametrize(
    ("labels", "text"),
    [
        ((), b""),
        (("hand",), b"s4:hand"),
        (("hand", 3), b"s4:handi3;"),
        ((-12, "ü"), b"i-12;s2:\xc3\xbc"),
        (("a" * 200, 10**30), b"s200:" + b"a" * 200 + b"i1" + b"0" * 30 + b";"),
    ],
)
def test_a_draw_can_be_worked_out_from_the_rfc_alone(labels, text):
    """A uniform draw is the first 53 bits of a keyed hash of its labels: nothing else comes in."""
    expected = (int.from_bytes(_blake2b(b"u" + text, KEY, 8), "big") >> 11) / 2**53

    assert DRAWS.uniform(*labels) == expected


def test_a_child_is_keyed_by_the_hash_of_its_labels():
    """A child's key, too, can be worked out from the RFC alone."""
    key = _blake2b(b"cs6:leaves", KEY, 32)

    assert DRAWS.child("leaves") == Draws(key)


@pytest.mark.parametrize("number", range(200))
def test_normal_draws_are_the_quantiles_of_their_bits(number):
    """Outside check: SciPy's quantile of the same 52 bits, apart from the grid of 2**-20."""
    from scipy.special import ndtri

    bits = int.from_bytes(_blake2b(b"ni%d;" % number, KEY, 8), "big") >> 12
    draw = DRAWS.normal(number)

    assert draw == pytest.approx(ndtri((bits + 0.5) / 2**52), abs=2**-21 + 1e-12)
    assert (draw * 2**20).is_integer()


def test_draws_follow_their_distributions():
    """Outside check: Kolmogorov and Smirnov find 20,000 draws even, and normal."""
    from scipy.stats import kstest

    even = [DRAWS.uniform("k", i) for i in range(20_000)]
    bell = [DRAWS.normal("k", i) for i in range(20_000)]

    assert kstest(even, "uniform").pvalue > 0.001
    assert kstest(bell, "norm").pvalue > 0.001


def test_draws_of_neighbours_are_not_related():
    """Neighbouring labels, and the two kinds of draw, correlate no more than chance would."""
    import numpy as np

    even = np.array([DRAWS.uniform("k", i) for i in range(10_000)])
    bell = np.array([DRAWS.normal("k", i) for i in range(10_000)])

    # Four standard errors of a correlation of nothing: 4 / sqrt(10,000).
    assert abs(np.corrcoef(even[:-1], even[1:])[0, 1]) < 0.04
    assert abs(np.corrcoef(even, bell)[0, 1]) < 0.04


def test_a_choice_is_fair():
    """Each of five options comes up as often as the others, by Pearson's test."""
    from scipy.stats import chisquare

    chosen = [DRAWS.choice("abcde", "fault", i) for i in range(5000)]

    assert chisquare([chosen.count(option) for option in "abcde"]).pvalue > 0.001


@given(LABELS, LABELS)
def test_different_labels_never_share_a_draw(one, other):
    """No list of labels reads like another: ("ab",) is not ("a", "b"), nor 1 the text "1"."""
    same = DRAWS.uniform(*one) == DRAWS.uniform(*other)

    assert same == (one == other)


@given(LABELS)
def test_draws_stay_in_range(labels):
    """An even draw is never 1, and the order of asking changes nothing."""
    first = DRAWS.uniform(*labels)
    DRAWS.normal(*labels)

    assert 0 <= first < 1
    assert DRAWS.uniform(*labels) == first
    assert abs(DRAWS.normal(*labels)) < 8.3  # the quantile of 2**-53


@pytest.mark.parametrize("bits", [0, 2**64 - 1])
def test_the_rarest_draws_are_finite(monkeypatch, bits):
    """A hash of all zeros or all ones still gives a number below 1, and a finite normal."""
    monkeypatch.setattr(draws, "_bits", lambda *_: bits)
    own = Draws(b"only used here, %d" % (bits % 2))  # a normal draw is kept by its key

    assert 0 <= own.uniform() < 1
    assert abs(own.normal()) == pytest.approx(8.2095, abs=1e-4)  # scipy.special.ndtri(2**-53)
    assert own.choice("abc") in "abc"


def test_another_process_draws_the_same():
    """A fresh Python with other hash seeds gives the same draws."""
    code = (
        "from widgets.brake.draws import Draws; d = Draws(bytes(range(32)));"
        "print(d.uniform('a', 1), d.normal('a', 1), d.child('x').uniform())"
    )
    told = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)

    here = (DRAWS.uniform("a", 1), DRAWS.normal("a", 1), DRAWS.child("x").uniform())
    assert told.stdout.split() == [str(draw) for draw in here]


def test_the_key_is_not_shown():
    """Printing the dice tells nobody how they will fall."""
    assert KEY.hex() not in repr(DRAWS)
    assert repr(KEY) not in repr(DRAWS)


def test_dice_can_be_copied():
    """A copied or pickled set of dice falls as the first."""
    assert pickle.loads(pickle.dumps(DRAWS)) == DRAWS
    assert copy.deepcopy(DRAWS).uniform(1) == DRAWS.uniform(1)


@pytest.mark.parametrize("key", [b"", b"x" * 15, b"x" * 65, "x" * 32, None])
def test_a_key_that_can_be_guessed_is_refused(key):
    """Fewer than 128 bits, or no bytes at all, are not a key."""
    with pytest.raises(ValueError, match="key must be"):
        Draws(key)


@pytest.mark.parametrize("label", [1.5, None, True, b"x", ("a",)])
def test_a_label_is_text_or_a_whole_number(label):
    """A float as label would depend on its rounding, so it is refused."""
    with pytest.raises(ValueError, match="label must be a str or an int"):
        DRAWS.uniform("a", label)


def test_nothing_cannot_be_chosen_from():
    """An empty list has no option."""
    with pytest.raises(ValueError, match="at least one"):
        DRAWS.choice([], "a")
