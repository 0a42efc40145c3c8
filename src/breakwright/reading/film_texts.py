"""What a row of signs can mean on one display: a number, out of range, nothing, or no sense."""

import re
from dataclasses import dataclass
from enum import IntEnum

from breakwright.model.film import DisplayMark

__all__ = ["Kind", "Meaning", "Rules", "decimals_of", "is_number"]

_NUMBER = re.compile(r"-?(\d+\.?\d*|\.\d+)\Z")
# What cheap scales and crane scales show when the load is too much: OL, 0L, ----, Err, EEEE, HHHH
# ('O' comes as 0, 'o' as itself). 'Lo' is a weak battery and not among them. Common practice, no
# source.
_OVER = re.compile(r"-?(?:[0o]\.?L\.?|-+|E{2,}|Err?\.?o?r?|H{2,})\Z")

# How much less likely (nats) a text is that does not fit what is known of the display. A row with
# its point where it does not belong is either misread there or a display that changed its range:
# the two share its probability.
_POINT_LOST = 0.05
_POINT_MOVED = 0.7
_RANGE_CHANGED = 0.7
_OTHER_DECIMALS_NO_POINT = 3.4
_OFF_STEP = 4.0
_TOO_MUCH = 4.0
_TOO_LONG = 6.0
# A display goes a little beyond its capacity before it gives up.
_BEYOND = 1.1


class Kind(IntEnum):
    VALUE = 0
    BLANK = 1
    OVER_RANGE = 2
    NONSENSE = 3


@dataclass(frozen=True, slots=True)
class Meaning:
    """``text`` with its point in place and without leading zeros; ``cost`` (nats) how badly it
    fits the display; ``value`` (in its unit) only for VALUE."""

    kind: Kind
    text: str
    value: float | None
    cost: float


@dataclass(frozen=True, slots=True)
class Rules:
    """What is known of the numbers of one display, to read its texts by. ``decimals`` None:
    wherever the point stands."""

    decimals: int | None
    resolution: float | None = None
    capacity: float | None = None
    digits: int | None = None

    @classmethod
    def of(cls, mark: DisplayMark, *, decimals: int | None) -> "Rules":
        return cls(decimals, mark.resolution, mark.capacity, mark.digits)

    def meanings(self, text: str) -> tuple[Meaning, ...]:
        """Return what ``text`` may mean, the likeliest first.

        >>> [(m.text, m.cost) for m in Rules(decimals=2).meanings("2345")]
        [('23.45', 0.05), ('2345', 3.4)]
        >>> [m.text for m in Rules(decimals=2).meanings("100.0")]
        ['100.0', '10.00']
        >>> Rules(decimals=2).meanings("0L")[0].kind.name
        'OVER_RANGE'
        """
        if text == "":
            return (Meaning(Kind.BLANK, "", None, 0.0),)
        if is_number(text):
            return self._numbers(text)
        if _OVER.match(text) and text != "-":
            return (Meaning(Kind.OVER_RANGE, text, None, 0.0),)
        return (Meaning(Kind.NONSENSE, text, None, 0.0),)

    def _numbers(self, text: str) -> tuple[Meaning, ...]:
        read = decimals_of(text)
        if self.decimals is None or read == self.decimals:
            return (self._number(text, 0.0),)
        pointed = _pointed(text, self.decimals)
        if "." not in text:
            ways = [(pointed, _POINT_LOST), (text, _OTHER_DECIMALS_NO_POINT)]
        else:
            ways = [(text, _RANGE_CHANGED), (pointed, _POINT_MOVED)]
        found = [self._number(way, cost) for way, cost in ways]
        return tuple(sorted(found, key=lambda meaning: meaning.cost))

    def _number(self, text: str, cost: float) -> Meaning:
        text = text.rstrip(".")
        if text.lstrip("-").startswith("."):
            text = text.replace(".", "0.")
        value = float(text)
        if self.resolution:
            steps = value / self.resolution
            cost += _OFF_STEP if abs(steps - round(steps)) > 1e-3 * max(1.0, abs(steps)) else 0.0
        if self.capacity and abs(value) > _BEYOND * self.capacity:
            cost += _TOO_MUCH
        if self.digits and sum(sign.isdigit() for sign in text) > self.digits:
            cost += _TOO_LONG
        # '00.00' and '0.00', '-0.0' and '0.0' are one number.
        value = value if value else 0.0
        return Meaning(Kind.VALUE, f"{value:.{decimals_of(text)}f}", value, cost)


def is_number(text: str) -> bool:
    """Whether ``text`` is a number as a display shows it.

    >>> [is_number(text) for text in ("-1.20", "12.", ".5", "1.2.3", "1-2", "")]
    [True, True, True, False, False, False]
    """
    return _NUMBER.match(text) is not None


def decimals_of(text: str) -> int:
    """Return how many digits follow the point.

    >>> decimals_of("23.45"), decimals_of("100"), decimals_of("7.")
    (2, 0, 0)
    """
    return len(text.rpartition(".")[2]) if "." in text else 0


def _pointed(text: str, decimals: int) -> str:
    sign, digits = ("-", text[1:]) if text.startswith("-") else ("", text)
    digits = digits.replace(".", "")
    if decimals == 0:
        return sign + digits
    digits = digits.rjust(decimals + 1, "0")
    return f"{sign}{digits[:-decimals]}.{digits[-decimals:]}"
