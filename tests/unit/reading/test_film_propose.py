"""Rows of digits found without a mark, in pictures drawn by the clips' own generator."""

import math
from collections.abc import Callable, Iterator
from dataclasses import replace

import numpy as np
import pytest
from numpy.typing import NDArray
from training.clips.catalogue import SCENES
from training.clips.shoot import pictures
from training.clips.take import take

from breakwright.model.film import Quad
from breakwright.reading.film_propose import propose

Pixels = NDArray[np.uint8]
Corners = NDArray[np.float64]


def drawn(name: str, *, every: int = 2, count: int = 3) -> tuple[list[Pixels], list[Corners]]:
    """Return ``count`` frames of the clip (Y, U, V) and each display's corners in the first."""
    import cv2

    scene = SCENES[name]
    # Two frames a second: drawing takes longer than finding.
    planned = take(replace(scene, camera=replace(scene.camera, fps=2.0)), seed=1)
    frames = []
    for number, picture in enumerate(pictures(planned)):
        if number % every == 0:
            frames.append(np.asarray(cv2.cvtColor(picture, cv2.COLOR_BGR2YUV)))
        if len(frames) == count:
            break
    return frames, [one.corners[0] for one in planned.truth.displays]


def fits(quad: Quad, truth: Corners) -> bool:
    """Tell whether the row lies on the digits: as high, within them (places that are dark are
    part of the truth), and the same way up."""
    along = (truth[1] - truth[0]) / np.linalg.norm(truth[1] - truth[0])
    found = np.array(quad.corners)
    lean = (found[1] - found[0]) / np.linalg.norm(found[1] - found[0])
    high = float(np.linalg.norm(truth[3] - truth[0]))
    wide = float(np.linalg.norm(truth[1] - truth[0]))
    apart = found.mean(axis=0) - truth.mean(axis=0)
    return (
        0.85 < quad.height / high < 1.18
        and 0.5 < quad.width / wide < 1.15
        and float(along @ lean) > math.cos(math.radians(6.0))
        and abs(float(apart @ np.array([-along[1], along[0]]))) < 0.12 * high
        and abs(float(apart @ along)) < 0.25 * wide
    )


@pytest.mark.parametrize(
    "name", ["plain", "red-and-blue", "white-on-blue", "far-away", "glare", "three"]
)
def test_the_displays_are_among_the_first(name: str) -> None:
    frames, truth = drawn(name)
    found = propose(frames)[: len(truth) + 2]
    assert all(any(fits(quad, one) for quad in found) for one in truth)


def a_quarter(point: Corners, wide: float, high: float) -> Corners:
    return np.stack([high - 1 - point[:, 1], point[:, 0]], axis=1)


def a_half(point: Corners, wide: float, high: float) -> Corners:
    return np.stack([wide - 1 - point[:, 0], high - 1 - point[:, 1]], axis=1)


def three_quarters(point: Corners, wide: float, high: float) -> Corners:
    return np.stack([point[:, 1], wide - 1 - point[:, 0]], axis=1)


@pytest.fixture(scope="module")
def upright() -> tuple[list[Pixels], list[Corners]]:
    return drawn("three", every=3)


@pytest.mark.parametrize(("turns", "where"), [(1, a_quarter), (2, a_half), (3, three_quarters)])
def test_rows_that_lie_turned_are_found_as_they_read(
    upright: tuple[list[Pixels], list[Corners]],
    turns: int,
    where: Callable[[Corners, float, float], Corners],
) -> None:
    frames, truth = upright
    high, wide = frames[0].shape[:2]
    turned = [np.ascontiguousarray(np.rot90(frame, -turns)) for frame in frames]
    found = propose(turned)[: len(truth) + 2]
    assert all(any(fits(quad, where(one, wide, high)) for quad in found) for one in truth)


def test_brightness_alone_will_do() -> None:
    frames, truth = drawn("plain")
    found = propose([frame[:, :, 0] for frame in frames])[:2]
    assert all(any(fits(quad, one) for quad in found) for one in truth)


def bare() -> Iterator[Pixels]:
    yield np.full((200, 300, 3), 128, np.uint8)
    yield np.zeros((12, 9, 3), np.uint8)
    stripes = np.full((240, 320, 3), 128, np.uint8)
    stripes[::12] = 60
    yield stripes


def test_where_there_are_no_digits_nothing_is_proposed() -> None:
    for picture in bare():
        assert propose([picture]) == ()
    assert propose([]) == ()
