"""Clips about the camera and the file: rotation, frame rates, gaps, bumps, swings, codecs."""

from dataclasses import replace

from training.clips.camera import Camera
from training.clips.clip import LEFT, RIGHT, Clip, scale, scene, two_displays
from training.clips.indicator import Indicator
from training.clips.load import pull, strokes
from training.clips.scene import Place

__all__ = ["CLIPS"]

_STEADY = pull(42.0, rate=9.0)
_BREAK = _STEADY.breaks[0]
_QUICK = pull(40.0, rate=20.0, start=0.5)
_TALL = (Place(270, 260, digit=44, yaw=5), Place(270, 620, digit=44, roll=-2))

CLIPS = (
    Clip(
        scene(
            "turned-90", _STEADY, two_displays(places=_TALL), camera=Camera(540, 960, rotation=90)
        ),
        ("90 and 180 degree rotation",),
    ),
    Clip(
        scene("turned-180", _STEADY, two_displays(), camera=Camera(rotation=180)),
        ("90 and 180 degree rotation",),
    ),
    Clip(
        scene(
            "turned-270", _STEADY, two_displays(places=_TALL), camera=Camera(540, 960, rotation=270)
        ),
        ("90 and 180 degree rotation",),
    ),
    Clip(
        scene(
            "held-upside-down",
            _STEADY,
            two_displays(places=(replace(LEFT, roll=180.0), replace(RIGHT, roll=178.0))),
        ),
        ("90 and 180 degree rotation",),
    ),
    Clip(
        scene(
            "gaps",
            _STEADY,
            two_displays(),
            camera=Camera(
                uneven=0.35, gaps=((1.9, 2.15), (3.3, 3.6), (_BREAK - 0.9, _BREAK - 0.7))
            ),
        ),
        ("variable frame rate gaps",),
    ),
    Clip(
        scene("doubled", _STEADY, two_displays(), camera=Camera(doubled=0.35)),
        ("duplicated frames",),
    ),
    Clip(
        scene(
            "hevc", _STEADY, two_displays(glass="slow"), camera=Camera(codec="libx265", quality=26)
        ),
        ("HEVC",),
    ),
    Clip(
        scene("sixty", _STEADY, two_displays(glass="slow"), camera=Camera(fps=60.0)),
        ("60 and 240 fps",),
    ),
    Clip(
        scene(
            "two-hundred-and-forty",
            _QUICK,
            (scale(Indicator("only", refresh=0.1), place=Place(320, 180, digit=42), look="grey"),),
            camera=Camera(640, 360, fps=240.0, exposure=0.002, readout=0.003),
            after=0.6,
        ),
        ("60 and 240 fps",),
    ),
    Clip(
        scene(
            "bump-at-break",
            _STEADY,
            two_displays(),
            camera=Camera(bumps=((_BREAK + 0.01, 26.0),)),
        ),
        ("a bump of the camera at the break",),
    ),
    Clip(
        scene(
            "swinging",
            _STEADY,
            two_displays(
                places=(
                    replace(LEFT, swing=16.0, swing_from=0.8, swing_period=1.3),
                    replace(RIGHT, swing=11.0, swing_from=0.4, swing_period=0.9),
                )
            ),
        ),
        ("a swinging scale",),
    ),
    Clip(
        scene(
            "leaves-the-picture",
            strokes(43.0, step=9.0, stroke=0.5, hold=0.4),
            two_displays(),
            camera=Camera(pan_x=((1.6, 0.0), (2.2, -330.0), (2.7, -330.0), (3.3, 0.0))),
        ),
        ("a display leaving the frame",),
    ),
    Clip(
        scene(
            "gone-at-break",
            _STEADY,
            two_displays(),
            camera=Camera(pan_x=((4.4, 0.0), (4.9, -340.0))),
        ),
        ("a display leaving the frame",),
        doubts=(("screen-lost", "unreadable-at-peak"),),
        at_least=True,
    ),
    Clip(
        scene(
            "slanting-view",
            _STEADY,
            two_displays(
                places=(
                    replace(LEFT, yaw=28.0, pitch=-14.0, roll=-7.0, digit=46.0),
                    replace(RIGHT, yaw=-26.0, pitch=12.0, roll=6.0, digit=46.0),
                )
            ),
            camera=Camera(shake=3.0, zoom=((0.0, 1.0), (5.0, 1.12))),
        ),
        ("a swinging scale",),
    ),
    Clip(
        scene(
            "far-away",
            _STEADY,
            two_displays(places=(replace(LEFT, digit=22.0), replace(RIGHT, digit=22.0))),
            camera=Camera(shake=2.0, noise=4.0),
        ),
        ("unit icons",),
    ),
)
