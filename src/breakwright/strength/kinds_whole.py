"""Parts taken whole: rated by their maker, or known from one's own tests only."""

from collections.abc import Mapping
from types import MappingProxyType

from breakwright.strength.kind_words import did_you_mean
from breakwright.strength.mechanism import Key, KeyUse, Kind, Mechanism
from breakwright.strength.own_tests import OWN_TESTS_KIND
from breakwright.strength.rated import UnknownRatedPart, find_rating, rated_break_load
from breakwright.strength.trust import Trust

__all__ = ["OWN_TESTS", "RATED_PART"]


def _complete(_numbers: Mapping[str, float], words: Mapping[str, str]) -> Mapping[str, float]:
    try:
        return {"factor": find_rating(words["what"]).factor} if "what" in words else {}
    except UnknownRatedPart:
        return {}


def _check(numbers: Mapping[str, float], words: Mapping[str, str]) -> tuple[str, ...]:
    if "what" not in words or "factor" in numbers:
        return ()
    try:
        find_rating(words["what"])
    except UnknownRatedPart as trouble:
        return (f"{trouble}{did_you_mean(trouble.nearest)} Or give its factor yourself.",)
    return ()


RATED_PART = Kind(
    name="rated part",
    meaning="a part with its maker's rated load on it: jack, chain, shackle, eye bolt",
    keys=(
        Key("rated_N", "the load marked on it (working load limit)", KeyUse.SIZE, 1.0, 1e7),
        Key(
            "factor",
            'breaking load over rated load; or say what = "shackle"',
            KeyUse.PROPERTY,
            1.0,
            12.0,
        ),
    ),
    words=MappingProxyType({"what": None}),
    mechanisms=(
        Mechanism(
            "jack stops",
            lambda v: rated_break_load(v["rated_N"], v["factor"]),
            ("rated_N", "factor"),
            Trust.GOOD,
            "its maker's rating; it lifts no more (common practice, no source)",
            when=lambda w: w.get("what", "").strip().casefold() == "jack",
        ),
        Mechanism(
            "rated part breaks",
            lambda v: rated_break_load(v["rated_N"], v["factor"]),
            ("rated_N", "factor"),
            Trust.GOOD,
            "its maker's rating; the usual factors are common practice, no source",
            characteristic=True,
            cv_if_characteristic=0.1,
            notes=(
                "never load it past its rating; the factor is for damage and shock, not for use",
            ),
            when=lambda w: w.get("what", "").strip().casefold() != "jack",
        ),
    ),
    complete=_complete,
    check=_check,
)

# Its prediction comes from the tests alone (own_tests.from_own_tests), not from a mechanism.
OWN_TESTS = Kind(
    name=OWN_TESTS_KIND,
    meaning="anything else: three or more of your own breaking loads in own_tests",
    keys=(),
    mechanisms=(),
)
