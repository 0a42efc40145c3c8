"""Small films for the tests: every pixel known, in whatever form a phone or an accident has it."""

from collections.abc import Sequence
from fractions import Fraction
from pathlib import Path

import av
import numpy as np
from numpy.typing import NDArray

__all__ = ["TICKS", "corners_picture", "moving_picture", "write_film"]

TICKS = 90_000

_CODECS = {
    "libx264": {"preset": "ultrafast", "crf": "4", "g": "15"},
    "libx265": {"preset": "ultrafast", "crf": "4", "g": "15", "x265-params": "log-level=none"},
}


def corners_picture(width: int, height: int) -> NDArray[np.uint8]:
    """A picture (h, w, 3) in Y, U, V that no turn brings onto itself: gray, with a bright red
    upper left quarter, a dark blue lower right one, and a white strip along the top."""
    picture = np.empty((height, width, 3), np.uint8)
    picture[:] = (90, 128, 128)
    picture[: height // 2, : width // 2] = (160, 100, 200)
    picture[height // 2 :, width // 2 :] = (40, 200, 110)
    picture[:8] = (230, 128, 128)
    return picture


def moving_picture(width: int, height: int, number: int) -> NDArray[np.uint8]:
    """A picture (h, w, 3) in Y, U, V for frame ``number``: blocks that wander with it, so that
    each frame is told from the next."""
    rng = np.random.default_rng(7)
    blocks = rng.integers(30, 220, (height // 8 + 1, width // 8 + 1)).astype(np.uint8)
    bright = np.repeat(np.repeat(blocks, 8, axis=0), 8, axis=1)[:height, :width]
    picture = np.full((height, width, 3), 128, np.uint8)
    picture[:, :, 0] = np.roll(bright, 4 * number, axis=1)
    return picture


def write_film(
    path: Path,
    pictures: Sequence[NDArray[np.uint8]],
    *,
    times: Sequence[float] | None = None,
    codec: str = "libx264",
    pixels: str = "yuv420p",
    sound: NDArray[np.float32] | None = None,
    contents: str = "first",
) -> None:
    """Write ``pictures`` (h, w, 3 in Y, U, V) at ``times`` (s; without: 30 a second). ``sound``
    is mono at 48000 a second from time 0. ``contents``: an MP4's table of contents comes first,
    or last as phones write it."""
    first = contents == "first" and path.suffix == ".mp4"
    options = {"movflags": "+faststart"} if first else {}
    high, wide = pictures[0].shape[:2]
    with av.open(str(path), "w", options=options) as container:
        stream = container.add_stream(codec, rate=30)
        stream.width, stream.height, stream.pix_fmt = wide, high, pixels
        stream.options = dict(_CODECS.get(codec, {}))
        stream.codec_context.time_base = stream.time_base = Fraction(1, TICKS)
        track = (
            container.add_stream("aac", rate=48_000, layout="mono") if sound is not None else None
        )
        for number, picture in enumerate(pictures):
            whole = np.ascontiguousarray(np.moveaxis(picture, 2, 0))
            frame = av.VideoFrame.from_ndarray(whole, format="yuv444p").reformat(format=pixels)
            frame.pts = round((number / 30.0 if times is None else times[number]) * TICKS)
            frame.time_base = Fraction(1, TICKS)
            container.mux(stream.encode(frame))
        container.mux(stream.encode(None))
        if track is not None and sound is not None:
            for start in range(0, len(sound), 1024):
                part = np.ascontiguousarray(sound[None, start : start + 1024])
                heard = av.AudioFrame.from_ndarray(part, format="fltp", layout="mono")
                heard.sample_rate, heard.pts = 48_000, start
                container.mux(track.encode(heard))
            container.mux(track.encode(None))
