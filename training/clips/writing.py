"""Pictures and sound into a file."""

from collections.abc import Iterable, Mapping
from fractions import Fraction
from pathlib import Path
from typing import TYPE_CHECKING, cast

import numpy as np
from numpy.typing import NDArray

from training.clips.camera import TICKS, Camera
from training.clips.thud import RATE

if TYPE_CHECKING:
    from av.video.stream import VideoStream

__all__ = ["write"]

_SOUND_FRAME = 1024


def write(
    path: Path,
    pictures: Iterable[NDArray[np.uint8]],
    times: NDArray[np.float64],
    *,
    camera: Camera,
    sound: NDArray[np.float32] | None = None,
    says: Mapping[str, str] | None = None,
    preset: str = "veryfast",
) -> None:
    """Write upright ``pictures`` (h, w, 3 as blue, green, red) at ``times`` (s). They are stored
    turned against ``camera.rotation``; the tag that turns them back is not written here. ``says``
    is the file's own metadata."""
    import av
    import cv2

    turned = camera.rotation in (90, 270)
    wide, high = (camera.height, camera.width) if turned else (camera.width, camera.height)
    options = {"movflags": "+faststart"} if path.suffix == ".mp4" else {}
    with av.open(str(path), "w", options=options) as container:
        container.metadata.update({"comment": "invented: drawn by a program"} | dict(says or {}))
        rate = Fraction(round(camera.fps))
        stream = cast("VideoStream", container.add_stream(camera.codec, rate=rate))
        stream.width, stream.height, stream.pix_fmt = wide, high, "yuv420p"
        stream.options = {"preset": preset, "crf": str(camera.quality)}
        if camera.codec == "libx265":
            stream.options["x265-params"] = "log-level=none"
            stream.codec_context.codec_tag = "hvc1"
        stream.codec_context.time_base = Fraction(1, TICKS)
        stream.time_base = Fraction(1, TICKS)
        track = None
        if sound is not None:
            track = container.add_stream("aac", rate=RATE, layout="mono")
        for picture, time in zip(pictures, times, strict=True):
            stored = np.ascontiguousarray(np.rot90(picture, camera.rotation // 90))
            planes = np.asarray(cv2.cvtColor(stored, cv2.COLOR_BGR2YUV_I420), np.uint8)
            frame = av.VideoFrame.from_ndarray(planes, format="yuv420p")
            frame.pts = round(time * TICKS)
            frame.time_base = Fraction(1, TICKS)
            container.mux(stream.encode(frame))
        container.mux(stream.encode(None))
        if track is not None and sound is not None:
            for start in range(0, len(sound), _SOUND_FRAME):
                part = np.ascontiguousarray(sound[None, start : start + _SOUND_FRAME])
                heard = av.AudioFrame.from_ndarray(part, format="fltp", layout="mono")
                heard.sample_rate, heard.pts = RATE, start
                heard.time_base = Fraction(1, RATE)
                container.mux(track.encode(heard))
            container.mux(track.encode(None))
