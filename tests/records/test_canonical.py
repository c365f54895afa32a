"""The fast spelling of JSON is the one of RFC 8785, or none at all."""

import math

import pytest
import rfc8785
from hypothesis import given, settings
from hypothesis import strategies as st

from quizzes.records.canonical import spelt_fast

NUMBERS = (
    st.floats(allow_nan=True) | st.integers() | st.sampled_from([-0.0, 90.0, 0.35, 1e16, 1e-7])
)
ANY_JSON = st.recursive(
    st.none() | st.booleans() | NUMBERS | st.text(),
    lambda inner: st.lists(inner, max_size=4) | st.dictionaries(st.text(), inner, max_size=4),
    max_leaves=12,
)


@settings(max_examples=150)
@given(ANY_JSON)
def test_the_fast_spelling_is_the_canonical_one(value):
    """Against the library, which is another implementation; where it refuses, so does the fast one."""
    fast = spelt_fast(value)

    if fast is not None:
        assert fast == rfc8785.dumps(value)


# RFC 8785 (2020), section 3.2.2.3 and appendix B: numbers as ECMAScript writes them.
PUBLISHED = {
    333333333.33333329: "333333333.3333333",
    4.50: "4.5",
    2e-3: "0.002",
    9007199254740991: "9007199254740991",
    0.0: "0",
    295147905179352830000: None,  # 2**68: left to the library
    1e30: None,
    1e-27: None,
    9.999999999999997e22: None,
    math.nan: None,
}


@pytest.mark.parametrize(("number", "spelt"), PUBLISHED.items())
def test_numbers_are_spelt_as_the_standard_prints_them(number, spelt):
    """What would need an exponent is left to the library."""
    fast = spelt_fast({"n": number})

    assert fast == (None if spelt is None else f'{{"n":{spelt}}}'.encode())
