"""A file of readings that waited on a device, handed in by another way than its outbox."""

import json
from typing import Annotated

from fastapi import APIRouter, File, HTTPException, UploadFile
from fastapi.responses import RedirectResponse, Response

from breakwright.usecases.bench.event_form import read_events
from breakwright.web.breaking.finding import study_of
from breakwright.web.services import ServicesHere

__all__ = ["router"]

router = APIRouter(include_in_schema=False)

# Two thousand readings with long notes; a file of a day at the bench has some 20 kB.
_LARGEST = 4_000_000


@router.post("/s/{handle}/break/file")
def hand_in(services: ServicesHere, handle: str, file: Annotated[UploadFile, File()]) -> Response:
    """Take in every event of the file, or none; those that are here already change nothing."""
    study_of(services, handle)
    data = file.file.read(_LARGEST + 1)
    if len(data) > _LARGEST:
        raise HTTPException(413, "This file is too large for one of readings that waited.")
    try:
        whole = json.loads(data)
    except (ValueError, RecursionError):
        raise HTTPException(
            422,
            "This is not a file of waiting readings. Hand in the one that Break saved: its name "
            "begins with breakwright-waiting.",
        ) from None
    forms = whole.get("events") if isinstance(whole, dict) else whole
    services.record(list(read_events(forms, file="the file handed in")))
    return RedirectResponse(f"/s/{handle}/break?word=handed-in", status_code=303)
