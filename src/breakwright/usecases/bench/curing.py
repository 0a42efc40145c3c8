"""When a piece may be broken, from the preparation log: the last of its waiting times counts."""

from collections.abc import Mapping
from datetime import datetime, timedelta

from breakwright.usecases.bench.state import StudyState

__all__ = ["hours_left", "ready_times"]


def ready_times(state: StudyState) -> Mapping[str, datetime]:
    """Return when each piece (by id) that must wait has waited; pieces that need not are left
    out. A log whose time cannot be read makes nobody wait."""
    ready: dict[str, datetime] = {}
    for preparation in state.preparations:
        log = preparation.log
        if log.wait_h is None:
            continue
        try:
            until = datetime.fromisoformat(log.started) + timedelta(hours=log.wait_h)
        except (ValueError, OverflowError):
            continue
        if until.tzinfo is None:
            continue
        for piece in log.pieces:
            if piece not in ready or ready[piece] < until:
                ready[piece] = until
    return ready


def hours_left(until: datetime | None, now: datetime) -> float:
    """Return the hours from ``now`` to ``until``, 0 where that is over or there is none.

    >>> from datetime import UTC
    >>> hours_left(datetime(2026, 1, 2, 12, tzinfo=UTC), datetime(2026, 1, 2, 9, 30, tzinfo=UTC))
    2.5
    """
    return 0.0 if until is None else max(0.0, (until - now).total_seconds() / 3600.0)
