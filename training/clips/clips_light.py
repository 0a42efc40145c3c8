"""Clips about light and what gets in its way: glare, shadow, hand, exposure, focus."""

from dataclasses import replace

from training.clips.camera import Camera
from training.clips.clip import Clip, scene, two_displays
from training.clips.load import pull, strokes
from training.clips.scene import Glare, Hand, Shade

__all__ = ["CLIPS"]

_STROKES = strokes(43.0, step=9.0, stroke=0.5, hold=0.4)
_END = _STROKES.breaks[0]
_PLAIN = scene("", _STROKES, two_displays())
_STEADY = pull(42.0, rate=9.0)

_HAND = Hand(
    ((3.9, 760.0), (4.5, 665.0), (6.4, 660.0)),
    ((3.9, 720.0), (4.5, 250.0), (6.4, 245.0)),
    size=80.0,
)

CLIPS = (
    Clip(
        replace(
            _PLAIN,
            name="glare",
            glares=(
                Glare(((0.0, 60.0), (_END, 900.0)), ((0.0, 200.0), (_END, 280.0)), strength=110.0),
                Glare(
                    ((0.0, 800.0), (_END, 480.0)),
                    ((0.0, 260.0), (_END, 200.0)),
                    reach=40.0,
                    strength=60.0,
                ),
            ),
        ),
        ("moving glare",),
    ),
    Clip(
        replace(
            _PLAIN,
            name="shadow",
            shades=(
                Shade(((0.0, -50.0), (_END, 1000.0)), width=190.0, left=0.45),
                Shade(((0.0, 900.0), (_END, 200.0)), width=70.0, left=0.65),
            ),
        ),
        ("shadow",),
    ),
    Clip(
        replace(
            _PLAIN,
            name="hand",
            hands=(
                Hand(
                    ((1.6, 700.0), (2.2, 660.0), (2.7, 640.0), (3.4, 740.0)),
                    ((1.6, 700.0), (2.2, 260.0), (2.7, 250.0), (3.4, 700.0)),
                ),
            ),
        ),
        ("hand",),
    ),
    Clip(
        replace(scene("hand-at-peak", _STEADY, two_displays()), hands=(_HAND,)),
        ("hand",),
        doubts=(("unreadable-at-peak", "screen-lost", "guessed-at-peak"),),
        at_least=True,
    ),
    Clip(
        scene(
            "exposure-step",
            _STEADY,
            two_displays(looks=("grey", "blue-back")),
            camera=Camera(
                gain=(
                    (_STEADY.breaks[0] - 0.05, 1.0),
                    (_STEADY.breaks[0] - 0.02, 1.7),
                    (_STEADY.breaks[0] + 0.2, 1.5),
                    (_STEADY.breaks[0] + 0.7, 0.9),
                )
            ),
        ),
        ("auto-exposure step at the break",),
    ),
    Clip(
        scene(
            "focus-hunts",
            _STROKES,
            two_displays(),
            camera=Camera(
                focus=(
                    (1.4, 0.4),
                    (1.6, 5.0),
                    (1.8, 1.0),
                    (2.0, 3.0),
                    (2.2, 0.4),
                    (3.4, 0.4),
                    (3.6, 4.0),
                    (3.9, 0.3),
                )
            ),
        ),
        ("focus hunting",),
    ),
    Clip(
        scene(
            "soft-and-noisy",
            _STEADY,
            two_displays(looks=("pale", "grey")),
            camera=Camera(focus=((0.0, 1.3),), noise=9.0, gain=((0.0, 0.6),), quality=28),
        ),
        ("focus hunting", "shadow"),
    ),
)
