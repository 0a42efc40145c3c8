"""A display is followed by its surroundings: moved, turned, dark, covered, out of sight."""

from collections.abc import Sequence

import numpy as np
import pytest
from film_scene import HIGH, ROW, WIDE, housing, quad_of, row_corners, scene, seen_from
from numpy.typing import NDArray

from breakwright.reading.film_plane import keeps_shape, moved, shift
from breakwright.reading.film_tracker import Place, Tracker
from breakwright.video.film_arrays import ArrayFilm

Floats = NDArray[np.float64]
MIDDLE = row_corners().mean(axis=0)


def turned(degrees: float, grown: float = 1.0, tilt: float = 0.0) -> Floats:
    """About the row's middle."""
    cos, sin = grown * np.cos(np.radians(degrees)), grown * np.sin(np.radians(degrees))
    turn = np.array([[cos, -sin, 0.0], [sin, cos, 0.0], [tilt, 0.0, 1.0]])
    return shift(*MIDDLE) @ turn @ shift(*-MIDDLE)


def followed(pictures: Sequence[NDArray[np.uint8]]) -> list[Place]:
    """The places in all pictures but the first, in which the display is marked."""
    frames = list(ArrayFilm(pictures, [n / 30.0 for n in range(len(pictures))]).frames())
    tracker = Tracker(quad_of(row_corners()), frames[0], size=(WIDE, HIGH))
    return [tracker.follow(frame) for frame in frames[1:]]


def error(place: Place, motion: Floats) -> float:
    """The mean distance (px) of the corners from where they are."""
    return float(np.linalg.norm(place.corners - moved(row_corners(), motion), axis=1).mean())


@pytest.mark.parametrize(
    "step",
    [shift(1.7, -0.9), turned(0.8), turned(0.0, 1.01), turned(0.3, 1.0, 2e-5)],
    ids=["shaken", "turned", "nearer", "tilted"],
)
def test_moves_that_go_on_do_not_drift(step: Floats) -> None:
    wall = scene()
    motions = [np.linalg.matrix_power(step, n) for n in range(12)]
    texts = ["0.00", "1.25", "88.8", "7.11"]
    places = followed(
        [seen_from(housing(wall, text=texts[n % 4]), motion) for n, motion in enumerate(motions)]
    )
    errors = [error(place, motion) for place, motion in zip(places, motions[1:], strict=True)]
    # A third of a pixel keeps a stroke of the digits in its place; common practice, no source.
    assert max(errors) < 0.35
    assert min(place.trust for place in places) > 0.9


def test_a_dark_display_stays_in_sight() -> None:
    lit = seen_from(housing(scene(), text="12.3"), np.eye(3))
    dark = seen_from(housing(scene(), text="12.3", lit=False), shift(2.0, 1.0))
    place = followed([lit, lit, dark])[-1]
    assert place.trust > 0.2
    assert error(place, shift(2.0, 1.0)) < 0.6


def test_a_step_of_the_exposure_is_no_movement() -> None:
    lit = seen_from(housing(scene(), text="12.3"), np.eye(3))
    dim = np.asarray(lit * 0.45 + 9.0, np.uint8)
    place = followed([lit, lit, dim])[-1]
    assert place.trust > 0.9
    assert error(place, np.eye(3)) < 0.35


def test_a_hanging_scale_moves_before_a_wall_that_stands() -> None:
    wall = scene()
    pictures = [
        seen_from(
            housing(wall, text="5.0", row=(ROW[0] + 3 * n, ROW[1], ROW[2] + 3 * n, ROW[3])),
            np.eye(3),
        )
        for n in range(8)
    ]
    places = followed(pictures)
    assert max(error(place, shift(3.0 * n, 0.0)) for n, place in enumerate(places, start=1)) < 0.5


def test_a_push_that_is_too_far_for_the_flow_is_found_again() -> None:
    shown = housing(scene(), text="12.3")
    place = followed([seen_from(shown, np.eye(3)), seen_from(shown, shift(70.0, 41.0))])[-1]
    assert place.trust > 0.9
    assert error(place, shift(70.0, 41.0)) < 0.35


def test_a_display_that_is_not_there_is_lost_and_comes_back() -> None:
    shown = seen_from(housing(scene(), text="12.3"), np.eye(3))
    gone = seen_from(scene(seed=2), np.eye(3))
    places = followed([shown, gone, gone, gone, shown, shown, shown])
    assert [place.trust for place in places[:3]] == [0.0, 0.0, 0.0]
    assert places[-1].trust > 0.9
    assert error(places[-1], np.eye(3)) < 0.35


def test_another_display_that_looks_the_same_is_not_taken() -> None:
    twin = (ROW[0] + 180, ROW[1] + 90, ROW[2] + 180, ROW[3] + 90)
    both = housing(housing(scene(), text="12.3"), text="12.3", row=twin)
    alone = housing(scene(seed=2), text="12.3", row=twin)
    frames = list(ArrayFilm([both, alone], [0.0, 1.0]).frames())
    tracker = Tracker(quad_of(row_corners()), frames[0], size=(WIDE, HIGH))
    place = tracker.follow(frames[1], [Place(row_corners(twin), 1.0)])
    assert place.trust == 0.0


def test_a_display_marked_elsewhere_is_found_wherever_it_was_at_first() -> None:
    shown = housing(scene(), text="12.3")
    frames = list(
        ArrayFilm(
            [seen_from(shown, shift(-90.0, 60.0)), seen_from(shown, np.eye(3))], [0.0, 5.0]
        ).frames()
    )
    tracker = Tracker(quad_of(row_corners()), frames[1], size=(WIDE, HIGH))
    place = tracker.follow(frames[0])
    assert place.trust > 0.9
    assert error(place, shift(-90.0, 60.0)) < 0.35


def test_a_row_that_folds_or_explodes_is_refused() -> None:
    row = row_corners()
    assert keeps_shape(row, turned(10.0))
    assert not keeps_shape(row, np.diag([-1.0, 1.0, 1.0]))
    assert not keeps_shape(row, np.diag([4.0, 4.0, 1.0]))
    assert not keeps_shape(row, np.full((3, 3), np.nan))


def test_a_mark_on_a_blank_wall_is_lost_not_invented() -> None:
    flat = np.full((HIGH, WIDE), 128, np.uint8)
    assert followed([flat, flat])[-1].trust == 0.0
