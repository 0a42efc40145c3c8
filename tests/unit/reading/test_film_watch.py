"""What is seen of the displays, frame by frame: texts, contrast, trust, pictures kept."""

import cv2
import numpy as np
import pytest
from film_scene import ROW, Reader, housing, quad_of, row_corners, scene, seen_from
from numpy.typing import NDArray

from breakwright.model.film import DisplayMark
from breakwright.reading.film_keep import Keeper
from breakwright.reading.film_plane import shift
from breakwright.reading.film_track import DisplayTrack
from breakwright.reading.film_watch import Watcher
from breakwright.video.film_arrays import ArrayFilm

Pixels = NDArray[np.uint8]

LEFT, RIGHT = "1", "     1"  # where on the glass the stroke stands: read as '1' and as '0'


def watched(pictures: list[Pixels], *, reader: Reader | None = None) -> DisplayTrack:
    source = ArrayFilm(pictures, [n / 30.0 for n in range(len(pictures))])
    mark = DisplayMark("left", quad_of(row_corners()))
    watcher = Watcher([mark], reader or Reader(), facts=source.facts())
    for frame in source.frames():
        watcher.see(frame)
    (track,) = watcher.finish()
    return track


def shaken(text: str, number: int, *, lit: bool = True) -> Pixels:
    rng = np.random.default_rng(number)
    return seen_from(housing(scene(), text=text, lit=lit), shift(*rng.normal(0.0, 0.8, 2)))


def test_each_frame_has_its_text_and_a_change_is_seen_at_once() -> None:
    shown = [LEFT] * 40 + [RIGHT] * 1 + [LEFT] * 1 + [RIGHT] * 20
    track = watched([shaken(text, n) for n, text in enumerate(shown)])
    assert [texts[0] for texts in track.texts] == ["1" if one == LEFT else "0" for one in shown]
    assert track.scores.shape == (len(shown), 4)
    changed = np.flatnonzero(track.change > 3.0 * np.median(track.change[1:]))
    assert set(changed) >= {40, 41, 42}
    assert (track.trust > 0.9).all()
    assert (track.inside == 1.0).all()


def test_what_stands_still_is_not_read_in_every_frame() -> None:
    reader = Reader()
    track = watched([seen_from(housing(scene(), text=LEFT), np.eye(3))] * 120, reader=reader)
    assert {texts[0] for texts in track.texts} == {"1"}
    assert reader.strips < 120 // 2 + 12 * 5


def test_a_dark_display_has_no_contrast_but_is_where_it_was() -> None:
    track = watched(
        [shaken(LEFT, n) for n in range(30)] + [shaken("", n, lit=False) for n in range(9)]
    )
    assert track.contrast[:30].min() > 0.4
    assert track.contrast[-8:].max() < 0.12
    assert track.trust[-8:].min() > 0.0
    assert {texts[0] for texts in track.texts[-8:]} == {""}


def test_a_display_never_lit_is_read_as_nothing_and_all_frames_are_told() -> None:
    track = watched([shaken("", n, lit=False) for n in range(60)])
    assert len(track.texts) == len(track.times) == len(track.scores) == 60
    assert {texts[0] for texts in track.texts} == {""}


def test_a_film_of_one_frame() -> None:
    track = watched([shaken(LEFT, 1)])
    assert [texts[0] for texts in track.texts] == ["1"]
    assert list(track.kept) == [0]


def test_blue_digits_of_the_same_brightness_are_read_in_the_colours() -> None:
    bright = np.full((320, 480), 120, np.uint8)
    blue = housing(np.full((320, 480), 128, np.uint8), text=LEFT)
    picture = np.stack([scene() // 8 + 110, blue, bright], axis=2)
    track = watched([picture] * 40)
    assert {texts[0] for texts in track.texts} == {"1"}


def test_half_of_a_row_out_of_the_frame_is_told() -> None:
    away = -(ROW[0] + ROW[2]) / 2.0
    shown = housing(scene(), text=LEFT)
    steps = [seen_from(shown, shift(away * n / 30.0, 0.0)) for n in range(31)]
    track = watched(steps)
    assert track.inside[0] == 1.0
    assert track.inside[-1] == pytest.approx(0.5, abs=0.1)


def test_pictures_are_kept_of_each_thing_shown_and_are_pictures() -> None:
    track = watched([shaken(text, n) for n, text in enumerate([LEFT] * 20 + [RIGHT] * 20)])
    assert any(n < 20 for n in track.kept)
    assert any(n in (20, 21) for n in track.kept)
    assert len(track.kept) < 12
    picture = cv2.imdecode(np.frombuffer(track.kept[0], np.uint8), cv2.IMREAD_COLOR)
    assert picture is not None
    assert picture.shape[0] == pytest.approx(56 * 1.4, abs=2)


def test_pictures_of_a_long_film_stay_within_their_bytes(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("breakwright.reading.film_keep._MOST_BYTES", 60_000)
    keeper = Keeper(quad_of(row_corners()))
    patch = np.random.default_rng(1).integers(0, 255, (100, 160, 3)).astype(np.uint8)
    for number in range(200):
        strip = np.full((32, 64), 255 * (number % 2), np.uint8)
        assert keeper.wants(strip, number / 30.0)
        keeper.keep(
            number,
            number / 30.0,
            strip,
            patch=patch,
            origin=(120, 80),
            corners=row_corners(),
        )
    kept = keeper.pictures()
    assert sum(map(len, kept.values())) <= 60_000
    assert 199 in kept
    assert 0 in kept
