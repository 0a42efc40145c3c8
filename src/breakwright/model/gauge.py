"""The instruments of a study made ready for reading many trials: worked out once, used per row."""

import math
from collections.abc import Mapping
from dataclasses import dataclass

from breakwright.model.calibration import UNCHECKED, Calibration, calibration_of
from breakwright.model.instrument import Instrument
from breakwright.model.interval import Interval
from breakwright.model.study import Study
from breakwright.model.trial import Reading, Sharing
from breakwright.model.units import ForceUnit

__all__ = ["UNKNOWN", "Bench", "Gauge", "same_word"]


@dataclass(frozen=True, slots=True)
class Gauge:
    """An instrument with what follows from it. ``instrument`` is None where nothing is known.

    ``smallest`` is the least load on the piece for one shown newton (calibration and rig
    together), ``limit`` the most load on the piece that can be read for certain (N).
    """

    instrument: Instrument | None
    resolution: float
    usable: float
    refresh: float | None
    factor: tuple[float, float]
    calibration: Calibration
    smallest: float
    limit: float

    @classmethod
    def of(cls, instrument: Instrument) -> "Gauge":
        calibration = calibration_of(instrument)
        smallest = calibration.smallest * instrument.factor[0]
        # The last value that still counts as read ends half a step below the end of the range.
        last = max(0.0, instrument.usable - instrument.resolution / 2.0)
        return cls(
            instrument=instrument,
            resolution=instrument.resolution,
            usable=instrument.usable,
            refresh=instrument.refresh,
            factor=instrument.factor,
            calibration=calibration,
            smallest=smallest,
            limit=last * smallest,
        )

    @property
    def name(self) -> str | None:
        return None if self.instrument is None else self.instrument.name

    def beyond_checked(self, shown: Interval) -> bool:
        """Whether the whole reading lies above the heaviest weight the display was checked with."""
        if not self.calibration.checked:
            return False
        least = (shown.lower - self.resolution / 2.0) * self.calibration.smallest
        return least > self.calibration.verified_up_to


UNKNOWN = Gauge(None, 0.0, math.inf, None, (1.0, 1.0), UNCHECKED, 1.0, math.inf)


@dataclass(frozen=True, slots=True)
class Bench:
    """What holds for every trial of a study. Make it once with ``Bench.of(study)``.

    ``displays`` is the largest number of readings that any trial of the study has. Where the
    sharing is not stated the readings are taken as separate peaks: that interval holds the
    other one.
    """

    gauges: Mapping[str, Gauge]
    only: Gauge | None
    sharing: Sharing
    displays: int
    counts: str | None
    counts_word: str | None
    unit: ForceUnit

    @classmethod
    def of(cls, study: Study) -> "Bench":
        gauges = {i.name: Gauge.of(i) for i in study.instruments}
        return cls(
            gauges=gauges,
            only=next(iter(gauges.values())) if len(gauges) == 1 else None,
            sharing=study.sharing or Sharing.SEPARATE_PEAKS,
            displays=max((len(t.readings) for t in study.trials), default=0),
            counts=study.counts,
            counts_word=same_word(study.counts),
            unit=study.unit,
        )

    def gauge(self, reading: Reading) -> Gauge:
        """The gauge a reading names, or the only one there is, or ``UNKNOWN``."""
        if reading.instrument is None:
            return self.only or UNKNOWN
        return self.gauges.get(reading.instrument, UNKNOWN)


def same_word(word: str | None) -> str | None:
    """A failure word as it is compared: trimmed, capitals ignored; None where nothing is said.

    >>> same_word("  Pull-out ") == same_word("pull-out"), same_word(" ")
    (True, None)
    """
    return None if word is None else (word.strip().casefold() or None)
