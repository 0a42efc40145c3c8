"""Draw a take frame by frame, encode it, and say what is true of it."""

from collections.abc import Iterator
from pathlib import Path

import numpy as np
from numpy.typing import NDArray

from training.clips.background import background
from training.clips.containers import tag_rotation
from training.clips.light import Sensor, draw_glare, draw_hand, draw_shade
from training.clips.scene import Scene
from training.clips.take import Take, TakenUnit, take
from training.clips.thud import thuds
from training.clips.truth import Truth
from training.clips.writing import write

__all__ = ["film", "pictures", "shoot"]

Picture = NDArray[np.uint8]


def film(scene: Scene, path: Path, *, seed: int) -> Truth:
    """Write ``scene`` as a film (``.mp4`` or ``.mkv`` by its name); return the truth of it."""
    planned = take(scene, seed=seed)
    shoot(planned, path)
    return planned.truth


def shoot(planned: Take, path: Path) -> None:
    """Write a take that was worked out before."""
    scene = planned.scene
    sound = thuds(scene, seed=planned.seed) if scene.sound else None
    write(path, pictures(planned), planned.truth.times, camera=scene.camera, sound=sound)
    if scene.camera.rotation:
        tag_rotation(path, scene.camera.rotation)


def pictures(planned: Take) -> Iterator[Picture]:
    """Yield the upright pictures (h, w, 3), blue, green, red, one a frame; a doubled frame is the
    same picture again."""
    rng = np.random.default_rng([planned.seed, 1])
    camera = planned.scene.camera
    ground = background(planned.scene, rng=rng)
    sensor = Sensor(camera, rng=rng)
    faces = [_Faces(one) for one in planned.units]
    last: Picture | None = None
    for frame, source in enumerate(planned.source):
        if last is None or source == frame:
            last = _picture(planned, frame, ground, sensor, faces)
        yield last


class _Faces:
    """The painted face of one display, painted anew only where it changed."""

    def __init__(self, one: TakenUnit) -> None:
        self._one = one
        self._key: tuple[object, ...] = ()
        self._face: Picture | None = None

    def at(self, frame: int, clock: float) -> Picture:
        caught = self._one.caught
        light = self._one.shown[caught.current[frame]].light
        look = self._one.unit.look
        turn = (clock * 7.3) % 1.0 if look.bars else 0.0
        above = np.round(caught.above[frame], 2)
        below = np.round(caught.below[frame], 2)
        tear = float(caught.tear[frame])
        key = (above.tobytes(), below.tobytes() if tear < 1.0 else b"", tear, light, turn)
        if self._face is None or key != self._key:
            self._face = self._one.face.paint(above, below, tear=tear, light=light, bands=turn)
            self._key = key
        return self._face


def _picture(
    planned: Take, frame: int, ground: Picture, sensor: Sensor, faces: list[_Faces]
) -> Picture:
    import cv2

    scene, view = planned.scene, planned.views[frame]
    camera, clock = scene.camera, float(planned.clock[frame])
    margin = (ground.shape[1] - camera.width) // 2
    shifted = view @ np.array([[1.0, 0, -margin], [0, 1.0, -margin], [0, 0, 1.0]])
    size = (camera.width, camera.height)
    picture: Picture = np.asarray(
        cv2.warpAffine(ground, shifted[:2], size, borderMode=cv2.BORDER_REPLICATE), np.uint8
    )
    for one, painted in zip(planned.units, faces, strict=True):
        _paste(picture, painted.at(frame, clock), one.onto[frame])
    for shade in scene.shades:
        draw_shade(picture, shade, clock, view)
    for glare in scene.glares:
        draw_glare(picture, glare, clock, view)
    for hand in scene.hands:
        draw_hand(picture, hand, clock, view)
    before = planned.views[max(frame - 1, 0)]
    middle = np.array([camera.width / 2, camera.height / 2, 1.0])
    motion = ((view - before) @ middle)[:2] * camera.fps * camera.exposure
    return sensor.expose(picture, clock, motion)


def _paste(picture: Picture, face: Picture, onto: NDArray[np.float64]) -> None:
    """Warp ``face`` into its box of ``picture``, in place."""
    import cv2

    high, wide = face.shape[:2]
    outline = np.array([[[0.0, 0.0], [wide, 0.0], [wide, high], [0.0, high]]])
    spread = cv2.perspectiveTransform(outline, onto)[0]
    left, top = np.maximum(np.floor(spread.min(axis=0)).astype(int), 0)
    right = min(int(np.ceil(spread[:, 0].max())) + 1, picture.shape[1])
    bottom = min(int(np.ceil(spread[:, 1].max())) + 1, picture.shape[0])
    if right <= left or bottom <= top:
        return
    box = picture[top:bottom, left:right].copy()
    shifted = np.array([[1.0, 0, -left], [0, 1.0, -top], [0, 0, 1.0]]) @ onto
    shrink = float(np.hypot(onto[0, 0], onto[1, 0]))
    if shrink < 0.6:
        # Averaged beforehand, for the warp takes single points.
        face = np.asarray(cv2.GaussianBlur(face, (0, 0), 0.35 / shrink), np.uint8)
    cv2.warpPerspective(
        face, shifted, (right - left, bottom - top), dst=box, borderMode=cv2.BORDER_TRANSPARENT
    )
    picture[top:bottom, left:right] = box
