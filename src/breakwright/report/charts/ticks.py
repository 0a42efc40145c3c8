"""Round numbers along an axis, few enough that their labels cannot touch."""

import math

__all__ = ["decimals_for", "log_ticks", "nice_ticks"]


def _step(span: float, most: int) -> float:
    raw = span / max(1, most)
    size = 10.0 ** math.floor(math.log10(raw))
    return next(size * m for m in (1.0, 2.0, 2.5, 5.0, 10.0) if size * m >= raw * (1 - 1e-9))


def _digits(value: float) -> str:
    return f"{value:.10g}".replace(".", "").strip("0")


def nice_ticks(low: float, high: float, most: int) -> list[float]:
    """Return at most ``most`` + 1 evenly spaced round numbers within [low, high].

    >>> nice_ticks(0.0, 730.0, 6)
    [0.0, 200.0, 400.0, 600.0]
    """
    step = _step(high - low, most)
    first = math.ceil(low / step - 1e-9)
    last = math.floor(high / step + 1e-9)
    return [float(f"{i * step:.12g}") for i in range(first, last + 1)]


def log_ticks(low: float, high: float, most: int) -> list[float]:
    """Return round numbers within [low, high] that are well apart on a log axis.

    >>> log_ticks(280.0, 950.0, 6)
    [300.0, 400.0, 500.0, 600.0, 800.0, 950.0]
    """
    apart = math.log(high / low) / max(1, most)
    if high / low < 20.0:
        fine = nice_ticks(low, high, 4 * most)
        round_ones = [v for v in fine if len(_digits(v)) <= 2]
        candidates = sorted(
            round_ones if len(round_ones) >= 3 else fine,
            key=lambda v: (len(_digits(v)), not _digits(v).endswith("5"), v),
        )
    else:
        powers = range(math.floor(math.log10(low)), math.ceil(math.log10(high)) + 1)
        candidates = [m * 10.0**p for m in (1, 2, 5) for p in powers]
    kept: list[float] = []
    for value in candidates:
        if low <= value <= high and all(
            abs(math.log(value / other)) >= apart * 0.8 for other in kept
        ):
            kept.append(value)
    return sorted(kept)


def decimals_for(values: list[float]) -> int:
    """Return how many decimals the values need to be told apart and shown as they are."""
    return max((len(f"{v:.10g}".partition(".")[2]) for v in values), default=0)
