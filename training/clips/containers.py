"""Copies of a film as other phones and accidents would have left it."""

import struct
from collections.abc import Callable
from pathlib import Path
from typing import TYPE_CHECKING, cast

import numpy as np

if TYPE_CHECKING:
    from av import VideoFrame

__all__ = ["tag_rotation", "truncated", "turned_copy", "uneven_copy"]

# The upper left of the matrix in a track's header, as 16.16 numbers: a, b, c, d, for a picture
# that a player turns clockwise by so many degrees (ISO/IEC 14496-12, 8.3.2; from memory).
_MATRICES = {0: (1, 0, 0, 1), 90: (0, 1, -1, 0), 180: (-1, 0, 0, -1), 270: (0, -1, 1, 0)}


def tag_rotation(path: Path, degrees: int) -> None:
    """Write into the first track's header of the MP4 file ``path`` that players have to turn the
    picture clockwise by ``degrees``."""
    data = bytearray(path.read_bytes())
    at = data.find(b"tkhd")
    if at < 0:
        raise ValueError(f"{path} has no track header: only MP4 files can be tagged")
    version = data[at + 4]
    matrix = at + 8 + (32 if version == 1 else 20) + 16
    a, b, c, d = _MATRICES[degrees]
    one = 1 << 16
    values = (a * one, b * one, 0, c * one, d * one, 0, 0, 0, 1 << 30)
    data[matrix : matrix + 36] = struct.pack(">9i", *values)
    path.write_bytes(bytes(data))


def truncated(path: Path, to: Path, *, part: float) -> None:
    """Copy the first ``part`` (0 to 1) of the bytes: a transfer that broke off."""
    data = path.read_bytes()
    to.write_bytes(data[: round(len(data) * part)])


def turned_copy(path: Path, to: Path, *, degrees: int) -> None:
    """Write ``path`` stored turned, with the tag that turns it back; sound as it is."""
    _again(path, to, degrees=degrees, keep=lambda _: True)
    tag_rotation(to, degrees)


def uneven_copy(path: Path, to: Path, *, every: int) -> None:
    """Write ``path`` without each ``every``-th frame, the others keeping their times: a phone
    that could not keep up."""
    _again(path, to, degrees=0, keep=lambda number: number == 0 or number % every != 0)


def _again(path: Path, to: Path, *, degrees: int, keep: Callable[[int], bool]) -> None:
    """Encode the pictures that ``keep`` wants anew, turned against ``degrees``; copy the sound."""
    import av

    with (
        av.open(str(path)) as source,
        av.open(str(to), "w", options={"movflags": "+faststart"}) as target,
    ):
        target.metadata.update(source.metadata)
        old = source.streams.video[0]
        new = target.add_stream("libx264", rate=old.average_rate)
        wide, high = old.width, old.height
        new.width, new.height = (high, wide) if degrees in (90, 270) else (wide, high)
        new.pix_fmt, new.options = "yuv420p", {"preset": "veryfast", "crf": "20"}
        if old.time_base is not None:
            new.codec_context.time_base = new.time_base = old.time_base
        heard = source.streams.audio[0] if source.streams.audio else None
        track = target.add_stream_from_template(heard) if heard is not None else None
        number = 0
        for packet in source.demux([s for s in (old, heard) if s is not None]):
            if track is not None and packet.stream is heard:
                if packet.dts is not None:
                    packet.stream = track
                    target.mux(packet)
                continue
            for frame in cast("list[VideoFrame]", packet.decode()):
                if keep(number):
                    planes = frame.reformat(format="yuv444p").to_ndarray()
                    turned = np.ascontiguousarray(
                        np.rot90(planes, degrees // 90, axes=(1, 2)), dtype=np.uint8
                    )
                    again = av.VideoFrame.from_ndarray(turned, format="yuv444p")
                    again.pts, again.time_base = frame.pts, frame.time_base
                    target.mux(new.encode(again.reformat(format="yuv420p")))
                number += 1
        target.mux(new.encode(None))
