"""Clips about what stands there: over-range texts, signs, digit counts, points, units."""

from training.clips.camera import Camera
from training.clips.clip import LEFT, RIGHT, Clip, scale, scene, two_displays
from training.clips.indicator import Fault, Indicator, Kind
from training.clips.load import pull, strokes
from training.clips.scene import Place

__all__ = ["CLIPS"]

_MIDDLE = Place(480, 250)


def _over(name: str, left: str, right: str, looks: tuple[str, str]) -> Clip:
    """Both displays run out before the piece breaks."""
    units = two_displays(looks=looks, capacity=(20.0, 22.0), over=(left, right))
    return Clip(
        scene(name, pull(50.0, rate=11.0), units),
        ("over-range texts",),
        doubts=(("over-range",),),
        at_least=True,
    )


CLIPS = (
    _over("over-OL", "OL", "0L", ("grey", "green")),
    _over("over-dashes", "----", "Err", ("blue-back", "grey")),
    _over("over-E", "EEEE", "OL", ("red", "grey")),
    Clip(
        scene(
            "below-zero",
            pull(30.0, first=-6.4, start=1.6, rate=9.0),
            (scale(Indicator("only", places=5), place=_MIDDLE),),
        ),
        ("negative",),
        doubts=(("below-zero",),),
    ),
    Clip(
        scene(
            "more-digits",
            pull(36.0, rate=6.0),
            (
                scale(Indicator("left", share=((0.0, 0.5),), refresh=0.3)),
                scale(
                    Indicator(
                        "right",
                        share=((0.0, 0.5),),
                        unit="N",
                        decimals=1,
                        resolution=0.5,
                        capacity=500.0,
                        refresh=0.2,
                        phase=0.11,
                    ),
                    place=RIGHT,
                    look="blue-back",
                ),
            ),
        ),
        ("digit count change",),
    ),
    Clip(
        scene(
            "range-change",
            pull(15.5, rate=3.0),
            (
                scale(
                    Indicator(
                        "only",
                        unit="N",
                        decimals=1,
                        resolution=0.1,
                        capacity=999.0,
                        places=3,
                        refresh=0.25,
                    ),
                    place=_MIDDLE,
                ),
            ),
        ),
        ("digit count change", "point lost or shifted"),
    ),
    Clip(
        scene(
            "point-lost",
            strokes(42.0, step=9.0),
            two_displays(faults=((), (Fault(Kind.POINT_LOST, 2.4),))),
        ),
        ("point lost or shifted",),
    ),
    Clip(
        scene(
            "point-shifted",
            strokes(42.0, step=9.0),
            two_displays(faults=((), (Fault(Kind.POINT_SHIFTED, 2.4),))),
        ),
        ("point lost or shifted",),
        peaks=False,
        doubts=(("decimals-doubtful", "unit-switched"),),
    ),
    Clip(
        scene(
            "to-pounds",
            strokes(40.0, step=8.0),
            two_displays(faults=((Fault(Kind.POUNDS, 2.6),), ())),
        ),
        ("kg/lb switch",),
        peaks=False,
        doubts=(("unit-switched",),),
    ),
    Clip(
        scene(
            "drifting-zero",
            pull(40.0, rate=9.0, start=1.4),
            (
                scale(Indicator("left", share=((0.0, 0.6), (6.0, 0.4)), offset=0.05), place=LEFT),
                scale(
                    Indicator("right", share=((0.0, 0.4), (6.0, 0.6)), phase=0.13),
                    place=RIGHT,
                    look="pale",
                ),
            ),
        ),
        ("different refresh rates and lags",),
    ),
    Clip(
        scene(
            "three",
            pull(80.0, rate=16.0),
            (
                scale(Indicator("one", share=((0.0, 0.3),)), place=Place(185, 170, digit=36)),
                scale(
                    Indicator("two", share=((0.0, 0.36),), phase=0.1, refresh=0.2),
                    place=Place(480, 330, digit=36),
                    look="red",
                    glass="lamp",
                ),
                scale(
                    Indicator("three", share=((0.0, 0.34),), phase=0.2, refresh=0.3),
                    place=Place(775, 170, digit=36),
                    look="green",
                ),
            ),
        ),
        ("different refresh rates and lags",),
    ),
    Clip(
        scene(
            "clipped-right",
            pull(40.0, rate=8.0),
            two_displays(places=(LEFT, Place(910, 245, digit=44, yaw=-4))),
            # From 2.4 s on a third of the last digit is out of the picture.
            camera=Camera(pan_x=((1.8, 0.0), (2.4, -17.0))),
        ),
        ("clipped right digit",),
        doubts=(("screen-lost", "unreadable-at-peak"),),
        at_least=True,
    ),
)
