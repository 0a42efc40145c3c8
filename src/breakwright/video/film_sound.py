"""The sound of a film as numbers, on the film's own clock."""

from dataclasses import dataclass
from pathlib import Path

import numpy as np
from numpy.typing import NDArray

from breakwright.video.opening import opened, picture_stream
from breakwright.video.trouble import FilmRefused, film_problem

__all__ = ["Sound", "film_sound"]

# Enough for the crack of a break (its onset is told to a fraction of a millisecond).
_RATE = 16_000


@dataclass(frozen=True, slots=True)
class Sound:
    """``samples`` (n,) mono, -1 to 1, ``rate`` of them a second; the first is at the time of the
    film's first frame."""

    samples: NDArray[np.float32]
    rate: int


def film_sound(path: Path) -> Sound:
    """Return the film's sound, as far as it can be decoded.

    Raises FilmRefused where the file is no film or has no sound.
    """
    import av

    with opened(path) as container:
        pictures = picture_stream(container, path)
        if not container.streams.audio:
            raise _silent(path, "this film has no sound track")
        stream = container.streams.audio[0]
        parts: list[NDArray[np.float32]] = []
        first_sound: float | None = None
        resampler = av.AudioResampler(format="fltp", layout="mono", rate=_RATE)
        try:
            for frame in container.decode(stream):
                if first_sound is None:
                    first_sound = frame.time or 0.0
                parts += [one.to_ndarray()[0] for one in resampler.resample(frame)]
            parts += [one.to_ndarray()[0] for one in resampler.resample(None)]
        except av.FFmpegError:
            # What came before the damage is still sound.
            pass
        first_picture = float((pictures.start_time or 0) * (pictures.time_base or 0))
    if not parts or first_sound is None:
        raise _silent(path, "the sound track of this film is empty or damaged")
    samples = np.concatenate(parts).astype(np.float32, copy=False)
    return Sound(_shifted(samples, first_sound - first_picture), _RATE)


def _shifted(samples: NDArray[np.float32], late: float) -> NDArray[np.float32]:
    count = round(late * _RATE)
    if count >= 0:
        return np.concatenate([np.zeros(count, np.float32), samples])
    return samples[-count:]


def _silent(path: Path, message: str) -> FilmRefused:
    return FilmRefused(
        [
            film_problem(
                "film-silent",
                message,
                str(path),
                allowed="films with sound, where two films are brought onto one clock by it",
                do="Give the offset between the two films by hand.",
            )
        ]
    )
