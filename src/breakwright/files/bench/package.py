"""``datapackage.json``: what the files of a study folder hold, for any tool that reads tables.

Data Package is an open standard (https://datapackage.org/standard/data-package/, version 2). The
licence is left to the person whose data they are.
"""

import hashlib
import json
from collections.abc import Mapping, Sequence
from typing import Any

from breakwright.files.bench.defined import SHEET, STUDY
from breakwright.files.bench.history import HISTORY
from breakwright.files.bench.tables import Grid
from breakwright.files.numerals import Decimal, parse_number
from breakwright.model.event import VideoAdded
from breakwright.model.units import ForceUnit
from breakwright.usecases.bench.state import StudyState

__all__ = ["PACKAGE", "SPECIMENS", "package_text"]

PACKAGE = "datapackage.json"
SPECIMENS = "specimens.csv"
_PROFILE = "https://datapackage.org/profiles/2.0/datapackage.json"
_LOAD = "load in {unit} as read: 412; >440 or 440+ (at least); <30 (at most); 405..440 (between)"
_DESCRIBED = {
    "order": "place in the order of testing, from 1",
    "date": "day of the test",
    "specimen": "label of the piece",
    "group": "group that the piece belongs to",
    "block": "board, sheet, pair or day that the piece shares with others",
    "operator": "who tests the piece",
    "pair": "pieces of one pair bear the same word",
    "planned_day": "day of testing in the plan",
    "scale": "instrument that the load was read on",
    "ended": "how the loading ended; all but 'broke' leave the strength at 'at least'",
    "failure": "how the piece broke",
    "void": "why the piece is left out; empty: it counts",
    "note": "what was noted",
}
_TYPES = {"order": "integer", "date": "date"}
_MEDIA_TYPES = {
    "jpg": "image/jpeg",
    "png": "image/png",
    "webp": "image/webp",
    "csv": "text/csv",
    "zip": "application/zip",
}


def package_text(
    state: StudyState,
    texts: Mapping[str, str],
    grids: Mapping[str, Grid],
    *,
    unit: ForceUnit,
    media: Mapping[str, int],
) -> str:
    """Return the descriptor. ``texts`` are the files by name, ``grids`` the tables among them,
    ``media`` the sizes in bytes of the pictures and traces that lie under ``media/``."""
    package: dict[str, Any] = {
        "$schema": _PROFILE,
        "name": state.handle,
        "id": state.id,
        "title": state.title,
        "description": _description(state),
        "created": state.made,
        "resources": [
            _table(SPECIMENS, texts[SPECIMENS], grids[SPECIMENS], unit, key=True),
            _table(SHEET, texts[SHEET], grids[SHEET], unit, key=False),
            _text(STUDY, texts[STUDY], "application/toml", "The question, groups and scales."),
            _text(HISTORY, texts[HISTORY], "application/x-ndjson", "Every event, as it came."),
            *(_media(name, size) for name, size in media.items()),
        ],
    }
    videos = [_video(video) for video in _videos(state)]
    if videos:
        package["videos"] = videos
    return json.dumps(package, ensure_ascii=False, indent=2) + "\n"


def _description(state: StudyState) -> str:
    parts = ["A breaking test: pieces loaded until they broke, and what the scales showed."]
    if state.clashes:
        labels = ", ".join(piece.label for piece in state.clashes)
        parts.append(
            f"Two readings that do not know of each other exist of {labels}; the first to arrive "
            f"is in {SHEET}, all are in {HISTORY}."
        )
    if len(state.heads) > 1:
        parts.append(
            f"{STUDY} was changed in two places at once; the last to arrive is here, all are in "
            f"{HISTORY}."
        )
    return " ".join(parts)


def _facts(text: str) -> dict[str, Any]:
    data = text.encode()
    return {"bytes": len(data), "hash": f"sha256:{hashlib.sha256(data).hexdigest()}"}


def _table(name: str, text: str, grid: Grid, unit: ForceUnit, *, key: bool) -> dict[str, Any]:
    schema: dict[str, Any] = {
        "fields": [_field(column, grid, unit) for column in grid.header],
        "missingValues": [""],
    }
    if key:
        schema["primaryKey"] = ["specimen"]
    else:
        reference = {"resource": "specimens", "fields": ["specimen"]}
        schema["foreignKeys"] = [{"fields": ["specimen"], "reference": reference}]
    return {
        "name": name.removesuffix(".csv"),
        "type": "table",
        "path": name,
        "format": "csv",
        "mediatype": "text/csv",
        "encoding": "utf-8",
        **_facts(text),
        "schema": schema,
    }


def _field(name: str, grid: Grid, unit: ForceUnit) -> dict[str, Any]:
    cells = [cell for cell in grid.column(name) if cell]
    kind = _TYPES.get(name)
    if kind is None:
        number = name not in _DESCRIBED and bool(cells) and all(map(_is_plain, cells))
        kind = "number" if number else "string"
    described = _describe(name, grid, unit)
    field = {"name": name, "type": kind}
    return {**field, "description": described} if described else field


def _describe(name: str, grid: Grid, unit: ForceUnit) -> str | None:
    if name in grid.loads:
        return _LOAD.format(unit=unit)
    if name in grid.measured:
        return "taken of the piece before it was broken; the unit ends the name"
    if name.startswith("together_"):
        return f"largest sum on all displays at one moment, in {unit}"
    if name.startswith("rate_"):
        return f"loading rate in {unit} per second"
    return _DESCRIBED.get(name)


def _is_plain(cell: str) -> bool:
    return "," not in cell and parse_number(cell, Decimal.POINT) is not None


def _text(name: str, text: str, mediatype: str, description: str) -> dict[str, Any]:
    return {
        "name": name.replace(".", "-"),
        "path": name,
        "description": description,
        "mediatype": mediatype,
        "encoding": "utf-8",
        **_facts(text),
    }


def _media(name: str, size: int) -> dict[str, Any]:
    stem, _, ending = name.partition(".")
    return {
        "name": f"media-{stem[:16]}",
        "path": f"media/{name}",
        "mediatype": _MEDIA_TYPES.get(ending, "application/octet-stream"),
        "bytes": size,
        "hash": f"sha256:{stem}",
    }


def _videos(state: StudyState) -> Sequence[VideoAdded]:
    return [*state.videos, *(video for piece in state.pieces for video in piece.videos)]


def _video(video: VideoAdded) -> dict[str, Any]:
    """A film is too large to travel along: it is named, so that it can be found and checked."""
    return {"name": video.name, "bytes": video.size, "hash": f"sha256:{video.sha256}"}
