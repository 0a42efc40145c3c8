"""Which of the seven segments each character lights, with the variants that makers use."""

from collections.abc import Mapping

__all__ = ["FIXED", "VARIED", "lit"]

# a top, b upper right, c lower right, d bottom, e lower left, f upper left, g middle.
FIXED: Mapping[str, str] = {
    "0": "abcdef",
    "1": "bc",
    "2": "abdeg",
    "3": "abcdg",
    "4": "bcfg",
    "5": "acdfg",
    "6": "acdefg",
    "7": "abc",
    "8": "abcdefg",
    "9": "abcdfg",
    "-": "g",
    "E": "adefg",
    "L": "def",
    "r": "eg",
    "o": "cdeg",
    "H": "bcefg",
    " ": "",
}

# A 6 without its top, a 7 with its upper left, a 9 without its bottom.
VARIED: Mapping[str, str] = {"6": "cdefg", "7": "abcf", "9": "abcfg"}


def lit(character: str, varied: frozenset[str]) -> str:
    """Return the segments of ``character`` on a display that draws those in ``varied`` the
    other way.

    >>> lit("7", frozenset()), lit("7", frozenset("7"))
    ('abc', 'abcf')
    """
    return VARIED[character] if character in varied else FIXED[character]
