"""A load cell's trace: a CSV table kept as it came, after a look at its first line."""

import hashlib

from breakwright.model.errors import InputRefused, Problem
from breakwright.model.event import Event, TraceAdded
from breakwright.usecases.bench.ports import Media, Receipt
from breakwright.web.services import Services, new_id

__all__ = ["keep_trace"]

_LOADS = ("load_N", "load_kN", "load_kgf", "load_lbf")


def keep_trace(
    services: Services,
    study: str,
    data: bytes,
    *,
    piece: str | None,
    note: str | None,
    event_id: str | None,
) -> tuple[str, Receipt]:
    """Keep ``data`` and the event that names it. Raises InputRefused where it is no trace."""
    _check(data)
    name = f"{hashlib.sha256(data).hexdigest()}.csv"
    services.bench.store.put_media(Media(name, "text/csv", data))
    body = TraceAdded(name, piece, note)
    return name, services.record_once(Event(event_id or new_id(), study, services.now(), body))


def _check(data: bytes) -> None:
    try:
        first = data.decode("utf-8-sig").split("\n", 1)[0]
    except UnicodeDecodeError:
        first = ""
    columns = [name.strip() for name in first.strip().split(",")]
    if "time_s" in columns and any(name in columns for name in _LOADS):
        return
    problem = Problem(
        "trace-unreadable",
        "this is not a trace of load over time",
        "trace",
        line=1,
        read=first[:80],
        allowed=f"a CSV table in UTF-8 whose first line has time_s and one of {', '.join(_LOADS)}",
        do="Give the columns these names and send it again.",
    )
    raise InputRefused((problem,))
