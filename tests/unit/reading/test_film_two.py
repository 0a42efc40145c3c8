"""Two films of one pull: their clocks by sound, and the reading they give together."""

import numpy as np
import pytest
from film_tracks import Screen, film_facts, filmed, mark, pull

from breakwright.model.errors import ImpossibleValue
from breakwright.model.film import FilmReading, Shown
from breakwright.reading.film_read import read_tracks
from breakwright.reading.film_sound import SoundRefused, offset_by_sound
from breakwright.reading.film_two import joined


def heard(crack: float, *, rate: int, until: float, seed: int, dull: bool = False) -> np.ndarray:
    """Noise, hum and a crack at ``crack`` (s) that dies away."""
    generator = np.random.default_rng(seed)
    times = np.arange(round(until * rate)) / rate
    sound = 0.01 * generator.normal(size=len(times)) + 0.05 * np.sin(2.0 * np.pi * 50.0 * times)
    after = np.clip(times - crack, 0.0, None)
    ring = np.exp(-after / (0.08 if dull else 0.02)) * (times >= crack)
    return (sound + ring * generator.normal(size=len(times))).astype(np.float32)


@pytest.mark.parametrize("seed", range(4))
def test_the_offset_is_found_within_what_it_says(seed: int) -> None:
    first = heard(3.217, rate=48_000, until=6.0, seed=seed)
    second = heard(5.5, rate=44_100, until=9.0, seed=seed + 100, dull=True)
    offset = offset_by_sound(first, 48_000.0, second, 44_100.0)
    assert offset.seconds == pytest.approx(3.217 - 5.5, abs=offset.uncertainty)
    assert offset.uncertainty < 0.02
    assert offset.sharpness > 1.25


def test_two_like_cracks_tell_nothing() -> None:
    one = heard(2.0, rate=8000, until=6.0, seed=1)
    with pytest.raises(SoundRefused, match="Clap your hands"):
        offset_by_sound(one + np.roll(one, 8000), 8000.0, one + np.roll(one, 16000), 8000.0)


def test_noise_alone_tells_nothing() -> None:
    generator = np.random.default_rng(3)
    one, two = generator.normal(size=(2, 40_000)).astype(np.float32)
    with pytest.raises(SoundRefused, match="no offset fits"):
        offset_by_sound(one, 8000.0, two, 8000.0)


@pytest.mark.parametrize(
    ("sound", "words"), [(np.zeros(20_000), "silent"), (np.ones(100), "0.01 s of sound")]
)
def test_a_film_without_sound_is_refused(sound: np.ndarray, words: str) -> None:
    one = heard(2.0, rate=8000, until=6.0, seed=1)
    with pytest.raises(SoundRefused, match=words):
        offset_by_sound(one, 8000.0, sound.astype(np.float32), 8000.0)


def alone(name: str, *, begins: float, until: float, phase: float = 0.0) -> FilmReading:
    known = mark(name, decimals=1, resolution=0.1)
    screen = Screen(ghost=1, phase=phase)
    seen = filmed(pull(20.0, 100.0, begins=begins), until=until, screen=screen, mark=known)
    return read_tracks([seen.track], film_facts(until))


@pytest.mark.parametrize(("uncertainty", "off"), [(0.0, 0.0), (0.1, 0.1), (0.1, -0.1)])
def test_the_sum_of_two_films_holds_the_truth(uncertainty: float, off: float) -> None:
    # The second phone was switched on 1.5 s later; its clock is known to ``uncertainty``.
    first = alone("left", begins=1.0, until=9.0)
    second = alone("right", begins=-0.5 + 1.0, until=7.0, phase=0.07)
    both = joined(first, second, offset=0.5 + off, uncertainty=uncertainty)
    (found,) = both.breaks
    assert found.lower <= 200.0 <= (found.upper or 0.0)
    assert [trace.mark.name for trace in both.displays] == ["left", "right"]
    assert both.doubts[0].code == "clock-uncertain"
    assert both.doubts[0].amount == uncertainty


def test_an_uncertain_clock_widens_the_windows() -> None:
    first = alone("left", begins=1.0, until=9.0)
    second = alone("right", begins=1.0, until=9.0, phase=0.07)
    sure = joined(first, second, offset=0.0, uncertainty=0.0)
    unsure = joined(first, second, offset=0.0, uncertainty=0.2)
    assert unsure.breaks[0].lower <= sure.breaks[0].lower
    assert _width(unsure) > _width(sure)


def _width(reading: FilmReading) -> float:
    known = [s for s in reading.total if s.lower is not None]
    return sum(((s.upper or 0.0) - (s.lower or 0.0)) * (s.end - s.start) for s in known)


def test_where_only_one_film_runs_the_other_is_out_of_sight() -> None:
    first = alone("left", begins=1.0, until=9.0)
    second = alone("right", begins=0.5, until=5.0)
    both = joined(first, second, offset=0.5, uncertainty=0.01)
    assert both.displays[1].spans[0].shown is Shown.OUT_OF_SIGHT
    assert both.displays[1].spans[-1].shown is Shown.OUT_OF_SIGHT
    assert both.total[0].lower is None
    assert both.breaks[0].upper is None


def test_films_that_cannot_be_joined_are_refused() -> None:
    first = alone("left", begins=1.0, until=9.0)
    second = alone("right", begins=1.0, until=9.0)
    with pytest.raises(ImpossibleValue, match="do not overlap"):
        joined(first, second, offset=60.0, uncertainty=0.1)
    with pytest.raises(ImpossibleValue, match="both films have a display 'left'"):
        joined(first, first, offset=0.0, uncertainty=0.1)
    with pytest.raises(ImpossibleValue, match="must be finite"):
        joined(first, second, offset=float("nan"), uncertainty=0.1)
