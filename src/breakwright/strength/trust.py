"""How far a prediction may be believed: three classes, and the scatter that each stands for."""

import math
from enum import StrEnum

__all__ = ["MODEL_SIGMA", "Trust"]


class Trust(StrEnum):
    GOOD = "good"
    FAIR = "fair"
    ORDER = "order of magnitude"


# Bands of the mean: 25 %, 40 %, a factor of 2, each taken as the middle nine tenths of a
# lognormal error of the equation itself. The bands are the authors' judgement, no source.
_NINE_TENTHS = 1.6448536269514722
MODEL_SIGMA = {
    Trust.GOOD: math.log(1.25) / _NINE_TENTHS,
    Trust.FAIR: math.log(1.40) / _NINE_TENTHS,
    Trust.ORDER: math.log(2.0) / _NINE_TENTHS,
}
