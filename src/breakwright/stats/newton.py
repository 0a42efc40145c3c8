"""How far to trust a Newton step: the damping that all the fits share."""

import numpy as np

from breakwright.stats.cells import Batch
from breakwright.stats.families import Floats

__all__ = ["damping", "readings"]

# Up to this many readings the damped step of self-concordant functions is short enough to need
# no check; for more, the decrement grows as the root of their number without the function
# getting any less quadratic, and undamped it would take thousands of steps.
_SMALL = 10.0


def damping(decrement: Floats, count: Floats | float) -> Floats:
    """Share of the Newton step to take, from the squared decrement and the number of readings."""
    square = np.maximum(decrement, 0.0) / np.maximum(np.asarray(count) / _SMALL, 1.0)
    return np.asarray(1.0 / (1.0 + np.sqrt(square)))


def readings(batch: Batch) -> Floats:
    """How many readings each data set of a batch has, (B,)."""
    count = batch.moments.count.astype(np.float64)
    for block in (batch.right, batch.left, batch.between):
        if block is not None:
            count = count + np.add.reduce(block.weight, axis=0)
    return np.asarray(count)
