"""Pulls found in a stream of loads while it comes: where one begins, and when it is over."""

from collections import deque
from dataclasses import dataclass, field
from enum import StrEnum

from breakwright.model.errors import ImpossibleValue
from breakwright.reading.stream_lines import Sample

__all__ = ["Phase", "Pull", "PullEnd", "PullFinder", "PullRules"]

# Samples kept from before a pull: to see whether the cell stood at zero.
_REST_KEPT = 50


class Phase(StrEnum):
    """``FALLEN``: far below the peak, and not yet for long enough to call it the end."""

    REST = "rest"
    PULLING = "pulling"
    FALLEN = "fallen"


class PullEnd(StrEnum):
    """``FELL``: the load fell and stayed down. ``CUT``: the lines ended while it still bore."""

    FELL = "fell"
    CUT = "cut"


@dataclass(frozen=True, slots=True)
class PullRules:
    """Loads in N, times in s.

    A pull begins at ``threshold`` and is over when the load has stayed below ``drop`` times its
    peak for ``stay``: a slip that is taken up again does not end it. A hole longer than
    ``silence`` between two samples is a gap in which anything may have happened. ``rate`` is the
    stated loading rate (N/s); None: found. ``resolution`` and ``capacity`` None: not stated.
    ``sign`` -1 takes pulls that the cell shows as negative.
    """

    threshold: float = 50.0
    drop: float = 0.5
    stay: float = 2.0
    silence: float = 1.5
    resolution: float | None = None
    capacity: float | None = None
    rate: float | None = None
    sign: float = 1.0

    def __post_init__(self) -> None:
        if not self.threshold > 0.0:
            raise ImpossibleValue(f"a pull begins above 0; the threshold is {self.threshold}")
        if not 0.0 < self.drop < 1.0 or not self.stay >= 0.0 or not self.silence > 0.0:
            raise ImpossibleValue(f"these rules end no pull: {self}")


@dataclass(frozen=True, slots=True)
class Pull:
    """One pull. ``samples`` are in the sign of the rules; ``rest`` those before it.

    ``again``: the load had not come to rest since the pull before, so that both may be of one
    piece.
    """

    samples: tuple[Sample, ...]
    rest: tuple[Sample, ...]
    end: PullEnd
    again: bool = False


@dataclass(slots=True)
class PullFinder:
    """Fed one sample after another. ``load`` and ``peak`` are what a person wants to see now (N);
    ``wrong_way`` is the largest load against the sign of the rules."""

    rules: PullRules
    phase: Phase = Phase.REST
    load: float | None = None
    peak: float = 0.0
    highest: float = 0.0
    wrong_way: float = 0.0
    over_at_rest: int = 0
    _rest: deque[Sample] = field(default_factory=lambda: deque(maxlen=_REST_KEPT))
    _samples: list[Sample] = field(default_factory=list)
    _fallen_since: float | None = None
    _again: bool = False
    _low: float | None = None
    _shown: float = 0.0
    _firm: float = 0.0

    def feed(self, sample: Sample) -> Pull | None:
        """Take the next sample; return the pull that it ended."""
        load = None if sample.load is None else self.rules.sign * sample.load
        sample = Sample(sample.time, load, sample.after_gap)
        self.load = load
        if load is not None:
            self.highest = max(self.highest, load)
            self.wrong_way = max(self.wrong_way, -load)
        if self.phase is Phase.REST:
            self._at_rest(sample)
            return None
        self._samples.append(sample)
        return self._in_pull(sample)

    def end(self) -> Pull | None:
        """No more lines will come; return the pull that was going on."""
        if self.phase is Phase.REST:
            return None
        return self._over(PullEnd.FELL if self.phase is Phase.FALLEN else PullEnd.CUT)

    def _at_rest(self, sample: Sample) -> None:
        load, rules = sample.load, self.rules
        if load is not None and load < rules.threshold:
            self._low = None  # come to rest: from here on it is another piece
        begins = load is None or load >= rules.threshold
        if self._low is not None and load is not None:
            self._low = min(self._low, load)
            begins = load >= self._low + rules.threshold
        if load is None and self._low is None and self._shown < rules.threshold / 4.0:
            # A display that loses its number while nothing hangs on it is not loaded.
            self.over_at_rest += 1
            begins = False
        if load is not None:
            self._shown = load
        if not begins:
            self._rest.append(sample)
            return
        self._again = self._low is not None
        self._samples = [sample]
        self.peak = self._shown
        self._firm = 0.0
        self.phase = Phase.PULLING
        self._fallen_since = None

    def _in_pull(self, sample: Sample) -> Pull | None:
        load, rules = sample.load, self.rules
        if load is not None:
            # What two samples in a row bear out: a lone one, a disturbance, makes no fall.
            self._firm = max(self._firm, min(load, self._shown))
            self._shown = load
            self.peak = max(self.peak, load)
        # A pull that hardly passed the threshold is over when it is back below it.
        if load is None or load >= max(rules.drop * self._firm, 0.9 * rules.threshold):
            self.phase, self._fallen_since = Phase.PULLING, None
            return None
        if self._fallen_since is None:
            self.phase, self._fallen_since = Phase.FALLEN, sample.time
        if sample.time - self._fallen_since < rules.stay:
            return None
        return self._over(PullEnd.FELL)

    def _over(self, end: PullEnd) -> Pull:
        pull = Pull(tuple(self._samples), tuple(self._rest), end, self._again)
        last = self._samples[-1].load
        self._low = last if last is not None and last >= self.rules.threshold else None
        self.phase, self._samples, self._again = Phase.REST, [], False
        self._rest.clear()
        return pull
