"""Whether two spellings name one person, as far as whoever reads them can tell."""

import re
import unicodedata

# Letters of other scripts that look like Latin ones, capitals and small ones apart.
# After Unicode Technical Standard 39, confusables (from memory), as far as names use them.
_LOOKS = str.maketrans(
    "АВЕЅІЈКМНОРСТУХаеѕіјкморстухԁһԛԝӏΑΒΕΖΗΙΚΜΝΟΡΤΥΧαεικνορτυχ",
    "ABESIJKMHOPCTYXaesijkmopctyxdhqwlABEZHIKMNOPTYXaeikvoptux",
)

_ONE_STROKE = str.maketrans("i1|0", "lllo")  # a capital I, a small l, a one; an O and a zero


def as_read(name: str) -> str:
    r"""Return what is equal for names that a reader takes for one.

    Capitals, accents, signs that nobody sees, widths, letters of another script that look the
    same, and the order of first name and surname make nobody another.

    Examples
    --------
    >>> as_read("Loft, Ada") == as_read("\u0410da  LO\u200bFT")
    True
    """
    looks = unicodedata.normalize("NFKD", name).translate(_LOOKS)
    apart = unicodedata.normalize("NFKD", looks.casefold()).translate(_LOOKS | _ONE_STROKE)
    seen = "".join(one for one in apart if unicodedata.category(one)[0] not in "MC")
    return " ".join(sorted(re.findall(r"\w+", seen.replace("_", " ")))) or seen
