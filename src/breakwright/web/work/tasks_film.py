"""What the pages of films have done: a still to mark on, proposals, the reading itself."""

import hashlib
import json
from collections.abc import Mapping
from pathlib import Path
from typing import Any

from breakwright.bootstrap.bench import check_events, write_whole
from breakwright.bootstrap.film_marks import DisplayAsked
from breakwright.bootstrap.film_pages import (
    evidence,
    marks_for,
    propose_on,
    read_for_review,
    still_of,
)
from breakwright.model.errors import ImpossibleValue
from breakwright.model.event import Event, FilmRead
from breakwright.report.film_json import FilmSeen
from breakwright.usecases.bench.ports import Media
from breakwright.web.filming.kept import KeptFilms
from breakwright.web.uploads import Uploads
from breakwright.web.work.tools import Tell, Tools, now_text

__all__ = ["asked_of", "propose", "read", "still"]

# The reading, then the pictures put away.
_READ = 0.97


def still(given: Mapping[str, Any], tell: Tell, tools: Tools) -> dict[str, Any]:
    """Make a picture of the frame at ``given['t']`` (s)."""
    tell("looking for the picture", 0.0)
    made = still_of(_film(given, tools), given["t"])
    path = tools.made("jpg")
    write_whole(path, made.jpeg)
    return {
        "file": path.name,
        "width": made.width,
        "height": made.height,
        "time": made.time,
        "duration": made.duration,
    }


def propose(given: Mapping[str, Any], tell: Tell, tools: Tools) -> dict[str, Any]:
    """Find rows of digits in the film, the likeliest first."""
    tell("looking for displays", 0.0)
    found = propose_on(_film(given, tools))
    return {"displays": [{"corners": one.corners, "time": one.time} for one in found]}


def read(given: Mapping[str, Any], tell: Tell, tools: Tools) -> dict[str, Any]:
    """Read the displays ``given['marks']`` in the film, and note in the store that this was done.

    The event has the id of the job: done a second time, after its worker died, it says the same.
    """
    path = _film(given, tools)
    marks = marks_for([asked_of(mark) for mark in given["marks"]], tools.state().toml)

    def how_far(time: float, duration: float) -> None:
        share = time / duration if duration > 0.0 else 0.0
        tell(f"{time:.0f} of {duration:.0f} s of the film read", _READ * min(1.0, share))

    tell("opening the film", 0.0)
    reading, crops = read_for_review(path, marks, tell=how_far)
    tell("putting the pictures away", _READ)
    film = FilmSeen(given["name"], given["sha256"])
    whole, small = evidence(reading, crops, film, path=path)
    KeptFilms(tools.folder).put_bundle(tools.job, whole)
    media = Media(f"{hashlib.sha256(small).hexdigest()}.zip", "application/zip", small)
    tools.store.put_media(media)
    body = FilmRead(
        sha256=given["sha256"],
        name=given["name"],
        media=media.name,
        marks=json.dumps(given["marks"], ensure_ascii=False, separators=(",", ":")),
        video=given["video"],
    )
    now = now_text()
    state = tools.state()
    if tools.job not in {recorded.event.id for recorded in state.events}:
        event = Event(tools.job, tools.study, now, body, device="server")
        check_events(state, [event])
        tools.store.append([event], received=now)
    return {"film": tools.job}


def asked_of(form: Mapping[str, Any]) -> DisplayAsked:
    """Return the display that a form of marks tells of; its keys are those of displays.toml."""
    corners = tuple((float(x), float(y)) for x, y in form["corners"])
    rest = {name: value for name, value in form.items() if name != "corners"}
    return DisplayAsked(corners=corners, file="mark", **rest)


def _film(given: Mapping[str, Any], tools: Tools) -> Path:
    path = Uploads(tools.folder).video(given["file"])
    if path is None:
        raise ImpossibleValue("the film is no longer on the server's disk; bring it here again")
    return path
