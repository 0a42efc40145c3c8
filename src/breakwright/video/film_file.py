"""A film in a file: its frames in order, each with its own time stamp, turned upright."""

from collections.abc import Iterator
from dataclasses import dataclass, replace
from pathlib import Path
from typing import Any

import numpy as np
from numpy.typing import NDArray

from breakwright.model.film import FilmFacts
from breakwright.reading.film_ports import Frame, FrameSource
from breakwright.video.film_hash import film_hash
from breakwright.video.film_sound import Sound, film_sound
from breakwright.video.opening import opened, picture_stream
from breakwright.video.planes import LAYOUTS
from breakwright.video.stamps import Stamps
from breakwright.video.trouble import FilmRefused, film_problem
from breakwright.video.upright import Upright

__all__ = ["FilmRefused", "Sound", "film_hash", "film_sound", "open_film"]

Pixels = NDArray[np.uint8]


def open_film(path: Path) -> FrameSource:
    """Return the film at ``path``. Raises FilmRefused where there is none that can be read."""
    return _FilmFile(path)


@dataclass(slots=True)
class _FilmFrame:
    time: float
    _picture: Any
    _upright: Upright

    def quarter(self) -> Pixels:
        whole = (0, 0, self._upright.width // 4 * 4, self._upright.height // 4 * 4)
        picture = self._readable()
        layout = LAYOUTS[picture.format.name]
        return self._upright.turned(layout.quarter(picture, self._upright.stored(whole)))

    def patch(self, left: int, top: int, right: int, bottom: int) -> Pixels:
        picture = self._readable()
        layout = LAYOUTS[picture.format.name]
        box = self._upright.stored(self._upright.clipped((left, top, right, bottom)))
        bright = layout.brightness(picture, box)
        stored = np.empty((*bright.shape, 3), np.uint8)
        stored[:, :, 0] = bright
        stored[:, :, 1], stored[:, :, 2] = layout.colours(picture, box)
        return stored if not self._upright.rotation else self._upright.turned(stored)

    def bright(self, left: int, top: int, right: int, bottom: int) -> Pixels:
        picture = self._readable()
        layout = LAYOUTS[picture.format.name]
        box = self._upright.stored(self._upright.clipped((left, top, right, bottom)))
        return self._upright.turned(layout.brightness(picture, box))

    def _readable(self) -> Any:
        if self._picture.format.name not in LAYOUTS:
            self._picture = self._picture.reformat(format="yuv420p")
        return self._picture


class _FilmFile:
    def __init__(self, path: Path) -> None:
        self._path = path
        with opened(path) as container:
            stream = picture_stream(container, path)
            first = _first_picture(container, stream, path)
            self._first_stamp = first.pts if first.pts is not None else first.dts
            rotation = -first.rotation % 360
            # A camera held askew by some degrees is no turn: only quarter turns are stored so.
            rotation = round(rotation / 90.0) * 90 % 360
            self._upright = Upright(first.width, first.height, rotation)
            base = float(stream.time_base or 0) or 1.0 / 90_000.0
            self._base = base
            self._size = path.stat().st_size
            rate = float(stream.average_rate or stream.guessed_rate or 0) or 30.0
            promised = _promised(container, stream, base)
            self._promised = promised
            self._facts = FilmFacts(
                width=self._upright.width,
                height=self._upright.height,
                rotation=rotation,
                frames=stream.frames or round((promised or 0.0) * rate),
                duration=max((promised or 0.0) - 1.0 / rate, 0.0),
                codec=stream.codec_context.name,
                sound=bool(container.streams.audio),
            )

    def facts(self) -> FilmFacts:
        return self._facts

    def frames(self, *, start: float = 0.0) -> Iterator[Frame]:
        stamps = Stamps(self._first_stamp, self._base)
        with opened(self._path) as container:
            stream = picture_stream(container, self._path)
            # Threads by frame and by slice, as the codec can: decoding is what takes the time.
            stream.thread_type = "AUTO"
            if start > 0.0:
                container.seek(
                    int(start / self._base) + (self._first_stamp or 0), stream=stream, backward=True
                )
            for picture in _pictures(container, stream, stamps):
                time = stamps.of(picture)
                if time is not None and time >= start:
                    yield _FilmFrame(time, picture, self._upright_of(picture))
        if start <= 0.0:
            self._settle(stamps)

    def _upright_of(self, picture: Any) -> Upright:
        same = self._upright
        if (picture.width, picture.height) == (same.raw_width, same.raw_height):
            return same
        # Some recorders change the size on the way; places then hold for what is shown.
        return Upright(picture.width, picture.height, same.rotation)

    def _settle(self, stamps: Stamps) -> None:
        """Replace what the header promised by what was there."""
        words = stamps.words(self._promised)
        size = self._path.stat().st_size
        if size != self._size:
            words.append(
                f"the file was still growing while it was read ({self._size} bytes, then {size}): "
                "wait until it is copied or recorded to its end and read it again"
            )
        self._facts = replace(
            self._facts,
            frames=stamps.frames,
            duration=stamps.last,
            ended_early="; ".join(words) or None,
        )


def _promised(container: Any, stream: Any, base: float) -> float | None:
    if stream.duration:
        return float(stream.duration * base)
    # The whole container's length (in millionths of a second) may be that of the sound.
    return float(container.duration / 1e6) if container.duration else None


def _first_picture(container: Any, stream: Any, path: Path) -> Any:
    stamps = Stamps(0, 1.0)
    for picture in _pictures(container, stream, stamps):
        if picture.pts is not None or picture.dts is not None:
            return picture
    raise FilmRefused(
        [
            film_problem(
                "film-empty",
                "no picture of this film can be decoded"
                + (f" ({stamps.failed})" if stamps.failed else ""),
                str(path),
                do="Play it on the phone: if it plays there, copy it again; if not, it is lost.",
            )
        ]
    )


def _pictures(container: Any, stream: Any, stamps: Stamps) -> Iterator[Any]:
    """Decode as far as it goes: a damaged packet is noted and left out, what follows is read."""
    import av

    # Where only the whole container's duration is known, the sound has to be followed as well.
    packets = container.demux(stream) if stream.duration else container.demux()
    while True:
        try:
            packet = next(packets, None)
        except (av.FFmpegError, OSError) as failed:
            stamps.stopped(_said(failed))
            return
        if packet is None:
            return
        if packet.stream is not stream:
            stamps.other(packet)
            continue
        try:
            pictures = packet.decode()
        except av.FFmpegError as failed:
            stamps.damaged(_said(failed))
            continue
        for picture in pictures:
            if picture.is_corrupt:
                stamps.damaged("a picture came out damaged")
                continue
            yield picture


def _said(failed: BaseException) -> str:
    return str(getattr(failed, "strerror", None) or failed)
