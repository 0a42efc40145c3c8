"""What each frame says for each thing a display may show: log evidence, before any time model.

Frames are cut into pieces at each change of the likeliest reading. Within a piece every label
has a sum of evidence; a label that no candidate of a frame speaks for has that frame's floor, so
that one bad frame is outvoted by its neighbours and a run of them is not.
"""

import math
from collections import Counter
from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from breakwright.model.film import DisplayMark, Shown
from breakwright.reading.film_range import without_point
from breakwright.reading.film_texts import Kind, Rules, decimals_of, is_number
from breakwright.reading.film_track import DisplayTrack

__all__ = [
    "BLANK",
    "FAINT",
    "LOST",
    "OUT_OF_SIGHT",
    "UNREADABLE",
    "Evidence",
    "Label",
    "Piece",
    "decimals_in",
    "evidence_of",
    "pieces_of",
]

# The tracker's trust and the share of the row within the frame below which nothing is read.
LOST = 0.25
_CUT_OFF = 0.97
# Contrast below these shares of the usual one is 'dark' and 'dim'.
FAINT = 0.03
_DARK = 0.3
_DIM = 0.5

# Log evidence (nats) of a frame, common practice, no source: for what its candidates do not
# mention, for a number where no digits were seen, for no reading at all.
_FLOOR = -5.0
_FLOOR_NO_DIGITS = -3.0
_FLOOR_LOST = -4.0
_UNREADABLE = -2.3
_UNREADABLE_NO_DIGITS = -0.5
_UNREADABLE_NONSENSE = -0.7
_BLANK_DARK, _BLANK_DIM, _BLANK_BRIGHT, _BLANK_BUT_DIGITS = -0.1, -1.2, -3.0, -1.5
_SURE = math.log(0.8)

Floats = NDArray[np.float64]


@dataclass(frozen=True, slots=True)
class Label:
    """One thing the display may show. ``value`` is None unless it is a value."""

    shown: Shown
    text: str
    value: float | None


UNREADABLE = Label(Shown.UNREADABLE, "", None)
BLANK = Label(Shown.BLANK, "", None)
OUT_OF_SIGHT = Label(Shown.OUT_OF_SIGHT, "", None)


@dataclass(frozen=True, slots=True)
class Evidence:
    """``frames[f]`` maps labels to log evidence, ``floors[f]`` is that of all others, ``best[f]``
    the likeliest label."""

    frames: tuple[dict[Label, float], ...]
    floors: tuple[float, ...]
    best: tuple[Label, ...]


@dataclass(frozen=True, slots=True)
class Piece:
    """Frames ``first`` to ``stop`` (not included) that read alike. ``gains`` are each label's
    evidence above ``floor``, summed over the frames."""

    first: int
    stop: int
    gains: dict[Label, float]
    floor: float


def decimals_in(track: DisplayTrack) -> int | None:
    """Return how many digits follow the point: as marked, or as most sure numbers of the film
    have it, or as the resolution needs; None where nothing tells."""
    if track.mark.decimals is not None:
        return track.mark.decimals
    least = _decimals_of_step(track.mark)
    votes = Counter(
        decimals_of(texts[0])
        for texts, score in zip(track.texts, track.scores[:, 0].tolist(), strict=True)
        if texts and score > _SURE and is_number(texts[0])
    )
    pointed = {n: count for n, count in votes.items() if n > 0 and n >= (least or 0)}
    # A point is lost far more often than one is made up.
    if pointed and sum(pointed.values()) > 0.2 * votes.total():
        return max(pointed, key=lambda n: pointed[n])
    return least if least is not None else 0 if votes else None


def evidence_of(track: DisplayTrack, decimals: int | None) -> Evidence:
    """Return the evidence of every frame of ``track``."""
    rules = Rules.of(track.mark, decimals=decimals)
    usual = _usual_contrast(track)
    whole = replace(rules, decimals=0)
    ranged = without_point(track.texts, _sure(track), decimals=decimals)
    known: dict[tuple[bool, str], tuple[tuple[Label, float], ...]] = {}
    frames: list[dict[Label, float]] = []
    floors: list[float] = []
    seen = ((track.trust >= LOST) & (track.inside >= _CUT_OFF)).tolist()
    shares = (track.contrast / usual).tolist()
    for texts, scores, sight, share, large in zip(
        track.texts, track.scores.tolist(), seen, shares, ranged, strict=True
    ):
        if not sight:
            frames.append({OUT_OF_SIGHT: 0.0})
            floors.append(_FLOOR_LOST)
            continue
        found: dict[Label, float] = {}
        for text, score in zip(texts, scores, strict=False):
            if (large, text) not in known:
                known[large, text] = _labels(whole if large else rules, text)
            for label, cost in known[large, text]:
                before = found.get(label)
                now = score - cost
                found[label] = now if before is None else float(np.logaddexp(before, now))
        empty = not texts or texts[0] == ""
        blank = found.pop(BLANK, None)
        found[BLANK] = _blank(empty, share)
        if blank is not None and not empty:
            found[BLANK] = max(found[BLANK], blank + _BLANK_BRIGHT)
        nonsense = found.get(UNREADABLE, -math.inf) + _UNREADABLE_NONSENSE
        found[UNREADABLE] = max(_UNREADABLE_NO_DIGITS if empty else _UNREADABLE, nonsense)
        frames.append(found)
        floors.append(_FLOOR_NO_DIGITS if empty else _FLOOR)
    best = tuple(max(found, key=lambda label: found[label]) for found in frames)
    return Evidence(tuple(frames), tuple(floors), best)


def pieces_of(evidence: Evidence) -> list[Piece]:
    """Cut the frames wherever the likeliest label changes."""
    pieces: list[Piece] = []
    best = evidence.best
    first = 0
    for frame in range(1, len(best) + 1):
        if frame < len(best) and best[frame] == best[first]:
            continue
        gains: dict[Label, float] = {}
        for place in range(first, frame):
            floor = evidence.floors[place]
            for label, logs in evidence.frames[place].items():
                if logs > floor:
                    gains[label] = gains.get(label, 0.0) + logs - floor
        pieces.append(Piece(first, frame, gains, sum(evidence.floors[first:frame])))
        first = frame
    return pieces


def _labels(rules: Rules, text: str) -> tuple[tuple[Label, float], ...]:
    labels = []
    for meaning in rules.meanings(text):
        if meaning.kind is Kind.VALUE:
            labels.append((Label(Shown.VALUE, meaning.text, meaning.value), meaning.cost))
        elif meaning.kind is Kind.OVER_RANGE:
            labels.append((Label(Shown.OVER_RANGE, meaning.text, None), meaning.cost))
        elif meaning.kind is Kind.BLANK:
            labels.append((BLANK, meaning.cost))
        else:
            labels.append((UNREADABLE, meaning.cost))
    return tuple(labels)


def _blank(empty: bool, share: float) -> float:
    if not empty:
        return _BLANK_BUT_DIGITS if share < _DARK else _FLOOR
    if share < _DARK:
        return _BLANK_DARK
    return _BLANK_DIM if share < _DIM else _BLANK_BRIGHT


def _usual_contrast(track: DisplayTrack) -> float:
    """The contrast where a number was surely read; of all frames where none was."""
    sure = _sure(track)
    some = track.contrast[np.array(sure, bool)] if any(sure) else np.empty(0)
    return max(float(np.median(some)) if len(some) else 0.0, 2.0 * FAINT)


def _sure(track: DisplayTrack) -> list[bool]:
    """Where a number was surely read."""
    return [
        bool(texts) and score > _SURE and is_number(texts[0])
        for texts, score in zip(track.texts, track.scores[:, 0].tolist(), strict=True)
    ]


def _decimals_of_step(mark: DisplayMark) -> int | None:
    if not mark.resolution:
        return None
    for decimals in range(6):
        steps = mark.resolution * 10.0**decimals
        if abs(steps - round(steps)) < 1e-6 * max(1.0, steps):
            return decimals
    return None
