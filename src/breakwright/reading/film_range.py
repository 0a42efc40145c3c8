"""Frames in which a display is in its next range: no room is left for the point.

From 99.6 a display of three digits goes on to 104. Row by row that cannot be told from 10.4 with
its point lost; what it showed just before tells it.
"""

from collections.abc import Sequence

from breakwright.reading.film_texts import decimals_of, is_number

__all__ = ["without_point"]

# The number went on smoothly if it is within this share of the last one that had its point.
_SMOOTH = 0.3
# A row that falls by ten and rises as fast in one refresh is no range but a fault of the point.
_NEARLY_FULL = 0.6


def without_point(
    texts: Sequence[tuple[str, ...]],
    sure: Sequence[bool],
    *,
    decimals: int | None,
) -> list[bool]:
    """Return for each frame whether its number stands without a point because it is too large
    for one. ``texts`` are the frames' readings, best first; ``sure`` says which to go by.

    >>> without_point([("99.6",), ("104",), ("111",), ("0.0",)], [True] * 4, decimals=1)
    [False, True, True, False]
    >>> without_point([("12.05",), ("1290",)], [True] * 2, decimals=2)
    [False, False]
    """
    found = [False] * len(texts)
    if not decimals:
        return found
    last, ranged = "", False
    for frame, (candidates, known) in enumerate(zip(texts, sure, strict=True)):
        text = candidates[0] if candidates else ""
        if known and is_number(text):
            if decimals_of(text) == decimals:
                last, ranged = text, False
            elif "." not in text and not ranged:
                ranged = _goes_on(last, text)
        found[frame] = ranged
    return found


def _goes_on(last: str, text: str) -> bool:
    if not last or text.startswith("-") or last.startswith("-"):
        return False
    places = len(last.replace(".", ""))
    before, now = float(last), float(text)
    full = before >= _NEARLY_FULL * 10.0 ** (places - decimals_of(last))
    return full and len(text) == places and abs(now - before) <= _SMOOTH * before
