"""All that the page at the rig shows, as plain data: the same for the page and for its scripts."""

import json
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from datetime import datetime
from typing import Any

from breakwright.bootstrap.breaking import RigSide, cautions_at_the_rig
from breakwright.model.event import PieceVoided
from breakwright.usecases.bench.curing import ready_times
from breakwright.usecases.bench.state import PieceState, Standing, StudyState

__all__ = ["Scene", "measures_words", "next_order", "scene_form", "scene_of", "scene_text"]

# The last part of a column's name that says its unit -> how people write it.
_UNITS = {
    ("g",): "g",
    ("kg",): "kg",
    ("mm",): "mm",
    ("pct",): "%",
    ("kg", "m3"): "kg/m³",
    ("h",): "h",
}


@dataclass(frozen=True, slots=True)
class Scene:
    """``ways`` are the other ways of breaking named so far, ``reasons`` why pieces were left out,
    the latest first."""

    side: RigSide
    ways: tuple[str, ...]
    reasons: tuple[str, ...]
    cautions: tuple[str, ...]


def scene_of(state: StudyState, side: RigSide) -> Scene:
    """Return what is shown besides the pieces themselves."""
    named = (v.entry.failure for p in state.pieces for v in p.versions)
    ways = _latest_first(way for way in named if way and way != side.counts)
    bodies = (r.event.body for r in state.events)
    reasons = _latest_first(body.reason for body in bodies if isinstance(body, PieceVoided))
    return Scene(side, ways, reasons, cautions_at_the_rig())


def next_order(state: StudyState) -> int:
    """Return the place, from 1, of the next reading in the order in which pieces are tested."""
    orders = [v.entry.order or 0 for piece in state.pieces for v in piece.versions]
    return 1 + max([sum(bool(piece.heads) for piece in state.pieces), *orders])


def _latest_first(words: Iterable[str]) -> tuple[str, ...]:
    return tuple(dict.fromkeys(reversed(list(words))))[:8]


def measures_words(values: Mapping[str, str]) -> str:
    """Return what was measured, by column name, as people write it.

    >>> measures_words({"mass_g": "12.5", "density_kg_m3": "650", "finish": "oiled"})
    'mass 12.5\xa0g, density 650\xa0kg/m³, finish oiled'
    """
    return ", ".join(_measure(column, value) for column, value in values.items())


def _measure(column: str, value: str) -> str:
    parts = column.split("_")
    for length in (2, 1):
        unit = _UNITS.get(tuple(parts[-length:]))
        if unit is not None and len(parts) > length:
            return f"{' '.join(parts[:-length])} {value}\u00a0{unit}"
    return f"{' '.join(parts)} {value}"


def scene_form(state: StudyState, scene: Scene, *, shown: str, now: str) -> dict[str, Any]:
    """Return the scene with its pieces as a dictionary for JSON. ``now`` is the time on the
    server, ISO 8601; ``shown`` the unit that this person reads."""
    side = scene.side
    ready = ready_times(state)
    return {
        "study": state.id,
        "handle": state.handle,
        "last": state.last,
        "now": now,
        "unit": side.unit.value,
        "shown": shown,
        "displays": side.displays,
        "limits": side.limits,
        "order": next_order(state),
        "counts": side.counts,
        "ways": scene.ways,
        "reasons": scene.reasons,
        "safety": state.safety,
        "pieces": [_piece_form(piece, ready.get(piece.id)) for piece in state.pieces],
    }


def scene_text(form: Mapping[str, Any]) -> str:
    """Return the form as JSON that may stand inside a script element, as short as it can be.

    >>> scene_text({"label": "</script>"})
    '{"label":"\\\\u003c/script\\\\u003e"}'
    """
    text = json.dumps(form, ensure_ascii=False, separators=(",", ":"))
    for mark in "<>&":
        text = text.replace(mark, f"\\u{ord(mark):04x}")
    return text


def _piece_form(piece: PieceState, ready: datetime | None) -> dict[str, Any]:
    form = {
        "id": piece.id,
        "label": piece.label,
        "group": piece.group,
        "block": piece.block,
        "measured": measures_words(piece.measured) or None,
        "ready": ready.isoformat() if ready else None,
        # Most pieces wait, and the page has to stay light.
        "stands": None if piece.standing is Standing.WAITING else piece.standing.value,
    }
    return {name: value for name, value in form.items() if value is not None}
