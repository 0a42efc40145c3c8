"""Time stamps that are missing, doubled or go back: left out, and counted."""

from dataclasses import dataclass

import pytest

from breakwright.video.stamps import Stamps


@dataclass
class Picture:
    pts: int | None
    dts: int | None = None


def times(stamps: Stamps, *ticks: int | None) -> list[float | None]:
    return [stamps.of(Picture(tick)) for tick in ticks]


def test_the_first_frame_is_at_zero() -> None:
    assert times(Stamps(1000, 0.01), 1000, 1003, 1010) == pytest.approx([0.0, 0.03, 0.1])


def test_doubled_and_falling_stamps_are_left_out_and_told() -> None:
    stamps = Stamps(0, 0.01)
    assert times(stamps, 0, 3, 3, 2, None, 6) == [0.0, 0.03, None, None, None, 0.06]
    assert stamps.frames == 3
    (words,) = stamps.words(0.09)
    assert words.startswith("3 frames left out")


def test_the_decoders_stamp_serves_where_the_shown_one_is_missing() -> None:
    stamps = Stamps(0, 0.01)
    assert stamps.of(Picture(0)) == 0.0
    assert stamps.of(Picture(None, 7)) == pytest.approx(0.07)


def test_frames_before_the_first_are_left_out() -> None:
    stamps = Stamps(100, 0.01)
    assert times(stamps, 90, 100) == [None, 0.0]


def test_a_whole_film_has_nothing_said_of_it() -> None:
    stamps = Stamps(0, 1 / 30)
    times(stamps, *range(30))
    assert stamps.words(1.0) == []
    assert stamps.words(None) == []


def test_all_that_was_wrong_is_said() -> None:
    stamps = Stamps(0, 0.1)
    times(stamps, 0, 1, 2)
    stamps.damaged("bad data")
    times(stamps, 5)
    stamps.damaged("bad data")
    stopped, harmed = Stamps.words(stamps, 3.0)
    assert stopped == "the file says that it lasts 3.00 s, but ends after 0.50 s: it was cut off"
    assert harmed.startswith("damaged at 2 places, first after 0.20 s (bad data)")
    stamps.stopped("input/output error")
    assert stamps.words(3.0)[0] == ("the file cannot be read on after 0.50 s (input/output error)")
