"""Why a number is missing, in words. A code without words of its own is shown as it is."""

from types import MappingProxyType

__all__ = ["KNOWN_REASONS", "missing_words"]

_REASONS = MappingProxyType(
    {
        "all-at-least": "every reading of the group is an 'at least', so nothing says where it "
        "ends",
        "all-at-most": "every reading of the group is an 'at most', so nothing says where it "
        "begins",
        "both-all-at-least": "every reading of both groups is an 'at least'",
        "no-reading": "no piece is left to reckon with",
        "no-scatter": "the readings are all alike, so there is no scatter to reckon with",
        "no-upper-limit": "the readings set no upper limit",
        "no-lower-limit": "the readings set no lower limit",
        "nothing-side-by-side": "no piece broke while every group still had pieces to compare",
        "one-exact-reading": "a group with one reading to the end shows no scatter of its own",
        "one-value-explains-all": "one single load would explain every reading, so the scatter "
        "could be anything",
        "too-few-pieces": "there are too few pieces",
        "unbounded-scatter": "the readings set no bound to the scatter",
    }
)
KNOWN_REASONS = frozenset(_REASONS)


def missing_words(code: str | None) -> str:
    """Return the reason for a missing number as a clause without a full stop.

    >>> missing_words("too-few-pieces")
    'there are too few pieces'
    >>> missing_words("something-new")
    "the reason has the code 'something-new'"
    """
    if code is None:
        return "no reason was given"
    return _REASONS.get(code, f"the reason has the code '{code}'")
