"""A hidden ceiling in a study: found, and taken one way for the answer and the other beside it."""

from collections.abc import Sequence
from dataclasses import dataclass, replace

import numpy as np

from breakwright.model.interval import IntervalKind
from breakwright.model.notice import Notice, Weight
from breakwright.model.outcome import Cause
from breakwright.model.study import Study
from breakwright.stats.ceiling import find_pile
from breakwright.usecases.result import PieceResult
from breakwright.usecases.samples import groups_of, usable
from breakwright.usecases.settings import CeilingReading

__all__ = ["Ceiling", "ceiling_of"]


@dataclass(frozen=True)
class Ceiling:
    """Specimens whose readings pile up between ``low`` and ``high`` (N), and both ways to read
    them: ``main`` is what the answer takes, ``other`` what is shown beside it under ``code``."""

    specimens: frozenset[str]
    low: float
    high: float
    chance: float
    main: tuple[PieceResult, ...]
    other: tuple[PieceResult, ...]
    code: str

    def notice(self) -> Notice:
        names = tuple(p.specimen for p in self.main if p.specimen in self.specimens)
        groups = tuple(dict.fromkeys(p.group for p in self.main if p.specimen in self.specimens))
        facts = {
            "value_N": self.high,
            "lowest_N": self.low,
            "count": len(names),
            "chance": self.chance,
            "taken": "as-read" if self.code == "ceiling" else "at-least",
        }
        return Notice("hidden-ceiling", Weight.WARNING, groups, names, facts)


def ceiling_of(
    study: Study, pieces: tuple[PieceResult, ...], reading: CeilingReading
) -> Ceiling | None:
    """Look for a hidden ceiling over all groups together; None where the top is as it should be."""
    data = groups_of(study.groups, pieces)
    step = max((i.resolution for i in study.instruments), default=0.0)
    pile = find_pile(
        [(data[g].sample.lower, data[g].sample.upper) for g in study.groups], step=step
    )
    if pile is None:
        return None
    specimens = frozenset(
        data[g].pieces[int(i)].specimen
        for g, member in zip(study.groups, pile.members, strict=True)
        for i in np.flatnonzero(member)
    )
    held = _held(pieces, specimens, pile.low)
    as_read = reading is CeilingReading.AS_READ
    return Ceiling(
        specimens,
        pile.low,
        pile.high,
        pile.chance,
        main=pieces if as_read else held,
        other=held if as_read else pieces,
        code="ceiling" if as_read else "ceiling-as-read",
    )


def _held(
    pieces: Sequence[PieceResult], specimens: frozenset[str], low: float
) -> tuple[PieceResult, ...]:
    """The pile as 'at least', and its lowest reading as the capacity that every piece had."""
    out = []
    for piece in pieces:
        if piece.specimen in specimens:
            step = "several readings pile up at this top value: taken as 'at least'"
            piece = replace(
                piece,
                lower=low,
                upper=None,
                kind=IntervalKind.AT_LEAST,
                cause=Cause.AT_LEAST,
                limit=low,
                steps=(*piece.steps, step),
            )
        elif usable(piece) and piece.limit is None and (piece.upper or 0.0) <= low:
            piece = replace(piece, limit=low)
        out.append(piece)
    return tuple(out)
