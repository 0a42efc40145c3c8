"""Events as rows of a table, and back."""

import json
from typing import Any

from sqlalchemy import Row

from breakwright.model.errors import InputRefused
from breakwright.model.event import Event, Recorded
from breakwright.usecases.bench.event_form import event_form, read_event
from breakwright.usecases.bench.ports import StoreUnfit

__all__ = ["recorded_of", "row_of"]


def row_of(recorded: Recorded) -> dict[str, Any]:
    """Return the row of the table ``events`` for ``recorded``.

    Raises InputRefused for an event that could not be read back: what is kept can be read.
    """
    form = event_form(recorded.event)
    read_event(form, file="event")
    return {
        "seq": recorded.seq,
        "id": form["id"],
        "study": form["study"],
        "kind": form["kind"],
        "made": form["made"],
        "received": recorded.received,
        "device": form["device"],
        "person": form.get("person"),
        "body": json.dumps(form["body"], ensure_ascii=False, separators=(",", ":")),
    }


def recorded_of(row: Row[Any]) -> Recorded:
    """Return the event that ``row`` of the table ``events`` holds.

    Raises StoreUnfit where it cannot be read: someone else wrote it, or the file is damaged.
    """
    try:
        form = {
            "id": row.id,
            "study": row.study,
            "kind": row.kind,
            "made": row.made,
            "device": row.device,
            "person": row.person,
            "body": json.loads(row.body),
        }
        event: Event = read_event(form, file="event")
    except (InputRefused, ValueError) as error:
        raise StoreUnfit(
            f"the event with seq {row.seq} in the store cannot be read ({error}): it was not "
            "written by Breakwright, or the store is damaged; open a backup"
        ) from error
    return Recorded(row.seq, row.received, event)
