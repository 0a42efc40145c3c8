"""Follow one display through a film by its surroundings, never by its digits, which change.

Every frame is held against the frame in which the display was marked, so that no error adds up:
points around the digit row are found again by optical flow (B. D. Lucas and T. Kanade, 1981, in
pyramids), and a plane's motion is fitted to those that agree. How many do is the trust: a display
whose light went out is still where it was. One that is lost is looked for, near its last place
first, and never where another display of the film is.
"""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from breakwright.model.film import Quad
from breakwright.reading.film_flow import Fit, held_against
from breakwright.reading.film_plane import keeps_shape, moved, shift
from breakwright.reading.film_ports import Frame
from breakwright.reading.film_rectify import box_around, clipped
from breakwright.reading.film_search import likely_motions
from breakwright.reading.film_template import Template

__all__ = ["Place", "Tracker"]

# In digit heights, how far around the row the surroundings reach.
_AROUND = 1.5
# Digits are this high (px) in the picture that is followed.
_FINE = 20.0
_MOST_POINTS = 64
# Share of the points in sight that agree: up to the first it is lost, from the second on trust
# is full.
_LOST, _SURE = 0.16, 0.45
# Points that seldom moved along (the wall behind a hanging scale) are not asked any more.
_FORGET, _STRAY = 0.03, 0.25
# A lost display is looked for in every so many frames, at first within so many digit heights,
# and farther by so many with every second that it is lost.
_LOOK_AGAIN, _REACH, _REACH_A_SECOND = 3, 4.0, 12.0

Floats = NDArray[np.float64]


@dataclass(frozen=True, slots=True)
class Place:
    """Where the row is: ``corners`` (4, 2) px; ``trust`` 0 (lost) to 1."""

    corners: Floats
    trust: float


class Tracker:
    """Follows the display marked by ``quad`` in ``frame``; ``size`` is the frame's width and
    height (px)."""

    def __init__(self, quad: Quad, frame: Frame, *, size: tuple[int, int]) -> None:
        self._marked = np.array(quad.corners)
        self._high = max(quad.height, 4.0)
        self._size = size
        box = clipped(box_around(self._marked, beyond=_AROUND * self._high), size)
        self._template = Template.of(
            frame.bright(*box),
            box[:2],
            scale=max(1, round(self._high / _FINE)),
            corners=self._marked,
            most=_MOST_POINTS,
        )
        self._along = np.ones(len(self._template.points))
        self._motion = np.eye(3)
        self._pace = np.zeros(2)
        self._time = frame.time
        self._lost_at: float | None = None
        self._begun = False
        self._looks = 0
        self.place = Place(self._marked, 1.0)

    def predicted(self, time: float) -> Place:
        """Return where the row should be at ``time`` (s) if it goes on as it did."""
        ahead = self._pace * (time - self._time)
        return Place(self.place.corners + ahead, self.place.trust)

    def follow(self, frame: Frame, others: Sequence[Place] = ()) -> Place:
        """Return where the row is in ``frame``, the next that is looked at. ``others`` are the
        places of the film's other displays, which this one is not."""
        fit = self._near_last(frame, others)
        if fit is None:
            fit = self._looked_for(frame, others)
        if fit is None:
            if self._lost_at is None:
                self._lost_at = frame.time
            self._pace = np.zeros(2)
            self.place = Place(moved(self._marked, self._motion), 0.0)
        else:
            self._take(fit, frame.time)
        self._time = frame.time
        return self.place

    def _near_last(self, frame: Frame, others: Sequence[Place]) -> Fit | None:
        ahead = self._pace * (frame.time - self._time)
        guess = shift(float(ahead[0]), float(ahead[1])) @ self._motion
        return self._held(frame, guess, others)

    def _looked_for(self, frame: Frame, others: Sequence[Place]) -> Fit | None:
        self._looks = self._looks + 1 if self._lost_at is not None else 0
        if self._looks % _LOOK_AGAIN:
            return None
        reach = self._high * (
            _REACH + _REACH_A_SECOND * (frame.time - (self._lost_at or frame.time))
        )
        if not self._begun:
            # Marked in another frame: it may have been anywhere when the film began.
            reach = float(max(self._size))
        row = moved(self._marked, self._motion).mean(axis=0)
        high, wide = self._template.plain.shape
        outline = np.array([[(wide - 1) / 2.0, (high - 1) / 2.0]])
        middle = moved(outline, self._motion @ self._template.to_frame)[0]
        if not np.isfinite(middle).all():
            middle = row
        best: Fit | None = None
        for guess in likely_motions(
            self._template, frame.quarter(), around=(middle[0], middle[1]), within=reach
        ):
            fit = self._held(frame, guess, others)
            # Holding it against its own view once more tells whether it is really there.
            fit = fit and self._held(frame, fit.motion, others)
            if fit is not None and (best is None or fit.agree.sum() > best.agree.sum()):
                best = fit
        return best

    def _held(self, frame: Frame, guess: Floats, others: Sequence[Place]) -> Fit | None:
        use = self._along > _STRAY
        if int(use.sum()) < len(use) // 4:
            use = np.ones(len(use), np.bool_)
        fit = held_against(self._template, frame, guess, size=self._size, use=use)
        if fit is None or _share(fit) <= _LOST or not keeps_shape(self._marked, fit.motion):
            return None
        middle = moved(self._marked, fit.motion).mean(axis=0)
        if any(one.trust > 0.0 and _holds(one.corners, middle) for one in others):
            return None
        return fit

    def _take(self, fit: Fit, time: float) -> None:
        self._motion = fit.motion
        trust = float(np.clip((_share(fit) - _LOST) / (_SURE - _LOST), 0.05, 1.0))
        corners = moved(self._marked, fit.motion)
        passed = time - self._time
        went = corners.mean(axis=0) - self.place.corners.mean(axis=0)
        self._pace = went / passed if passed > 0.0 and self._lost_at is None else np.zeros(2)
        self.place = Place(corners, trust)
        self._lost_at = None
        self._begun = True
        if trust >= 1.0:
            self._along[fit.seen] += _FORGET * (fit.agree[fit.seen] - self._along[fit.seen])


def _share(fit: Fit) -> float:
    return float(fit.agree.sum()) / max(int(fit.seen.sum()), 1)


def _holds(corners: Floats, point: Floats) -> bool:
    """Whether ``point`` lies within the four ``corners``."""
    sides = np.roll(corners, -1, axis=0) - corners
    to = point - corners
    return bool((sides[:, 0] * to[:, 1] - sides[:, 1] * to[:, 0] >= 0.0).all())
