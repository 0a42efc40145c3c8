"""Clips about the glass: ghosts, torn and half-refreshed rows, lamps lit in turns, odd digits."""

from dataclasses import replace

from training.clips.camera import Camera
from training.clips.clip import LEFT, RIGHT, Clip, scale, scene, two_displays
from training.clips.glass import Glass
from training.clips.glyphs import Variants
from training.clips.indicator import Indicator
from training.clips.load import Load, pull, strokes
from training.clips.looks import LOOKS
from training.clips.scene import Place

__all__ = ["CLIPS"]

_ODD = replace(LOOKS["grey"], variants=Variants(six_tail=False, nine_tail=False, seven_hook=True))


def _staircase(levels: tuple[float, ...], *, each: float = 0.7, start: float = 0.6) -> Load:
    """The load stands at each of ``levels`` (kgf) in turn, then breaks."""
    knots = [(0.0, 0.0), (start, 0.0)]
    now = start
    for level in levels:
        knots += [(now + 0.15, level), (now + each, level)]
        now += each
    return Load((*knots, (now + 0.004, 0.0)), (now,))


CLIPS = (
    Clip(
        scene("slow-glass", pull(44.0, rate=9.0), two_displays(glass="slow")),
        ("ghost unions",),
    ),
    Clip(
        scene(
            "slow-glass-strokes",
            strokes(43.0, step=9.0, stroke=0.5, hold=0.5),
            two_displays(
                glass=Glass(rise=0.05, fall=0.12), looks=("pale", "grey"), refresh=(0.4, 0.5)
            ),
        ),
        ("ghost unions",),
    ),
    Clip(
        scene(
            "piecemeal",
            pull(41.0, rate=9.0),
            two_displays(glass="piecemeal", looks=("blue-back", "grey")),
        ),
        ("half-refreshed rows",),
    ),
    Clip(
        scene(
            "torn-lamps",
            pull(43.5, rate=9.0),
            two_displays(
                glass="lamp",
                refresh=(0.113, 0.137),
                looks=("red", "green-lamp"),
                places=(replace(LEFT, digit=62.0), replace(RIGHT, digit=62.0)),
            ),
            camera=Camera(readout=0.033),
        ),
        ("row-torn frames",),
    ),
    Clip(
        scene(
            "lamps-banded",
            pull(40.0, rate=9.0),
            two_displays(
                glass="lamp",
                looks=(replace(LOOKS["red"], bars=0.5), replace(LOOKS["green-lamp"], bars=0.45)),
            ),
        ),
        ("LED banding by row",),
    ),
    Clip(
        scene(
            "lamps-in-turns",
            pull(40.0, rate=9.0),
            two_displays(glass="in-turns", looks=("red", "blue-lamp")),
            camera=Camera(exposure=0.0082),
        ),
        ("LED banding by digit",),
    ),
    Clip(
        scene(
            "red-and-blue",
            pull(46.0, rate=10.0),
            two_displays(glass="lamp", looks=("red", "blue-lamp")),
        ),
        ("red and blue displays",),
    ),
    Clip(
        scene(
            "white-on-blue",
            strokes(45.0, step=9.0),
            two_displays(looks=("blue-back", "blue-back")),
        ),
        ("red and blue displays", "unit icons"),
    ),
    Clip(
        scene(
            "six-seven-nine",
            _staircase((6.75, 17.95, 26.7, 36.65, 39.6, 47.9)),
            (scale(Indicator("only", phase=0.04), look=_ODD, place=Place(480, 250)),),
        ),
        ("6/7/9 variants",),
    ),
    Clip(
        scene(
            "rows-of-ones",
            _staircase((1.1, 7.1, 11.1, 11.15, 17.7, 41.1)),
            (scale(Indicator("only", phase=0.04), look="green", place=Place(480, 250)),),
        ),
        ("rows of ones",),
    ),
    Clip(
        scene(
            "pale-icons",
            pull(38.0, rate=8.0),
            two_displays(looks=("pale", "pale")),
            camera=Camera(noise=5.0),
        ),
        ("unit icons",),
    ),
)
