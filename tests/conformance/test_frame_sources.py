"""One suite for every film: in a file, turned by its tag, in memory."""

from collections.abc import Callable
from itertools import pairwise
from pathlib import Path

import numpy as np
import pytest
from numpy.typing import NDArray
from training.clips.containers import tag_rotation

from breakwright.reading.film_ports import FrameSource
from breakwright.video.film_arrays import ArrayFilm
from breakwright.video.film_file import open_film
from made_films import moving_picture, write_film

WIDE, HIGH = 96, 64
TIMES = tuple(round(k / 30.0 + (0.4 if k > 20 else 0.0), 4) for k in range(40))
PICTURES = [moving_picture(WIDE, HIGH, number) for number in range(len(TIMES))]

Make = Callable[[Path], FrameSource]


def in_memory(folder: Path) -> FrameSource:
    return ArrayFilm(PICTURES, TIMES)


def in_a_file(folder: Path) -> FrameSource:
    write_film(folder / "film.mp4", PICTURES, times=TIMES)
    return open_film(folder / "film.mp4")


def in_matroska(folder: Path) -> FrameSource:
    write_film(folder / "film.mkv", PICTURES, times=TIMES, codec="libx265")
    return open_film(folder / "film.mkv")


def turned(degrees: int) -> Make:
    def make(folder: Path) -> FrameSource:
        stored = [np.ascontiguousarray(np.rot90(p, degrees // 90)) for p in PICTURES]
        write_film(folder / "film.mp4", stored, times=TIMES)
        tag_rotation(folder / "film.mp4", degrees)
        return open_film(folder / "film.mp4")

    return make


MAKERS = {
    "memory": in_memory,
    "mp4": in_a_file,
    "matroska": in_matroska,
    "turned-90": turned(90),
    "turned-180": turned(180),
    "turned-270": turned(270),
}


@pytest.fixture(params=sorted(MAKERS))
def source(request: pytest.FixtureRequest, tmp_path: Path) -> FrameSource:
    return MAKERS[request.param](tmp_path)


def off(seen: NDArray[np.uint8], truth: NDArray[np.uint8]) -> float:
    return float(np.abs(seen.astype(float) - truth).mean())


def test_each_frame_has_its_own_time_from_the_first(source: FrameSource) -> None:
    times = [frame.time for frame in source.frames()]
    assert times[0] == 0.0
    assert times == pytest.approx(TIMES, abs=1e-3)


def test_after_the_end_the_facts_are_what_was_there(source: FrameSource) -> None:
    for _ in source.frames():
        pass
    facts = source.facts()
    assert (facts.width, facts.height) == (WIDE, HIGH)
    assert facts.frames == len(TIMES)
    assert facts.duration == pytest.approx(TIMES[-1], abs=1e-3)
    assert facts.ended_early is None


def test_pictures_stand_upright_and_belong_to_their_times(source: FrameSource) -> None:
    for frame, truth, other in zip(
        source.frames(), PICTURES, [*PICTURES[1:], PICTURES[0]], strict=True
    ):
        seen = frame.patch(0, 0, WIDE, HIGH)
        assert seen.shape == (HIGH, WIDE, 3)
        assert seen.dtype == np.uint8
        assert off(seen[:, :, 0], truth[:, :, 0]) < 6.0
        assert off(seen[:, :, 0], other[:, :, 0]) > 20.0


@pytest.mark.parametrize("box", [(8, 4, 40, 30), (7, 5, 38, 31), (0, 0, 1, 1), (95, 63, 96, 64)])
def test_a_patch_is_a_part_of_the_whole(
    source: FrameSource, box: tuple[int, int, int, int]
) -> None:
    left, top, right, bottom = box
    frame = next(iter(source.frames()))
    whole = frame.patch(0, 0, WIDE, HIGH)
    np.testing.assert_array_equal(frame.patch(*box), whole[top:bottom, left:right])
    np.testing.assert_array_equal(frame.bright(*box), whole[top:bottom, left:right, 0])


@pytest.mark.parametrize(
    ("box", "size"),
    [
        ((-20, -9, 10, 5), (5, 10)),
        ((90, 60, 200, 100), (4, 6)),
        ((-5, -5, 500, 500), (HIGH, WIDE)),
        ((120, 10, 140, 20), (10, 0)),
        ((-30, -30, -10, -10), (0, 0)),
    ],
)
def test_what_lies_outside_the_frame_is_left_off(
    source: FrameSource, box: tuple[int, int, int, int], size: tuple[int, int]
) -> None:
    frame = next(iter(source.frames()))
    assert frame.patch(*box).shape == (*size, 3)
    assert frame.bright(*box).shape == size


def test_a_quarter_is_the_mean_of_four_by_four(source: FrameSource) -> None:
    frame = next(iter(source.frames()))
    bright = frame.bright(0, 0, WIDE, HIGH).astype(float)
    mean = bright.reshape(HIGH // 4, 4, WIDE // 4, 4).mean(axis=(1, 3))
    assert np.abs(frame.quarter() - mean).max() <= 0.5 + 1e-9


def test_arrays_may_be_written_to_without_harm(source: FrameSource) -> None:
    frame = next(iter(source.frames()))
    before = frame.patch(0, 0, WIDE, HIGH).copy()
    frame.patch(0, 0, WIDE, HIGH)[:] = 0
    frame.bright(0, 0, WIDE, HIGH)[:] = 0
    np.testing.assert_array_equal(frame.patch(0, 0, WIDE, HIGH), before)


@pytest.mark.parametrize("start", [0.31, TIMES[21], TIMES[-1]])
def test_a_later_start_gives_the_same_times_and_pictures(source: FrameSource, start: float) -> None:
    whole = [(f.time, f.bright(0, 0, WIDE, HIGH)) for f in source.frames()]
    late = [(f.time, f.bright(0, 0, WIDE, HIGH)) for f in source.frames(start=start - 1e-3)]
    wanted = [(time, seen) for time, seen in whole if time >= start - 1e-3]
    assert [time for time, _ in late] == [time for time, _ in wanted]
    for (_, seen), (_, same) in zip(late, wanted, strict=True):
        np.testing.assert_array_equal(seen, same)


def test_a_start_after_the_end_gives_no_frame(source: FrameSource) -> None:
    assert list(source.frames(start=TIMES[-1] + 0.5)) == []


def test_it_can_be_gone_through_again_and_left_halfway(source: FrameSource) -> None:
    first = next(iter(source.frames()))
    assert first.time == 0.0
    times = [frame.time for frame in source.frames()]
    assert all(a < b for a, b in pairwise(times))
    assert [frame.time for frame in source.frames()] == times
