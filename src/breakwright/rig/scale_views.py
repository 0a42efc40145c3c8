"""One display under its share of the load: from what piece on it runs out, how finely it tells."""

import math
from typing import NamedTuple

from breakwright.model.gauge import Gauge
from breakwright.model.instrument import Instrument
from breakwright.rig.check_fit import fit_checks
from breakwright.rig.scale_findings import ScaleView

__all__ = ["Share", "bears", "view_of"]


class Share(NamedTuple):
    """Least, middle and largest share of the whole load that one display bears."""

    low: float
    middle: float
    high: float


def bears(instrument: Instrument) -> float | None:
    """The most load (N, on the display's own path) that it reads for certain; None: not stated."""
    limit = Gauge.of(instrument).limit
    return limit if math.isfinite(limit) else None


def view_of(
    instrument: Instrument, share: Share, *, at: float | None, rate: float | None
) -> ScaleView:
    """What ``instrument`` can tell of a piece when it bears ``share`` of the load.

    For certain it reads up to (usable - half a step) x least factor / largest share. A share
    that may be nothing leaves its best case open (None), one that is nothing both.
    """
    gauge = Gauge.of(instrument)
    calibration = gauge.calibration
    most = gauge.usable * calibration.largest * instrument.factor[1]
    limit = bears(instrument)
    middle = 0.25 * (calibration.smallest + calibration.largest) * sum(instrument.factor)
    known = instrument.capacity is not None
    return ScaleView(
        name=instrument.name,
        capacity=instrument.capacity,
        tare=instrument.tare,
        usable=gauge.usable if known else None,
        factor=instrument.factor,
        correction=(calibration.smallest, calibration.largest),
        verified=calibration.verified_up_to if calibration.checked else None,
        fit=fit_checks(instrument.weights),
        share=(share.low, share.middle, share.high),
        at=at,
        limit=limit / share.high if limit is not None and share.high > 0.0 else None,
        limit_high=most / share.low if known and share.low > 0.0 else None,
        refresh=instrument.refresh,
        missed=None if instrument.refresh is None or rate is None else rate * instrument.refresh,
        resolution=instrument.resolution,
        step=instrument.resolution * middle,
    )
