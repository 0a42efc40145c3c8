"""Find rows of digits in a film by themselves, for a person to choose from."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from breakwright.model.errors import ImpossibleValue
from breakwright.model.film import Quad
from breakwright.reading.film_propose_score import Straight, straight
from breakwright.reading.film_propose_strokes import rows

__all__ = ["propose"]

Pixels = NDArray[np.uint8]

_MOST = 8
# Of the best: what is less likely than this is not worth a person's look.
_FLOOR = 0.25


@dataclass(frozen=True, slots=True)
class _Found:
    quad: NDArray[np.float64]
    score: float
    votes: float
    frame: int

    @property
    def middle(self) -> NDArray[np.float64]:
        middle: NDArray[np.float64] = self.quad.mean(axis=0)
        return middle

    @property
    def height(self) -> float:
        return float(np.linalg.norm(self.quad[3] - self.quad[0]))

    @property
    def width(self) -> float:
        return float(np.linalg.norm(self.quad[1] - self.quad[0]))

    @property
    def along(self) -> NDArray[np.float64]:
        along: NDArray[np.float64] = (self.quad[1] - self.quad[0]) / max(self.width, 1e-9)
        return along


def propose(frames: Sequence[Pixels]) -> tuple[Quad, ...]:
    """Return the likeliest rows of digits, best first, at most eight.

    ``frames`` are a few upright pictures of one film, apart in time so that the digits change,
    each (h, w, 3) as Y, U, V, or (h, w) brightness alone. Places are those of the first frame in
    which a row was seen. A row is told by its strokes: all across or along, the strokes along it
    on three levels only (top, middle, bottom), as no lettering and no grain of wood has them;
    one seen in several frames counts more. Which way is up is told by digits that
    are none when turned (3, 4, 7) and by the point; a row without either as the other rows are,
    and where none tells, upright or turned clockwise.
    """
    found = [
        one
        for number, frame in enumerate(frames)
        for one in _in_frame(_three_planes(frame), number)
    ]
    whole = _groups(found)
    groups = sorted(
        (g for g in whole if not any(_is_part(g, other) for other in whole)),
        key=_likelihood,
        reverse=True,
    )
    if not groups:
        return ()
    best = _likelihood(groups[0])
    likely = [group for group in groups[:_MOST] if _likelihood(group) >= _FLOOR * best]
    quads = []
    for group in likely:
        try:
            quads.append(_quad(group, upright=_votes(group) or _of_all(likely, group[0])))
        except ImpossibleValue:
            continue
    return tuple(quads)


def _three_planes(frame: Pixels) -> Pixels:
    return frame[:, :, None] if frame.ndim == 2 else frame


def _in_frame(picture: Pixels, number: int) -> Iterator[_Found]:
    """Yield each place of the frame once: the best that was seen there."""
    kept: list[_Found] = []
    seen = [(straight(row), row) for row in rows(picture)]
    for told, row in sorted(
        ((told, row) for told, row in seen if told is not None),
        key=lambda pair: pair[0].score,
        reverse=True,
    ):
        one = _placed(told, row.onto, number)
        if not any(_same_place(one, other) for other in kept):
            kept.append(one)
    yield from kept[: 3 * _MOST]


def _placed(told: Straight, onto: NDArray[np.float64], frame: int) -> _Found:
    quad = told.corners @ onto[:, :2].T + onto[:, 2]
    return _Found(quad, told.score, told.votes, frame)


def _same_place(one: _Found, other: _Found) -> bool:
    """Tell whether the middle of either lies within the other, give or take half a height."""
    apart = other.middle - one.middle
    for row in (one, other):
        along = row.along
        across = np.array([-along[1], along[0]])
        if (
            abs(float(apart @ along)) <= 0.5 * row.width + 0.5 * row.height
            and abs(float(apart @ across)) <= row.height
        ):
            return True
    return False


def _groups(found: Sequence[_Found]) -> list[list[_Found]]:
    """Bring together what is one display in several frames."""
    groups: list[list[_Found]] = []
    for one in found:
        for group in groups:
            if _same_place(group[0], one) and abs(float(group[0].along @ one.along)) > 0.7:
                group.append(one)
                break
        else:
            groups.append([one])
    return groups


def _is_part(group: Sequence[_Found], other: Sequence[_Found]) -> bool:
    """Tell whether ``group`` is one digit of ``other``, its two loops taken for a row across."""
    small, large = group[0], other[0]
    return (
        abs(float(small.along @ large.along)) < 0.3
        and small.height < 0.8 * large.height
        and _likelihood(other) > 0.4 * _likelihood(group)
        and _same_place(small, large)
    )


def _likelihood(group: Sequence[_Found]) -> float:
    """The scores' sum, one a frame: a row of digits is there in most frames, glare is not."""
    best: dict[int, float] = {}
    for one in group:
        best[one.frame] = max(best.get(one.frame, 0.0), one.score)
    return sum(best.values())


def _votes(group: Sequence[_Found]) -> float:
    return sum(one.votes for one in group)


def _of_all(groups: Sequence[Sequence[_Found]], row: _Found) -> float:
    """The votes of all rows that lie as ``row`` does: the camera turns all displays alike."""
    return sum(
        _votes(g) * float(np.sign(g[0].along @ row.along))
        for g in groups
        if (abs(float(g[0].along @ row.along)) > 0.9)
    )


def _quad(group: Sequence[_Found], *, upright: float) -> Quad:
    """The row in the first frame that shows it well, as wide as it ever was: a display shows more
    digits later."""
    clearest = max(group, key=lambda one: one.score)
    best, usual = clearest.score, clearest.height
    # In some frame only half of a row may have been seen.
    first = next(
        one for one in group if one.score >= 0.6 * best and abs(one.height / usual - 1.0) <= 0.15
    )
    along = first.along
    start, end = 0.0, first.width
    for one in group:
        # Only rows of nearly the same height tell where digits may come.
        if 0.85 <= one.height / first.height <= 1.18 and one.score >= 0.6 * best:
            shift = float((one.middle - first.middle) @ along)
            start = min(start, shift + first.width / 2.0 - one.width / 2.0)
            end = max(end, shift + first.width / 2.0 + one.width / 2.0)
    quad = first.quad.copy()
    # What the hand moved in between (a few px) is no digit.
    if start < -0.3 * first.height:
        quad[[0, 3]] += along * start
    if end > first.width + 0.3 * first.height:
        quad[[1, 2]] += along * (end - first.width)
    if upright < 0.0:
        quad = quad[[2, 3, 0, 1]]
    corners = [(float(x), float(y)) for x, y in quad]
    return Quad(*corners)
