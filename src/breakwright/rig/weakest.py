"""The weakest link: which way of breaking comes first, and with what chance."""

import hashlib
import math
from collections.abc import Sequence
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from breakwright.rig.contenders import Contender, Source, goes_before
from breakwright.rig.findings import GroupRace, Method, WayChance

__all__ = ["Draws", "Finish", "finish", "race"]

_REMEMBERED = 64  # contenders; at 200,000 draws each takes 1.6 MB


class Finish(NamedTuple):
    """The chance of each contender to be first, in their order, and how it was worked out."""

    chances: tuple[float, ...]
    method: Method


class Draws:
    """Standard normal draws, one row a source of scatter, the same for every race of a check.

    A source's row depends on the seed and its name only. So every group, and the rig before and
    after a change, meet the same draws: differences between them are not differences of luck.
    """

    def __init__(self, seed: int, size: int) -> None:
        self.seed = seed
        self.size = size
        self._rows: dict[Source, NDArray[np.float64]] = {}
        self._logs: dict[Contender, NDArray[np.float64]] = {}

    def row(self, source: Source) -> NDArray[np.float64]:
        """Draws of one source, shape (size,)."""
        if source not in self._rows:
            name = hashlib.sha256("\x1f".join(source).encode()).digest()
            stream = np.random.default_rng([self.seed, int.from_bytes(name[:8], "big")])
            self._rows[source] = stream.standard_normal(self.size)
        return self._rows[source]

    def log_loads(self, contender: Contender) -> NDArray[np.float64]:
        """Log of the load at which the contender breaks, shape (size,)."""
        total = np.full(self.size, math.log(contender.median))
        for source, loading in contender.loadings:
            total += loading * self.row(source)
        return total

    def kept(self, contender: Contender) -> NDArray[np.float64]:
        """As ``log_loads``, remembered: for contenders that many races meet."""
        if contender not in self._logs:
            if len(self._logs) >= _REMEMBERED:
                del self._logs[next(iter(self._logs))]
            self._logs[contender] = self.log_loads(contender)
        return self._logs[contender]


def finish(contenders: Sequence[Contender], draws: Draws) -> Finish:
    """The chance of each to be first: by the closed form for two, else by the draws."""
    if len(contenders) == 1:
        return Finish((1.0,), Method.ONE_WAY)
    if len(contenders) == 2:
        first = goes_before(contenders[0], contenders[1])
        return Finish((first, 1.0 - first), Method.CLOSED_FORM)
    lowest = draws.kept(contenders[0]).copy()
    who = np.zeros(draws.size, dtype=np.int16)
    for k, contender in enumerate(contenders[1:], start=1):
        logs = draws.kept(contender)
        under = logs < lowest
        who[under] = k
        np.minimum(lowest, logs, out=lowest)
    wins = np.bincount(who, minlength=len(contenders)) / draws.size
    return Finish(tuple(float(w) for w in wins), Method.SIMULATION)


def race(group: str, contenders: Sequence[Contender], draws: Draws) -> GroupRace:
    """All ways of breaking against each other, for one group's pieces."""
    found = finish(contenders, draws)
    simulated = found.method is Method.SIMULATION
    ways = [
        WayChance(
            part=c.part,
            mechanism=c.mechanism,
            intended=c.intended,
            chance=p,
            standard_error=math.sqrt(p * (1.0 - p) / draws.size) if simulated else None,
        )
        for c, p in zip(contenders, found.chances, strict=True)
    ]
    ways.sort(key=lambda w: -w.chance)
    intended = [w.chance for w in ways if w.intended]
    return GroupRace(
        group=group,
        ways=tuple(ways),
        intended_chance=intended[0] if intended else None,
        method=found.method,
        draws=draws.size if simulated else 0,
    )
