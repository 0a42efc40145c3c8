"""The sound track: a workshop's hum, and a thud and a crack at each break."""

import numpy as np
from numpy.typing import NDArray

from training.clips.scene import Scene

__all__ = ["RATE", "thuds"]

RATE = 48_000


def thuds(scene: Scene, *, seed: int) -> NDArray[np.float32]:
    """Return mono samples (-1 to 1) at ``RATE`` that begin with the film."""
    rng = np.random.default_rng([seed, 2])
    count = round((scene.seconds + 0.1) * RATE)
    times = np.arange(count) / RATE
    sound = rng.normal(0.0, 0.004, count) + 0.006 * np.sin(2 * np.pi * 50.0 * times)
    for moment in scene.load.breaks:
        since = times - (moment - scene.began)
        after = since >= 0.0
        low = np.sin(2 * np.pi * 140.0 * since) * np.exp(-np.maximum(since, 0.0) / 0.06)
        crack = rng.normal(0.0, 1.0, count) * np.exp(-np.maximum(since, 0.0) / 0.012)
        sound += np.where(after, 0.45 * low + 0.3 * crack, 0.0)
    return np.clip(sound, -1.0, 1.0).astype(np.float32)
