"""What is still missing before the first break, and how far each step of the work is."""

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import datetime

from breakwright.usecases.bench.curing import hours_left, ready_times
from breakwright.usecases.bench.state import Standing
from breakwright.web.preparing.looking import Looked
from breakwright.web.preparing.view import View

__all__ = ["Lack", "Tone", "duration_text", "found_lacks", "lacks", "standings"]

Tone = str  # "danger", "care" or "plain": how loud it is


@dataclass(frozen=True, slots=True)
class Lack:
    """``step`` is where it is put right."""

    words: str
    step: str
    tone: Tone = "care"


def lacks(view: View, now: datetime) -> list[Lack]:
    """Return what can be seen without reckoning."""
    if view.study is None:
        count = len(view.problems)
        things = "one thing in it is" if count == 1 else f"{count} things in it are"
        return [Lack(f"The study's text cannot be read: {things} wrong.", "text", "danger")]
    return [*_of_text(view), *_of_pieces(view, now)]


def _of_text(view: View) -> list[Lack]:
    found: list[Lack] = []
    if len(view.state.heads) > 1:
        found.append(
            Lack("Two people changed the study at the same time: settle it.", "text", "danger")
        )
    if len(view.groups) < 2:
        found.append(Lack("Name two groups or more to compare.", "question"))
    scales = view.items("instrument")
    if not scales:
        found.append(Lack("No scale is named.", "scales"))
    for scale in scales:
        name = scale.get("name", "scale")
        if scale.get("capacity") is None:
            found.append(Lack(f"Nothing says how far '{name}' reaches.", "scales"))
        if not scale.get("weight"):
            found.append(Lack(f"'{name}' was never checked with a known weight.", "scales"))
    if not view.items("part"):
        found.append(
            Lack("The rig is not described, so nothing says which part gives first.", "rig")
        )
    elif not any(part.get("tested") for part in view.items("part")):
        found.append(Lack("No part is marked as the piece under test.", "rig"))
    return found


def _of_pieces(view: View, now: datetime) -> list[Lack]:
    pieces = view.state.pieces
    if not pieces:
        return [Lack("No piece is planned: draw the order.", "order")]
    ready = ready_times(view.state)
    waiting = [p for p in pieces if p.standing is Standing.WAITING]
    curing = [p for p in waiting if hours_left(ready.get(p.id), now) > 0.0]
    if curing:
        longest = max(hours_left(ready[p.id], now) for p in curing)
        few = "One piece is" if len(curing) == 1 else f"{len(curing)} pieces are"
        return [Lack(f"{few} still curing, the last for {duration_text(longest)}.", "log")]
    return []


def duration_text(hours: float) -> str:
    """Return a waiting time in words.

    >>> [duration_text(h) for h in (0.2, 5.0, 50.0)]
    ['12 min', '5 h', '2 days 2 h']
    """
    minutes = max(1, round(hours * 60))
    if minutes < 60:
        return f"{minutes} min"
    if minutes < 48 * 60:
        over = f" {minutes % 60} min" if minutes % 60 and minutes < 600 else ""
        return f"{minutes // 60} h{over}"
    days, left = divmod(round(hours), 24)
    return f"{days} days" + (f" {left} h" if left else "")


def found_lacks(looked: Looked) -> list[Lack]:
    """Return what only reckoning shows: parts that are too weak, scales that run out."""
    found = [Lack(p.message, "rig", "danger") for p in looked.problems[:3]]
    for row in looked.result.get("path", ()):
        if row["level"] in ("danger", "low"):
            tone = "danger" if row["level"] == "danger" else "care"
            words = (
                f"'{row['part']}' is too weak: it holds {row['margin']:.1f} times what the "
                "strongest piece can reach; 2.5 is enough."
            )
            found.append(Lack(words, "rig", tone))
    for passage in looked.result.get("scales", ()):
        if passage["key"] == "scales" and passage["headline"]["tone"] != "plain":
            found.append(Lack(passage["headline"]["text"], "scales", passage["headline"]["tone"]))
    return found


def standings(view: View, now: datetime) -> Mapping[str, str]:
    """Return in a few words how far each step is."""
    state, pieces = view.state, view.state.pieces
    scales, parts = view.items("instrument"), view.items("part")
    checked = sum(bool(scale.get("weight")) for scale in scales)
    measured = sum(bool(piece.measured) for piece in pieces)
    ready = ready_times(state)
    curing = sum(
        hours_left(ready.get(p.id), now) > 0.0 for p in pieces if p.standing is Standing.WAITING
    )
    wished = view.box("wish").get("pieces")
    return {
        "question": f"{len(view.groups)} groups" if view.groups else "no groups yet",
        "scales": f"{_count(len(scales), 'scale')}, {checked} checked" if scales else "none yet",
        "rig": _count(len(parts), "part") if parts else "not described yet",
        "numbers": f"{wished} of each group wished for" if wished else "no number chosen",
        "order": _count(len(pieces), "piece") if pieces else "no pieces yet",
        "log": _logged(len(state.preparations), curing),
        "measure": f"{measured} of {len(pieces)} measured" if pieces else "no pieces yet",
        "print": "ready" if pieces else "no pieces yet",
    }


def _logged(count: int, curing: int) -> str:
    if not count:
        return "nothing logged"
    return f"{count} logged, {curing} still curing" if curing else f"{count} logged, all ready"


def _count(count: int, thing: str) -> str:
    return f"{count} {thing}{'' if count == 1 else 's'}"
