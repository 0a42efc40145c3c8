"""One pull filmed by two phones, each of which sees one display and hears the same thud."""

from training.clips.camera import Camera
from training.clips.clip import scale
from training.clips.indicator import Indicator
from training.clips.load import pull
from training.clips.scene import Place, Scene

__all__ = ["APART", "FIRST", "SECOND"]

APART = 0.734  # s by which the second phone began later

_LOAD = pull(42.0, rate=9.0)
_MIDDLE = Place(320, 180, digit=40)


def _phone(name: str, indicator: Indicator, *, began: float, look: str) -> Scene:
    return Scene(
        name,
        _LOAD.breaks[0] + 1.2 - began,
        _LOAD,
        (scale(indicator, place=_MIDDLE, look=look),),
        Camera(640, 360),
        sound=True,
        began=began,
    )


FIRST = _phone(
    "phone-one", Indicator("left", share=((0.0, 0.47),), phase=0.05), began=0.0, look="grey"
)
SECOND = _phone(
    "phone-two", Indicator("right", share=((0.0, 0.53),), phase=0.17), began=APART, look="green"
)
