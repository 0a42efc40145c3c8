"""A film is read in one pass, wherever in it the display was marked."""

import numpy as np
import pytest
from film_scene import Reader, housing, quad_of, row_corners, scene, seen_from

from breakwright.model.film import DisplayMark, Shown
from breakwright.reading.film_plane import moved, shift
from breakwright.usecases.film import FilmRead, read_film
from breakwright.video.film_arrays import ArrayFilm

FRAMES = 60


def read(mark: DisplayMark, told: list[tuple[float, float]]) -> FilmRead:
    """A camera that wanders by 1 px a frame to the right and 0.5 px down."""
    pictures = [
        seen_from(housing(scene(), text="1"), shift(1.0 * n, 0.5 * n)) for n in range(FRAMES)
    ]
    source = ArrayFilm(pictures, [n / 30.0 for n in range(FRAMES)])
    return read_film(source, [mark], Reader(), tell=lambda done, whole: told.append((done, whole)))


@pytest.mark.parametrize("number", [0, 30, 59])
def test_a_mark_in_any_frame_reads_the_whole_film(number: int) -> None:
    corners = moved(row_corners(), shift(1.0 * number, 0.5 * number))
    told: list[tuple[float, float]] = []
    film = read(DisplayMark("left", quad_of(corners), time=number / 30.0), told)
    (track,) = film.tracks
    assert len(track.times) == FRAMES
    assert {texts[0] for texts in track.texts} == {"1"}
    assert track.trust.min() > 0.9
    (trace,) = film.reading.displays
    assert {span.value for span in trace.spans if span.shown is Shown.VALUE} == {1.0}
    assert told[-1] == (59 / 30.0, 59 / 30.0)
    assert np.all(np.diff([done for done, _ in told]) >= 0.0)


def test_a_mark_after_the_end_is_taken_for_the_first_frame() -> None:
    film = read(DisplayMark("left", quad_of(row_corners()), time=99.0), [])
    assert {texts[0] for texts in film.tracks[0].texts} == {"1"}
