"""All that is fixed before a pixel is drawn: where everything is in each frame, and the truth."""

import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from breakwright.model.film import Shown
from training.clips.camera import frame_times, views
from training.clips.face import Face
from training.clips.glass import Caught, caught
from training.clips.indicator import PER_KGF, Showing, showings
from training.clips.load import along
from training.clips.scene import Glare, Hand, Place, Scene, Unit
from training.clips.truth import DisplayTruth, PeakTruth, Truth

__all__ = ["Take", "TakenUnit", "take"]

Floats = NDArray[np.float64]
Flags = NDArray[np.bool_]

_FINE = 0.001  # s, the step in which true peaks are looked for


@dataclass(frozen=True, slots=True)
class TakenUnit:
    """One display over the F frames: ``onto`` (F, 3, 3) takes its face to the picture."""

    unit: Unit
    face: Face
    shown: tuple[Showing, ...]
    caught: Caught
    onto: Floats


@dataclass(frozen=True, slots=True)
class Take:
    """``clock`` (F,) is each frame's time on the scene's clock, ``source`` (F,) the frame whose
    picture it carries (its own, or the one before where it was doubled). ``seed`` is for what
    has no truth: the background and the noise."""

    scene: Scene
    seed: int
    clock: Floats
    source: NDArray[np.int64]
    views: Floats
    units: tuple[TakenUnit, ...]
    truth: Truth


def take(scene: Scene, *, seed: int) -> Take:
    """Work out ``scene`` frame by frame; the same seed gives the same take."""
    rng = np.random.default_rng(seed)
    camera = scene.camera
    times = frame_times(camera, scene.seconds, rng=rng)
    clock = times + scene.began
    seen = views(camera, clock, rng=rng)
    doubled = rng.uniform(size=len(times)) < camera.doubled
    doubled[0] = False
    source = np.maximum.accumulate(np.where(doubled, 0, np.arange(len(times))))
    units = tuple(_unit(scene, unit, clock, seen, rng=rng) for unit in scene.units)
    truth = Truth(
        times,
        tuple(_display(scene, one, clock, seen, source) for one in units),
        _total(scene, clock),
        _peaks(scene, units, clock),
    )
    return Take(scene, seed, clock, source, seen, units, truth)


def _unit(
    scene: Scene, unit: Unit, clock: Floats, seen: Floats, *, rng: np.random.Generator
) -> TakenUnit:
    camera = scene.camera
    face = Face(unit.look, unit.indicator.places, rng=rng)
    until = float(clock[-1]) + 1.0
    shown = showings(unit.indicator, scene.load, until=until, rng=rng)
    onto = seen @ _placed(unit.place, face, clock, camera.width)
    rows = _through(onto, face.corners)[:, :, 1] / camera.height
    tops = clock + camera.readout * np.clip(rows.min(axis=1), 0.0, 1.0)
    bottoms = clock + camera.readout * np.clip(rows.max(axis=1), 0.0, 1.0) + 1e-6
    got = caught(face, shown, unit.glass, tops=tops, bottoms=bottoms, exposure=camera.exposure)
    return TakenUnit(unit, face, shown, got, onto)


def _placed(place: Place, face: Face, clock: Floats, width: int) -> Floats:
    """The matrices (F, 3, 3) from the face to the scene: turned in space, then seen by a pinhole
    whose focal length is 1.2 times the picture's width."""
    row = float(face.corners[2, 1] - face.corners[0, 1])
    scale, focal = place.digit / row, 1.2 * width
    since = np.maximum(clock - place.swing_from, 0.0)
    wave = place.swing * np.minimum(since / 0.2, 1.0)
    wave = wave * np.sin(2 * math.pi * since / place.swing_period)
    rolls = np.radians(place.roll) + wave / (8.0 * place.digit)
    yaw, pitch = math.radians(place.yaw), math.radians(place.pitch)
    turn_x = np.array(
        [[1, 0, 0], [0, math.cos(pitch), -math.sin(pitch)], [0, math.sin(pitch), math.cos(pitch)]]
    )
    turn_y = np.array(
        [[math.cos(yaw), 0, math.sin(yaw)], [0, 1, 0], [-math.sin(yaw), 0, math.cos(yaw)]]
    )
    found = np.empty((len(clock), 3, 3))
    middle = np.array([[1, 0, -face.size[0] / 2], [0, 1, -face.size[1] / 2], [0, 0, 1]])
    for frame, (roll, shift) in enumerate(zip(rolls, wave, strict=True)):
        c, s = math.cos(roll), math.sin(roll)
        turned = np.array([[c, -s, 0], [s, c, 0], [0, 0, 1]]) @ turn_y @ turn_x * scale
        flat = np.array([turned[0, :2], turned[1, :2], turned[2, :2] / focal])
        onto = np.column_stack([flat, [0.0, 0.0, 1.0]])
        put = np.array([[1, 0, place.x + shift], [0, 1, place.y], [0, 0, 1]])
        found[frame] = put @ onto @ middle
    return found


def _through(onto: Floats, points: Floats) -> Floats:
    """Points (N, 2) through matrices (F, 3, 3): (F, N, 2)."""
    lifted = np.column_stack([points, np.ones(len(points))])
    moved = np.einsum("fij,nj->fni", onto, lifted)
    return np.asarray(moved[:, :, :2] / moved[:, :, 2:], np.float64)


def _display(
    scene: Scene, one: TakenUnit, clock: Floats, seen: Floats, source: NDArray[np.int64]
) -> DisplayTruth:
    indicator = one.unit.indicator
    corners = _through(one.onto, one.face.corners)[source]
    now = [one.shown[number] for number in one.caught.current[source]]
    clear = _clear(scene, corners, clock[source], seen[source])
    clear &= np.array([s.light > 0.5 or s.shown is Shown.BLANK or one.unit.look.glows for s in now])
    return DisplayTruth(
        indicator.name,
        indicator.unit,
        indicator.decimals,
        indicator.resolution,
        indicator.capacity,
        indicator.refresh,
        indicator.places,
        tuple(s.text for s in now),
        tuple(s.shown for s in now),
        np.array([math.nan if s.value is None else s.value for s in now]),
        one.caught.settled[source],
        clear,
        corners,
        indicator.load(scene.load, clock),
    )


def _clear(scene: Scene, corners: Floats, clock: Floats, seen: Floats) -> Flags:
    camera = scene.camera
    size = np.array([camera.width - 1, camera.height - 1])
    clear = ((corners >= 0) & (corners <= size)).all(axis=(1, 2))
    high = np.linalg.norm(corners[:, 3] - corners[:, 0], axis=1)
    clear &= along(camera.focus, clock) < 0.08 * high
    gain = along(camera.gain, clock)
    clear &= (gain > 0.4) & (gain < 1.6)
    middle = corners.mean(axis=1)
    speed = np.linalg.norm(np.gradient(middle, axis=0), axis=1) * camera.fps
    clear &= speed * camera.exposure < 0.12 * high
    grid = np.stack(
        [
            corners[:, 0] * (1 - u) * (1 - v)
            + corners[:, 1] * u * (1 - v)
            + corners[:, 2] * u * v
            + corners[:, 3] * (1 - u) * v
            for u in np.linspace(0, 1, 7)
            for v in (0.0, 0.5, 1.0)
        ],
        axis=1,
    )
    for hand in scene.hands:
        clear &= _hand_reach(hand, grid, clock, seen).min(axis=1) > 1.05 * hand.size
    for glare in scene.glares:
        clear &= ~_washed(glare, grid, clock, seen).any(axis=1)
    return np.asarray(clear & (high > 10.0), np.bool_)


def _moved(x: Floats, y: Floats, seen: Floats) -> Floats:
    return _through(seen, np.zeros((1, 2)))[:, 0] + np.stack([x, y], axis=1)


def _hand_reach(hand: Hand, grid: Floats, clock: Floats, seen: Floats) -> Floats:
    """The distance (F, N) of points from the middle line of hand and sleeve."""
    start = _moved(along(hand.x, clock), along(hand.y, clock), seen)[:, None, :]
    arm = hand.size * np.array([3.0, 7.0])
    part = np.clip(((grid - start) @ arm) / (arm @ arm), 0.0, 1.0)
    return np.asarray(np.linalg.norm(grid - start - part[:, :, None] * arm, axis=2))


def _washed(glare: Glare, grid: Floats, clock: Floats, seen: Floats) -> Flags:
    """Where (F, N) the bright spot adds more than 70 of 255 to the picture."""
    centre = _moved(along(glare.x, clock), along(glare.y, clock), seen)[:, None, :]
    far = np.linalg.norm(grid - centre, axis=2) / glare.reach
    return np.asarray(glare.strength * np.exp(-(far**2)) > 70.0)


def _total(scene: Scene, clock: Floats) -> Floats:
    loads = [
        unit.indicator.load(scene.load, clock) / PER_KGF[unit.indicator.unit] * PER_KGF["N"]
        for unit in scene.units
    ]
    return np.asarray(np.sum(loads, axis=0))


def _peaks(scene: Scene, units: Sequence[TakenUnit], clock: Floats) -> tuple[PeakTruth, ...]:
    found = []
    begin = float(clock[0])
    for end in scene.load.breaks:
        fine = np.arange(begin, end + _FINE / 2, _FINE)
        total = _total(scene, fine)
        top = int(np.argmax(total))
        width = sum(_allowed(scene, one.unit, fine[: top + 1]) for one in units)
        found.append(PeakTruth(float(fine[top]) - scene.began, float(total[top]), width))
        begin = end + 0.01
    return tuple(found)


def _allowed(scene: Scene, unit: Unit, before: Floats) -> float:
    """In N: the most the load on ``unit`` rose by within one refresh step and one frame in the
    last two seconds before a peak, and its resolution."""
    indicator = unit.indicator
    step = indicator.refresh + 2 * indicator.jitter + 1.0 / scene.camera.fps
    starts = before[before >= before[-1] - 2.0 - step]
    rise = indicator.load(scene.load, starts + step) - indicator.load(scene.load, starts)
    rise = rise[starts + step <= before[-1]]
    most = max(float(rise.max(initial=0.0)), 0.0)
    return (most + indicator.resolution) * PER_KGF["N"] / PER_KGF[indicator.unit]
