"""The likeliest story of one display: which thing it showed from which frame to which.

A semi-Markov Viterbi over pieces of frames. Its hypotheses are (label, frame at which the change
to it began), so that leaving a value before its refresh is over has a price; between two values a
transition may stand, which must look like something between the two and is never a value itself.
Loads mostly change little from one refresh to the next (a Laplace price, with an end: slips and
breaks are real), and may fall to zero or stay as they are for nothing.
"""

import itertools
from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from breakwright.model.film import Shown
from breakwright.reading.film_evidence import UNREADABLE, Label, Piece
from breakwright.reading.film_segments import lies_between, union

__all__ = ["Pace", "Stretch", "likeliest_story"]

Floats = NDArray[np.float64]

# Prices in nats, common practice, no source: of a change from value to value, of one to or from
# a thing that is no value, of a transition between; the most a jump of the load can cost; what
# leaving a value at once costs if its refresh is known or only guessed.
_CHANGE = 1.0
_STATE = 2.5
_THROUGH = 0.3
_JUMP = 4.0
_TO_ZERO = 0.5
_TOO_SOON = 8.0
_TOO_SOON_GUESSED = 6.0
# A frame in a transition: the union of both, something else between them, no digits, other.
_UNION, _BETWEEN, _EITHER, _NO_SENSE, _FOREIGN = -0.25, -0.7, -1.2, -0.8, -4.0
_BEAM = 14
_BEAM_DEPTH = 22.0
_LIKELIEST = 3
_TRANSITION_LONGEST_S = 0.5


@dataclass(frozen=True, slots=True)
class Pace:
    """``apart`` is the usual time between frames, ``refresh`` that between two values (s; None:
    not known); ``jump`` the usual step of the load from one value to the next and ``zero`` what
    is near enough to no load, both in the display's unit."""

    apart: float
    refresh: float | None
    jump: float
    zero: float

    @property
    def weight(self) -> float:
        """What a frame counts for: those of 240 a second all have the same faults."""
        return min(1.0, 30.0 * self.apart)

    @property
    def transition(self) -> float:
        """The longest that a transition can take (s)."""
        if self.refresh is None:
            return max(0.2, 2.5 * self.apart)
        return min(max(0.75 * self.refresh, 2.5 * self.apart), _TRANSITION_LONGEST_S)

    def earliest(self, times: Sequence[float]) -> list[float]:
        """Return when (s) what is first seen in each frame may have come: where frames are
        missing before it, in the gap."""
        gaps = (max(0.0, now - then - self.apart) for then, now in pairwise(times))
        return [time - gap for time, gap in zip(times, itertools.chain((0.0,), gaps), strict=True)]

    def too_soon(self, shown_for: float) -> float:
        """The price (nats) of leaving a value that was shown for so long (s)."""
        refresh = self.refresh or 0.12
        missing = (refresh - 1.2 * self.apart - shown_for) / refresh
        if missing <= 0.0:
            return 0.0
        return missing * (_TOO_SOON_GUESSED if self.refresh is None else _TOO_SOON)

    def change(self, old: Label, new: Label) -> float:
        """The price of going from ``old`` to ``new``."""
        if old.value is None or new.value is None:
            return _STATE
        if abs(new.value) <= self.zero:
            return _CHANGE + _TO_ZERO
        return _CHANGE + min(abs(new.value - old.value) / self.jump, _JUMP)


@dataclass(frozen=True, slots=True)
class Stretch:
    """``label`` stood there from frame ``first`` to ``stop`` (not included), where the change to
    the next began; the change to it began at ``began``, before ``first`` if it took a while."""

    label: Label
    began: int
    first: int
    stop: int


class _Node(NamedTuple):
    label: Label
    began: int
    first: int
    before: "_Node | None"


class _Story(NamedTuple):
    """``since`` None: the label may have stood there before it could be seen. ``open_at`` is the
    first piece of a transition that has not ended, None if there is none."""

    score: float
    node: _Node
    since: int | None
    open_at: int | None


def likeliest_story(pieces: Sequence[Piece], times: Floats, *, pace: Pace) -> tuple[Stretch, ...]:
    """Return the stretches from the first frame to the last; between them are transitions."""
    if not pieces:
        return ()
    clock = [*times.tolist(), float(times[-1]) + pace.apart]
    earliest = pace.earliest(clock)
    stories = [
        _Story(_evidence(pieces[0], label, pace), _Node(label, 0, 0, None), None, None)
        for label in _likeliest(pieces[0])
    ]
    for number in range(1, len(pieces)):
        stories = _pruned(_continued(stories, pieces, number, clock, earliest, pace=pace))
    closed = [story for story in stories if story.open_at is None]
    node: _Node | None = max(closed, key=lambda story: story.score).node
    stop, found = pieces[-1].stop, list[Stretch]()
    while node is not None:
        found.append(Stretch(node.label, node.began, node.first, stop))
        stop, node = node.began, node.before
    return tuple(reversed(found))


def _continued(
    stories: Sequence[_Story],
    pieces: Sequence[Piece],
    number: int,
    clock: Sequence[float],
    earliest: Sequence[float],
    *,
    pace: Pace,
) -> list[_Story]:
    piece = pieces[number]
    frame = piece.first
    likely = [(label, _evidence(piece, label, pace)) for label in _likeliest(piece)]
    going: list[_Story] = []
    fresh: dict[Label, _Story] = {}
    for story in stories:
        node = story.node
        if story.open_at is not None:
            _resolved(story, pieces, number, likely=likely, fresh=fresh, pace=pace)
            continue
        stay = story.score + _evidence(piece, node.label, pace)
        going.append(_Story(stay, node, story.since, None))
        value = node.label.value is not None
        left = story.score
        if value and story.since is not None:
            left -= pace.too_soon(clock[frame] - earliest[story.since])
        for label, evidence in likely:
            if label == node.label:
                continue
            both = value and label.value is not None
            score = (left if both else story.score) - pace.change(node.label, label) + evidence
            if label not in fresh or score > fresh[label].score:
                since = frame if both else None
                fresh[label] = _Story(score, _Node(label, frame, frame, node), since, None)
        if value and clock[piece.stop] - clock[frame] <= pace.transition + 1e-9:
            guess = _BETWEEN * pace.weight * (piece.stop - piece.first)
            going.append(_Story(left + guess, node, frame, number))
    for story in stories:
        if story.open_at is not None:
            began = pieces[story.open_at].first
            if clock[piece.stop] - clock[began] <= pace.transition + 1e-9:
                guess = _BETWEEN * pace.weight * (piece.stop - piece.first)
                going.append(story._replace(score=story.score + guess))
    return going + list(fresh.values())


def _resolved(
    story: _Story,
    pieces: Sequence[Piece],
    number: int,
    *,
    likely: Sequence[tuple[Label, float]],
    fresh: dict[Label, _Story],
    pace: Pace,
) -> None:
    """End an open transition here, in each value that may come after it."""
    assert story.open_at is not None
    first = pieces[story.open_at].first
    frame = pieces[number].first
    between = pieces[story.open_at : number]
    start = story.score - _BETWEEN * pace.weight * (frame - first)
    for label, evidence in likely:
        old = story.node.label
        if label.value is None or label == old:
            continue
        score = start - pace.change(old, label) - _THROUGH + evidence
        for piece in between:
            score += _in_transition(piece, old, label) * pace.weight * (piece.stop - piece.first)
        if label not in fresh or score > fresh[label].score:
            fresh[label] = _Story(score, _Node(label, first, frame, story.node), first, None)


def _evidence(piece: Piece, label: Label, pace: Pace) -> float:
    return (piece.floor + piece.gains.get(label, 0.0)) * pace.weight


def _in_transition(piece: Piece, old: Label, new: Label) -> float:
    """Log evidence a frame for a transition from ``old`` to ``new``."""
    seen = max(piece.gains, key=lambda label: piece.gains[label], default=UNREADABLE)
    if seen.shown in (Shown.UNREADABLE, Shown.BLANK):
        return _NO_SENSE
    if seen.value is None:
        return _FOREIGN
    if seen.text in (old.text, new.text):
        return _EITHER
    if seen.text == union(old.text, new.text):
        return _UNION
    return _BETWEEN if lies_between(seen.text, old.text, new.text) else _FOREIGN


def _likeliest(piece: Piece) -> list[Label]:
    labels = sorted(piece.gains, key=lambda label: -piece.gains[label])[:_LIKELIEST]
    if UNREADABLE not in labels:
        labels.append(UNREADABLE)
    return labels


def _pruned(stories: list[_Story]) -> list[_Story]:
    stories.sort(key=lambda story: -story.score)
    least = stories[0].score - _BEAM_DEPTH
    kept = [story for story in stories[:_BEAM] if story.score >= least]
    if any(story.open_at is None for story in kept):
        return kept
    return [*kept, next(story for story in stories if story.open_at is None)]
