"""The words that scales and load cells put on a line: units, states, 'no number'.

The two-letter states at the head of a line (ST: steady, US: still moving, GS, NT: gross and net)
and the words for a display that has run out are common practice of scale makers, no source.
"""

import re
from collections.abc import Mapping
from enum import StrEnum
from types import MappingProxyType

from breakwright.model.units import ForceUnit

__all__ = [
    "FORCE_OF",
    "MASS_OF",
    "NO_NUMBER",
    "STATE",
    "STATE_OF_TARE",
    "TIME_OF",
    "Fault",
    "Stamps",
]


class Stamps(StrEnum):
    """What the device counts its time in; ``NONE``: a number that looks like a time is none."""

    S = "s"
    MS = "ms"
    US = "us"
    NONE = "none"


class Fault(StrEnum):
    """Why a line gave no load. The codes up to ``COLUMNS_UNCLEAR`` are questions that an option
    answers; the others are lines lost on the way."""

    UNIT_MISSING = "unit-missing"
    FORCE_OR_MASS = "force-or-mass"
    UNIT_DISAGREES = "unit-disagrees"
    DECIMAL_UNCLEAR = "decimal-unclear"
    COLUMNS_UNCLEAR = "columns-unclear"
    COLUMNS_CHANGED = "columns-changed"
    GARBAGE = "garbage"
    TOO_LONG = "too-long"
    HALF = "half"

    @property
    def asks(self) -> bool:
        """Whether an option would have made a reading of the line."""
        return self in _QUESTIONS


_QUESTIONS = (
    Fault.UNIT_MISSING,
    Fault.FORCE_OR_MASS,
    Fault.UNIT_DISAGREES,
    Fault.DECIMAL_UNCLEAR,
    Fault.COLUMNS_UNCLEAR,
)

FORCE_OF: Mapping[str, ForceUnit] = MappingProxyType({u.value.lower(): u for u in ForceUnit})
MASS_OF: Mapping[str, ForceUnit] = MappingProxyType(
    {"kg": ForceUnit.KGF, "kgs": ForceUnit.KGF, "lb": ForceUnit.LBF, "lbs": ForceUnit.LBF}
)
TIME_OF: Mapping[str, Stamps] = MappingProxyType(
    {"s": Stamps.S, "sec": Stamps.S, "ms": Stamps.MS, "us": Stamps.US, "µs": Stamps.US}
)

STATE = re.compile(r"(ST|US|OL|GS|NT|TR)\b[\s,;:]*", re.IGNORECASE | re.ASCII)
STATE_OF_TARE = "TR"

# A number of digits replaced by bars, an overflow word, or what a program prints for 'no number'.
NO_NUMBER = re.compile(
    r"[+-]?\s*(?:O\.?L\.?\b|OVER(?:LOAD|[ -]?RANGE)?\b|OFL\b|OVR\b|ERR(?:OR)?\b|E\d{1,2}\b"
    r"|NAN\b|INF(?:INITY)?\b|[-=_*^]{3,})",
    re.IGNORECASE | re.ASCII,
)
