"""Hold a template against a frame: which of its points are there again, and how they moved."""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from breakwright.reading.film_plane import moved
from breakwright.reading.film_ports import Frame
from breakwright.reading.film_rectify import box_around, clipped
from breakwright.reading.film_template import Template, evened, frame_of, shrunk

__all__ = ["Fit", "held_against"]

Floats = NDArray[np.float64]
Pixels = NDArray[np.uint8]

_WINDOW, _LEVELS, _TURNS = 11, 2, 12
# Points agree that lie within so many px of the common motion and look alike to so many gray
# values of the evened picture (two unlike places differ by about 50).
_WITHIN_PX, _ALIKE = 0.9, 27.0
_FEWEST, _PLANE = 7, 18
# The housing's own points decide where so large a share of them agree.
_NEAR_SHARE = 0.4


@dataclass(frozen=True, slots=True)
class Fit:
    """``motion`` (3, 3) from the marked frame's px to this one's; ``seen`` (n,) the template's
    points that should be in this frame, ``agree`` (n,) those that are where it says."""

    motion: Floats
    seen: NDArray[np.bool_]
    agree: NDArray[np.bool_]


def held_against(
    template: Template,
    frame: Frame,
    guess: Floats,
    *,
    size: tuple[int, int],
    use: NDArray[np.bool_],
) -> Fit | None:
    """Return how the template lies in ``frame`` (of ``size``), near the motion ``guess``; only
    points in ``use`` (n,) are asked. None where too few of them agree on any motion."""
    import cv2

    onto_frame = guess @ template.to_frame
    places = moved(template.points, onto_frame)
    rim = 2.0 * template.scale
    seen = use & (places >= rim).all(axis=1) & (places < np.array(size) - 1.0 - rim).all(axis=1)
    if int(seen.sum()) < _FEWEST:
        return None
    high, wide = template.even.shape
    outline = moved(np.array([[0, 0], [wide, 0], [wide, high], [0, high]], float), onto_frame)
    box = clipped(box_around(outline, beyond=template.scale), size)
    if min(box[2] - box[0], box[3] - box[1]) < 4 * template.scale:
        return None
    patch = shrunk(frame.bright(*box), template.scale)
    onto_patch = np.linalg.inv(frame_of(template.scale, box[:2])) @ onto_frame
    # Brought to the template's own view first: what is left to find is a small, plain shift.
    now = cv2.warpPerspective(
        patch,
        onto_patch,
        (wide, high),
        flags=cv2.INTER_LINEAR | cv2.WARP_INVERSE_MAP,
        borderMode=cv2.BORDER_REPLICATE,
    )
    numbers = np.flatnonzero(seen)
    before = template.points[numbers]
    after, found, unlike = cv2.calcOpticalFlowPyrLK(
        template.even,
        evened(np.asarray(now, np.uint8)),
        before,
        before.copy(),
        winSize=(_WINDOW, _WINDOW),
        maxLevel=_LEVELS,
        criteria=(cv2.TERM_CRITERIA_COUNT | cv2.TERM_CRITERIA_EPS, _TURNS, 0.02),
        flags=cv2.OPTFLOW_USE_INITIAL_FLOW,
    )
    good = (found.ravel() == 1) & (unlike.ravel() < _ALIKE)
    small = _common_motion(before, np.asarray(after, np.float32), good, template.near[numbers])
    if small is None:
        return None
    off = np.linalg.norm(moved(before, small) - after, axis=1)
    agree = np.zeros(len(seen), np.bool_)
    agree[numbers[good & (off < _WITHIN_PX)]] = True
    if int(agree.sum()) < _FEWEST:
        return None
    motion = onto_frame @ small @ np.linalg.inv(template.to_frame)
    return Fit(motion / motion[2, 2], seen, agree)


def _common_motion(
    before: NDArray[np.float32],
    after: NDArray[np.float32],
    good: NDArray[np.bool_],
    near: NDArray[np.bool_],
) -> Floats | None:
    """The motion (px of the template) that most points share, the housing's asked first: behind a
    hanging scale the wall stands still."""
    own = good & near
    small = None
    if int(own.sum()) >= _FEWEST:
        small = _most_agree(before[own], after[own], least=_NEAR_SHARE * int(near.sum()))
    if small is None:
        small = _most_agree(before[good], after[good], least=_FEWEST)
    if small is None:
        return None
    for _ in range(2):
        agree = good & (np.linalg.norm(moved(before, small) - after, axis=1) < _WITHIN_PX)
        if int(agree.sum()) < _FEWEST:
            return None
        small = _fitted(before[agree], after[agree])
    return small


def _most_agree(
    before: NDArray[np.float32], after: NDArray[np.float32], *, least: float
) -> Floats | None:
    import cv2

    if len(before) < _FEWEST:
        return None
    # The same film is read the same: the random trials begin alike each time.
    cv2.setRNGSeed(1)
    small, agree = cv2.estimateAffinePartial2D(
        before,
        after,
        method=cv2.RANSAC,
        ransacReprojThreshold=_WITHIN_PX,
        maxIters=150,
        confidence=0.99,
        refineIters=0,
    )
    if small is None or int(agree.sum()) < max(_FEWEST, least):
        return None
    return np.vstack([small, [0.0, 0.0, 1.0]])


def _fitted(before: NDArray[np.float32], after: NDArray[np.float32]) -> Floats:
    """Least squares over points that agree: a plane's motion where they are many, without its
    tilt where they are few. The motion is small, so that the linear equations weigh all points
    nearly alike."""
    middle = before.mean(axis=0, dtype=np.float64)
    size = max(float(before.std()), 1.0)
    x, y = ((before - middle) / size).T
    u, v = ((after - middle) / size).T
    one, none = np.ones(len(x)), np.zeros(len(x))
    columns = [x, y, one, none, none, none], [none, none, none, x, y, one]
    if len(before) >= _PLANE:
        columns = [*columns[0], -x * u, -y * u], [*columns[1], -x * v, -y * v]
    known = np.hstack([np.array(columns[0]), np.array(columns[1])]).T
    # Normal equations: the columns are of one size, and 8 by 8 is solved at once.
    told = np.linalg.solve(
        known.T @ known + 1e-9 * np.eye(known.shape[1]), known.T @ np.concatenate([u, v])
    )
    small = np.append(np.append(told, np.zeros(8 - len(told))), 1.0).reshape(3, 3)
    out = np.array([[size, 0.0, middle[0]], [0.0, size, middle[1]], [0.0, 0.0, 1.0]])
    motion = out @ small @ np.linalg.inv(out)
    return np.asarray(motion / motion[2, 2])
