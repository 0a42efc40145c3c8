"""Clips about time: values at the peak, short peaks, faults of the electronics, several breaks."""

from training.clips.clip import RIGHT, Clip, scale, scene, two_displays
from training.clips.indicator import Fault, Indicator, Kind
from training.clips.load import Load, one_after_another, pull, strokes
from training.clips.scene import Place

__all__ = ["CLIPS"]

_STEADY = pull(42.0, rate=9.0)

CLIPS = (
    Clip(
        scene("plain", strokes(46.4, step=9.0, stroke=0.5, hold=0.4), two_displays()),
        ("different refresh rates and lags",),
    ),
    Clip(
        # Both displays take the load 20 ms before it is gone.
        scene(
            "new-at-peak",
            Load(
                ((0.0, 0.0), (0.8, 0.0), (2.5, 30.0), (3.30, 29.4), (3.52, 38.0), (3.524, 0.0)),
                (3.52,),
            ),
            (
                scale(Indicator("left", share=((0.0, 0.47),), phase=0.0, lag=0.01)),
                scale(
                    Indicator("right", share=((0.0, 0.53),), phase=0.01, lag=0.02),
                    place=RIGHT,
                    look="green",
                ),
            ),
        ),
        ("a new value exactly at the peak",),
    ),
    Clip(
        # A quick display that shows its peak for one frame only.
        scene(
            "one-frame-peak",
            Load(
                (
                    (0.0, 0.0),
                    (1.0, 0.0),
                    (2.6, 30.0),
                    (3.0, 30.0),
                    (3.02, 37.0),
                    (3.05, 37.0),
                    (3.054, 0.0),
                ),
                (3.05,),
            ),
            (
                scale(
                    Indicator(
                        "only", refresh=1 / 30, phase=0.02, resolution=0.1, decimals=1, places=3
                    ),
                    place=Place(480, 250),
                    look="red",
                    glass="lamp",
                ),
            ),
        ),
        ("a one-frame peak",),
        doubts=(("lone-peak", "guessed-at-peak", "unreadable-at-peak"),),
    ),
    Clip(
        scene("goes-dark", _STEADY, two_displays(faults=((), (Fault(Kind.DARK, 4.2),)))),
        ("time-out mid-pull",),
        doubts=(("screen-lost",),),
        at_least=True,
    ),
    Clip(
        scene(
            "backlight-off",
            _STEADY,
            two_displays(
                looks=("grey", "blue-back"),
                faults=((Fault(Kind.UNLIT, 3.0),), (Fault(Kind.UNLIT, 2.0),)),
            ),
        ),
        ("backlight off",),
        wide=True,
    ),
    Clip(
        scene(
            "held",
            strokes(43.0, step=7.0),
            two_displays(faults=((Fault(Kind.HELD, 2.2),), ())),
            after=1.8,
        ),
        ("hold and peak-hold", "one of two frozen"),
        peaks=False,
        doubts=(("frozen", "held-after-break"),),
    ),
    Clip(
        scene(
            "peak-held",
            _STEADY,
            two_displays(faults=((Fault(Kind.PEAK_HELD, 0.0),), (Fault(Kind.PEAK_HELD, 0.0),))),
            after=2.6,
        ),
        ("hold and peak-hold",),
        peaks=False,
    ),
    Clip(
        scene(
            "one-frozen",
            strokes(43.0, step=7.0),
            two_displays(faults=((), (Fault(Kind.FROZEN, 2.4),))),
            after=1.8,
        ),
        ("one of two frozen",),
        peaks=False,
        doubts=(("frozen", "held-after-break"),),
    ),
    Clip(
        scene(
            "slips",
            pull(44.0, rate=10.0, slips=((22.0, 5.0), (33.0, 9.0))),
            two_displays(looks=("green", "grey"), refresh=(0.2, 0.2)),
        ),
        ("a new value exactly at the peak",),
    ),
    Clip(
        scene(
            "partial-break",
            pull(40.0, rate=10.0, rest=12.0),
            two_displays(),
            after=4.0,
        ),
        ("a new value exactly at the peak",),
        doubts=(("drop-without-break", "cut-under-load"),),
    ),
    Clip(
        scene(
            "three-breaks",
            one_after_another(
                [pull(18.0, start=0.8), pull(27.5, start=0.8), pull(22.0, start=0.8)], pause=0.8
            ),
            two_displays(refresh=(0.2, 0.2)),
        ),
        ("different refresh rates and lags",),
    ),
    Clip(
        scene(
            "refresh-and-lag",
            _STEADY,
            (
                scale(Indicator("left", share=((0.0, 0.47),), refresh=0.5, phase=0.2, lag=0.12)),
                scale(
                    Indicator("right", share=((0.0, 0.53),), refresh=0.1, jitter=0.01, lag=0.04),
                    place=RIGHT,
                    look="green-lamp",
                    glass="lamp",
                ),
            ),
        ),
        ("different refresh rates and lags",),
    ),
)
