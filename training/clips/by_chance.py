"""Scenes put together by chance: what nobody thought of, seeded like everything here."""

from dataclasses import replace

import numpy as np

from training.clips.camera import Camera
from training.clips.clip import LEFT, RIGHT, Clip
from training.clips.face import Look
from training.clips.glass import Glass
from training.clips.glyphs import Variants
from training.clips.indicator import Indicator
from training.clips.load import Load, pull, strokes
from training.clips.looks import LOOKS
from training.clips.scene import Glare, Scene, Shade, Unit
from training.clips.shapes import Manner

__all__ = ["clip_by_chance"]

_STEPS = ((0.05, 2), (0.1, 1), (0.02, 2), (0.01, 2), (0.2, 1))


def clip_by_chance(number: int) -> Clip:
    """Return clip ``number``: two displays that can be read throughout and never run out, all else
    by chance. Its peak has to be held and narrow."""
    rng = np.random.default_rng([number, 11])
    load = _load(rng)
    units = tuple(
        Unit(
            _indicator(name, share, rng),
            (look := _look(rng)),
            _glass(look, rng),
            replace(
                place,
                digit=float(rng.uniform(26, 58)),
                yaw=float(rng.uniform(-16, 16)),
                pitch=float(rng.uniform(-10, 10)),
                roll=float(rng.uniform(-4, 4)),
                swing=float(rng.choice([0.0, 0.0, 6.0])),
            ),
        )
        for name, share, place in (("left", 0.47, LEFT), ("right", 0.53, RIGHT))
    )
    end = load.breaks[0]
    scene = Scene(
        f"chance-{number}",
        round(end + 0.9, 2),
        load,
        units,
        _camera(end, rng),
        glares=_glares(end, rng),
        shades=_shades(end, rng),
    )
    return Clip(scene, ("by chance",))


def _load(rng: np.random.Generator) -> Load:
    peak = float(rng.uniform(20, 60))
    if rng.uniform() < 0.5:
        return strokes(
            peak,
            step=float(rng.uniform(5, 12)),
            stroke=float(rng.uniform(0.25, 0.6)),
            hold=float(rng.uniform(0.2, 0.7)),
            sag=float(rng.uniform(0.0, 0.6)),
        )
    at, drop = float(rng.uniform(0.4, 0.8)) * peak, float(rng.uniform(1.0, 6.0))
    slips = ((at, drop),) if rng.uniform() < 0.4 else ()
    return pull(peak, rate=float(rng.uniform(6, 16)), slips=slips)


def _indicator(name: str, share: float, rng: np.random.Generator) -> Indicator:
    resolution, decimals = _STEPS[int(rng.integers(len(_STEPS)))]
    refresh = float(rng.choice([0.1, 0.2, 0.25, 0.333, 0.4, 0.5]))
    return Indicator(
        name,
        share=((0.0, share),),
        resolution=resolution,
        decimals=decimals,
        places=decimals + 2 + int(rng.integers(0, 2)),
        refresh=refresh,
        phase=float(rng.uniform(0, refresh)),
        lag=float(rng.uniform(0, 0.1)),
        jitter=float(rng.choice([0.0, 0.01])),
    )


def _look(rng: np.random.Generator) -> Look:
    known = list(LOOKS.values())
    look = known[int(rng.integers(len(known)))]
    return replace(
        look,
        manner=list(Manner)[int(rng.integers(len(Manner)))],
        thick=float(rng.uniform(0.1, 0.15)),
        gap=float(rng.uniform(0.012, 0.03)),
        slant=float(rng.uniform(0.0, 0.16)),
        dead=float(rng.uniform(0.0, 0.07)),
        variants=Variants(bool(rng.integers(2)), bool(rng.integers(2)), bool(rng.integers(2))),
        bars=float(rng.choice([0.0, 0.4])) if look.glows else 0.0,
    )


def _glass(look: Look, rng: np.random.Generator) -> Glass:
    if look.glows:
        return Glass(rise=0.0, fall=0.0)
    return Glass(
        rise=float(rng.uniform(0.005, 0.04)),
        fall=float(rng.uniform(0.01, 0.07)),
        cascade=float(rng.choice([0.0, 0.0, 0.02])),
    )


def _camera(end: float, rng: np.random.Generator) -> Camera:
    return Camera(
        fps=float(rng.choice([24.0, 30.0, 30.0, 50.0, 60.0])),
        shake=float(rng.uniform(0.5, 3.5)),
        bumps=((end + 0.01, float(rng.uniform(0, 20))),),
        focus=((0.0, float(rng.uniform(0.0, 0.9))),),
        gain=((0.0, float(rng.uniform(0.65, 1.25))),),
        noise=float(rng.uniform(1, 6)),
        uneven=float(rng.choice([0.0, 0.0, 0.25])),
        doubled=float(rng.choice([0.0, 0.0, 0.15])),
        quality=int(rng.integers(20, 29)),
    )


def _glares(end: float, rng: np.random.Generator) -> tuple[Glare, ...]:
    x, y = rng.uniform(100, 860, 2), rng.uniform(150, 320, 2)
    spot = Glare(
        ((0.0, float(x[0])), (end, float(x[1]))),
        ((0.0, float(y[0])), (end, float(y[1]))),
        reach=float(rng.uniform(30, 80)),
        strength=float(rng.uniform(20, 60)),
    )
    return (spot,) if rng.uniform() < 0.4 else ()


def _shades(end: float, rng: np.random.Generator) -> tuple[Shade, ...]:
    x = rng.uniform(-50, 1000, 2)
    shade = Shade(
        ((0.0, float(x[0])), (end, float(x[1]))),
        width=float(rng.uniform(60, 300)),
        left=float(rng.uniform(0.45, 0.8)),
    )
    return (shade,) if rng.uniform() < 0.3 else ()
