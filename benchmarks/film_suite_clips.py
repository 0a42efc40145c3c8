"""The suite's films, made once and kept in ``build/clips`` until their scene or the drawing of it
changes."""

import hashlib
import os
import pickle
from pathlib import Path

from training.clips.clip import Clip
from training.clips.shoot import film
from training.clips.truth import Truth

__all__ = ["made"]

_ROOT = Path(__file__).parent.parent
_HOME = _ROOT / "build" / "clips"
# What draws a scene. Which scenes there are is in the scenes themselves.
_DRAWING = (
    "background camera containers face glass glyphs indicator light load scene shapes shoot take"
    " thud truth writing"
)


def made(clip: Clip, *, seed: int) -> tuple[Path, Truth]:
    """Return the film of ``clip`` and its truth."""
    _HOME.mkdir(parents=True, exist_ok=True)
    path = _HOME / f"{clip.scene.name}-{_key(clip, seed)}.mp4"
    kept = path.with_suffix(".truth")
    if path.exists() and kept.exists():
        return path, pickle.loads(kept.read_bytes())
    for old in _HOME.glob(f"{clip.scene.name}-????????????.*"):
        old.unlink(missing_ok=True)
    # Under a name of this process's own: two may make the same clip at a time.
    drawn = _HOME / f"{os.getpid()}.{path.name}"
    truth = film(clip.scene, drawn, seed=seed)
    kept.write_bytes(pickle.dumps(truth))
    drawn.rename(path)
    return path, truth


def _key(clip: Clip, seed: int) -> str:
    said = hashlib.sha256(f"{seed} {clip.scene!r}".encode())
    for name in _DRAWING.split():
        said.update((_ROOT / "training" / "clips" / f"{name}.py").read_bytes())
    return said.hexdigest()[:12]
