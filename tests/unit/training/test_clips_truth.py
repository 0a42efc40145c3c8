"""The generator of films: what it says is true of a frame is what the frame shows."""

from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest
from numpy.typing import NDArray
from training.clips.camera import Camera
from training.clips.catalogue import CLIPS, LINES, SCENES, clips_for
from training.clips.clip import two_displays
from training.clips.containers import tag_rotation, truncated, turned_copy, uneven_copy
from training.clips.indicator import Fault, Indicator, Kind, showings
from training.clips.load import Load, pull
from training.clips.scene import Scene
from training.clips.shoot import film, pictures
from training.clips.take import Take, take
from training.clips.truth import marks

from breakwright.model.film import Shown

# The usual seven segments (a top, clockwise, g middle), written down here once more on purpose.
_DIGITS = {
    "abcdef": "0",
    "bc": "1",
    "abdeg": "2",
    "abcdg": "3",
    "bcfg": "4",
    "acdfg": "5",
    "acdefg": "6",
    "abc": "7",
    "abcdefg": "8",
    "abcdfg": "9",
    "": "",
}
# Where the middle of each segment lies in a digit's box (parts of its width and height).
_MIDDLES = {
    "a": (0.5, 0.06),
    "b": (0.92, 0.27),
    "c": (0.92, 0.73),
    "d": (0.5, 0.94),
    "e": (0.08, 0.73),
    "f": (0.08, 0.27),
    "g": (0.5, 0.5),
}
_STEADY = Scene(
    "steady",
    1.6,
    pull(12.0, start=0.2, rate=10.0),
    two_displays(looks=("grey", "grey")),
    Camera(640, 360, shake=0.0, noise=0.0),
)


def _small(scene: Scene) -> Scene:
    """``scene`` with its displays moved into a smaller picture."""
    units = tuple(
        replace(unit, place=replace(unit.place, x=160.0 + 320.0 * n, y=180.0, yaw=0.0, roll=0.0))
        for n, unit in enumerate(scene.units)
    )
    return replace(scene, units=units)


def _sampled(picture: NDArray[np.uint8], corners: NDArray[np.float64], places: int) -> str:
    """The digits that stand in a clean picture, read by the brightness of single points."""
    gray = picture.astype(float).mean(axis=2)
    high = float(np.linalg.norm(corners[3] - corners[0]))
    right = (corners[1] - corners[0]) / np.linalg.norm(corners[1] - corners[0])
    down = (corners[3] - corners[0]) / high
    text = ""
    for place in range(places):
        on = ""
        for name, (u, v) in _MIDDLES.items():
            # The digits are 0.56 as wide as high, 0.74 of the height apart, leant by 0.08.
            x = 0.74 * place + 0.56 * u + 0.08 * (0.5 - v)
            at = corners[0] + right * (x * high) + down * (v * high)
            column, row = (round(float(c)) for c in at)
            on += name if gray[row, column] < 100.0 else ""
        text += _DIGITS.get(on, "?")
    return text


@pytest.fixture(scope="module")
def steady() -> Take:
    return take(_small(_STEADY), seed=4)


def test_a_settled_frame_shows_what_the_truth_says(steady: Take) -> None:
    read = 0
    for frame, picture in enumerate(pictures(steady)):
        for display in steady.truth.displays:
            if display.settled[frame] and frame % 3 == 0:
                text = _sampled(picture, display.corners[frame], display.places)
                assert text == display.texts[frame].replace(".", ""), (frame, display.name)
                read += 1
    assert read > 20


def test_a_frame_in_transition_is_not_called_settled(steady: Take) -> None:
    display = steady.truth.displays[0]
    changes = [n for n in range(1, len(display.texts)) if display.texts[n] != display.texts[n - 1]]
    assert len(changes) >= 4
    assert not all(display.settled[n] for n in changes)
    assert display.settled.mean() > 0.7


def test_the_true_peak_is_the_sum_just_before_the_break(steady: Take) -> None:
    (peak,) = steady.truth.peaks
    assert peak.newtons == pytest.approx(12.0 * 9.80665)
    assert peak.at == pytest.approx(0.2 + 12.0 / 10.0, abs=0.002)
    # Two steps of 0.05 kgf, and 10 kgf/s over one refresh (0.25 s) and one frame (1/30 s).
    assert peak.width == pytest.approx((2 * 0.05 + 10.0 * (0.25 + 1 / 30)) * 9.80665, rel=1e-3)


def test_the_same_seed_makes_the_same_film() -> None:
    scene = replace(_small(_STEADY), seconds=0.3, camera=Camera(640, 360, noise=4.0))
    first, second, other = (list(pictures(take(scene, seed=seed))) for seed in (7, 7, 8))
    assert all(np.array_equal(a, b) for a, b in zip(first, second, strict=True))
    assert not np.array_equal(first[3], other[3])


def test_a_film_keeps_its_times_and_its_turn(tmp_path: Path) -> None:
    av = pytest.importorskip("av")
    camera = Camera(640, 360, uneven=0.3, gaps=((0.2, 0.4),), rotation=90)
    path = tmp_path / "turned.mp4"
    truth = film(replace(_small(_STEADY), seconds=0.8, camera=camera), path, seed=1)
    with av.open(str(path)) as container:
        frames = list(container.decode(video=0))
        assert (frames[0].width, frames[0].height) == (360, 640)
        # PyAV counts the other way round: 90 degrees clockwise are -90.
        assert frames[0].rotation == -90
        seen = [float(frame.pts * frame.time_base) for frame in frames]
    assert seen == pytest.approx(truth.times.tolist(), abs=1e-4)
    assert np.diff(truth.times).max() > 0.2


def test_copies_hold_what_they_should(tmp_path: Path) -> None:
    av = pytest.importorskip("av")
    path = tmp_path / "film.mp4"
    truth = film(replace(_small(_STEADY), seconds=0.8, sound=True), path, seed=1)
    turned_copy(path, tmp_path / "turned.mp4", degrees=90)
    uneven_copy(path, tmp_path / "uneven.mp4", every=4)
    truncated(path, tmp_path / "cut.mp4", part=0.8)
    with av.open(str(tmp_path / "turned.mp4")) as container:
        assert container.streams.audio
        frames = list(container.decode(video=0))
    assert len(frames) == len(truth.times)
    assert frames[0].rotation == -90
    with av.open(str(tmp_path / "uneven.mp4")) as container:
        seen = [float(frame.pts * frame.time_base) for frame in container.decode(video=0)]
    kept = [t for n, t in enumerate(truth.times) if n == 0 or n % 4]
    assert seen == pytest.approx(kept, abs=1e-4)
    assert (tmp_path / "cut.mp4").stat().st_size == round(0.8 * path.stat().st_size)


def test_only_a_film_with_a_track_header_can_be_tagged(tmp_path: Path) -> None:
    path = tmp_path / "no.mp4"
    path.write_bytes(b"nothing")
    with pytest.raises(ValueError, match="no track header"):
        tag_rotation(path, 90)


def _texts(indicator: Indicator, load: Load, until: float = 6.0) -> list[tuple[str, Shown]]:
    rng = np.random.default_rng(0)
    return [(one.text, one.shown) for one in showings(indicator, load, until=until, rng=rng)]


def test_a_display_rounds_and_runs_out() -> None:
    texts = _texts(Indicator("a", capacity=20.0, refresh=0.5, phase=0.0), pull(30.0, rate=7.03))
    # 7.03 kgf/s from 1 s on, every 0.5 s, to the next 0.05.
    assert [t for t, _ in texts[:4]] == ["0.00", "3.50", "7.05", "10.55"]
    assert ("OL", Shown.OVER_RANGE) in texts
    assert not any(s is Shown.VALUE and float(t) > 20.0 for t, s in texts)


@pytest.mark.parametrize(
    ("kind", "expected"),
    [
        (Kind.DARK, ("", Shown.BLANK)),
        (Kind.POINT_LOST, ("2000", Shown.VALUE)),
        (Kind.POINT_SHIFTED, ("2.000", Shown.VALUE)),
        # 20 kgf over 0.45359237 kg: the definition of the pound.
        (Kind.POUNDS, ("44.10", Shown.VALUE)),
    ],
)
def test_faults_show(kind: Kind, expected: tuple[str, Shown]) -> None:
    level = Load(((0.0, 20.0), (9.0, 20.0)), ())
    texts = _texts(Indicator("a", faults=(Fault(kind, 2.0),)), level)
    assert texts == [("20.00", Shown.VALUE), expected]


def test_a_held_display_shows_what_it_showed() -> None:
    texts = _texts(Indicator("a", faults=(Fault(Kind.HELD, 2.0),)), pull(30.0, rate=5.0))
    assert max(float(t) for t, _ in texts) < 6.0


def test_the_last_decimal_goes_where_there_is_no_room() -> None:
    climbing = Load(((0.0, 98.0), (1.0, 98.0), (3.0, 102.0), (9.0, 102.0)), ())
    narrow = Indicator("a", resolution=0.1, decimals=1, places=3, capacity=200.0)
    shown = [t for t, _ in _texts(narrow, climbing)]
    assert shown[0] == "98.0"
    assert shown[-1] == "102"


def test_the_catalogue_covers_every_line() -> None:
    assert len(CLIPS) >= 30
    assert [line for line in LINES if not clips_for(line)] == []
    assert {line for clip in CLIPS.values() for line in clip.lines} <= set(LINES)


@pytest.mark.parametrize("name", ["plain", "three", "below-zero", "range-change"])
def test_scenes_can_be_marked(name: str) -> None:
    truth = take(SCENES[name], seed=3).truth
    found = marks(truth, at=0.5, error=0.0)
    for mark, display in zip(found, truth.displays, strict=True):
        frame = int(np.argmin(np.abs(truth.times - 0.5)))
        assert np.allclose(mark.quad.corners, display.corners[frame])
        assert mark.digits == display.places
