"""Where each dot of a row goes, so that all are seen: always the same, nothing random."""

from collections.abc import Sequence

__all__ = ["spread", "thinned"]


def spread(spans: Sequence[tuple[float, float]], *, apart: float, half: float) -> list[float]:
    """Return a sideways offset for each mark within [-half, half], all in px.

    A span is where a mark's outermost middles lie: twice the same place for a dot, the dot and
    the arrow's head for an 'at least'. A mark goes to the free place nearest the middle line;
    where a row is too full for that, the places are taken in turn and marks overlap.

    >>> spread([(0.0, 0.0), (1.0, 1.0), (50.0, 50.0)], apart=10.0, half=20.0)
    [0.0, 10.0, 0.0]
    """
    steps = int(half // apart)
    lanes = [0.0]
    for i in range(1, steps + 1):
        lanes += [i * apart, -i * apart]
    ends = [float("-inf")] * len(lanes)
    offsets = [0.0] * len(spans)
    for turn, i in enumerate(sorted(range(len(spans)), key=lambda j: (*spans[j], j))):
        left, right = spans[i]
        free = next((k for k, end in enumerate(ends) if left - end >= apart), None)
        lane = turn % len(lanes) if free is None else free
        ends[lane] = max(ends[lane], right)
        offsets[i] = lanes[lane]
    return offsets


def thinned(x: Sequence[float], most: int) -> list[int]:
    """Return the indices of at most ``most`` values, in order of size, evenly through the ranks.

    The lowest and the highest eighth of those kept are the very lowest and highest values.

    >>> thinned([5.0, 1.0, 3.0], 10)
    [1, 2, 0]
    >>> len(thinned([float(i) for i in range(1000)], 80))
    80
    """
    ranked = sorted(range(len(x)), key=lambda j: (x[j], j))
    if len(ranked) <= most:
        return ranked
    edge = most // 8
    middle = ranked[edge : len(ranked) - edge]
    wanted = most - 2 * edge
    kept = [middle[(2 * i + 1) * len(middle) // (2 * wanted)] for i in range(wanted)]
    return ranked[:edge] + kept + ranked[len(ranked) - edge :]
