"""A strip shows the marked row enlarged once, never stretched, level and with its margins."""

import numpy as np
import pytest
from film_scene import quad_of

from breakwright.model.film import Quad
from breakwright.reading.film_apart import farthest_apart
from breakwright.reading.film_level import levelled, spread_of
from breakwright.reading.film_rectify import shape_of, warped


def row(left: float, top: float, width: float, height: float) -> Quad:
    right, bottom = left + width, top + height
    return Quad((left, top), (right, top), (right, bottom), (left, bottom))


@pytest.mark.parametrize("height", [12.0, 40.0, 130.0])
def test_the_strip_keeps_the_aspect_at_any_size(height: float) -> None:
    # The convention of docs/display-model.md: digits 32 / 1.4 px high, a fourth of their height
    # left and right.
    shape = shape_of(row(5.0, 5.0, 4.0 * height, height))
    assert shape.height == 32
    assert shape.digits == pytest.approx(32.0 / 1.4)
    assert shape.across / shape.digits == pytest.approx(4.0)
    assert shape.width % 4 == 0
    assert shape.width >= 32.0 / 1.4 * 4.5


def test_a_narrow_row_is_padded_not_stretched() -> None:
    shape = shape_of(row(0.0, 0.0, 20.0, 40.0))
    assert shape.width == 64
    assert shape.across / shape.digits == pytest.approx(0.5)


@pytest.mark.parametrize("high", [12, 46, 115])
def test_the_row_comes_out_where_the_shape_says(high: int) -> None:
    picture = np.full((400, 700), 200, np.uint8)
    picture[100 : 100 + high, 120 : 120 + 3 * high] = 20
    quad = row(119.5, 99.5, 3.0 * high, float(high))
    shape = shape_of(quad)
    strip = warped(picture, (0, 0), np.array(quad.corners), shape=shape)
    dark = strip < 110
    rows, columns = np.flatnonzero(dark.any(axis=1)), np.flatnonzero(dark.any(axis=0))
    assert rows[0] == pytest.approx(shape.top, abs=1.0)
    assert rows[-1] + 1 == pytest.approx(shape.top + shape.digits, abs=1.0)
    assert columns[0] == pytest.approx(shape.left, abs=1.0)
    assert columns[-1] + 1 == pytest.approx(shape.left + shape.across, abs=1.0)


def test_a_display_held_upside_down_comes_out_upright() -> None:
    picture = np.full((120, 200), 200, np.uint8)
    picture[70:80, 120:140] = 20
    corners = np.array([[150.0, 90.0], [50.0, 90.0], [50.0, 50.0], [150.0, 50.0]])
    quad = quad_of(corners)
    strip = warped(picture, (0, 0), corners, shape=shape_of(quad))
    rows, columns = np.nonzero(strip < 110)
    # It lies to the right of and below the row's middle: upright, to the left and above.
    assert columns.mean() < strip.shape[1] / 2.0
    assert rows.mean() < strip.shape[0] / 2.0


def test_a_crop_gives_the_same_strip_as_the_whole_frame() -> None:
    picture = np.random.default_rng(3).integers(0, 255, (200, 300)).astype(np.uint8)
    corners = np.array([[80.2, 60.1], [180.7, 63.0], [179.0, 95.2], [79.5, 92.0]])
    shape = shape_of(quad_of(corners))
    whole = warped(picture, (0, 0), corners, shape=shape)
    crop = warped(picture[40:130, 50:220], (50, 40), corners, shape=shape)
    assert int(np.abs(whole.astype(int) - crop).max()) <= 1


def test_levelling_uses_the_whole_range_but_leaves_a_dark_display_flat() -> None:
    faint = np.full((32, 64), 100, np.uint8)
    faint[8:24, 10:30] = 130
    assert spread_of(levelled(faint)) == (0, 255)
    dark = np.random.default_rng(1).integers(60, 64, (32, 64)).astype(np.uint8)
    assert int(levelled(dark).max()) < 64


def test_one_stroke_counts_and_noise_does_not() -> None:
    rng = np.random.default_rng(5)
    strip = np.full((32, 96), 230, np.uint8)
    noisy = np.clip(strip + rng.normal(0.0, 12.0, strip.shape), 0, 255).astype(np.uint8)
    stroke = strip.copy()
    stroke[6:15, 41:44] = 10
    assert farthest_apart(strip, noisy) < 0.1
    assert farthest_apart(strip, stroke) > 0.4
