"""The sound of a film on the film's own clock."""

from pathlib import Path

import numpy as np
import pytest
from numpy.typing import NDArray
from training.clips.containers import truncated

from breakwright.video.film_file import FilmRefused, film_sound
from made_films import moving_picture, write_film

PICTURES = [moving_picture(64, 48, number) for number in range(45)]


def click(at: float, *, seconds: float = 2.0) -> NDArray[np.float32]:
    sound = np.zeros(round(seconds * 48_000), np.float32)
    rng = np.random.default_rng(5)
    start = round(at * 48_000)
    sound[start : start + 480] = rng.uniform(-0.8, 0.8, 480)
    return sound


def onset(path: Path) -> float:
    sound = film_sound(path)
    assert sound.samples.dtype == np.float32
    loud = np.abs(sound.samples)
    return float(np.argmax(loud > 0.4 * loud.max())) / sound.rate


@pytest.mark.parametrize("name", ["film.mp4", "film.mkv"])
def test_a_click_is_heard_when_it_was(tmp_path: Path, name: str) -> None:
    write_film(tmp_path / name, PICTURES, sound=click(0.7))
    # 3 ms: the click's first loud sample, after coding with loss.
    assert onset(tmp_path / name) == pytest.approx(0.7, abs=0.003)


def test_the_clock_starts_at_the_first_picture(tmp_path: Path) -> None:
    times = [0.5 + k / 30.0 for k in range(45)]
    write_film(tmp_path / "film.mkv", PICTURES, times=times, sound=click(0.7))
    assert onset(tmp_path / "film.mkv") == pytest.approx(0.2, abs=0.003)


def test_a_cut_off_film_gives_the_sound_that_is_there(tmp_path: Path) -> None:
    write_film(tmp_path / "film.mkv", PICTURES, sound=click(0.3, seconds=6.0))
    whole = film_sound(tmp_path / "film.mkv")
    truncated(tmp_path / "film.mkv", tmp_path / "cut.mkv", part=0.7)
    part = film_sound(tmp_path / "cut.mkv")
    assert 0 < len(part.samples) < len(whole.samples)


def test_no_sound_is_refused_with_what_to_do_instead(tmp_path: Path) -> None:
    write_film(tmp_path / "film.mp4", PICTURES[:3])
    with pytest.raises(FilmRefused) as refused:
        film_sound(tmp_path / "film.mp4")
    (problem,) = refused.value.problems
    assert problem.code == "film-silent"
    assert "no sound track" in problem.message
    assert "by hand" in (problem.do or "")
