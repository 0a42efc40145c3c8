"""An answer in words and tables, for the page's template: the report's own words, no new ones."""

import dataclasses
from dataclasses import dataclass
from functools import cache
from typing import TYPE_CHECKING, Any

from breakwright.model.notice import Weight
from breakwright.report.comparison_tables import (
    adjusted_table,
    alternative_table,
    family_table,
    ratio_table,
    session_table,
)
from breakwright.report.group_tables import count_table, strength_table
from breakwright.report.method_words import method_words
from breakwright.report.notice_words import notice_words
from breakwright.report.numbers import load_format
from breakwright.report.piece_tables import left_out_table
from breakwright.report.piece_words import understood, why, written
from breakwright.report.settle_words import SettleWords, settle_table, settle_words
from breakwright.report.table_view import TableView
from breakwright.report.verdict_words import VerdictWords, quoted, verdict_words
from breakwright.usecases.result import Alternative, Answer, Chance, Comparison, VerdictKind
from breakwright.usecases.settle_result import Settle

if TYPE_CHECKING:
    from pydantic import TypeAdapter

__all__ = ["Reading", "Settling", "Verdict", "Words", "settling_of", "words_of"]


@dataclass(frozen=True, slots=True)
class Verdict:
    """``pair`` names the two groups."""

    pair: str
    words: VerdictWords


@dataclass(frozen=True, slots=True)
class Reading:
    """The verdicts under one way of taking the pieces that broke another way."""

    key: str
    label: str
    pieces: tuple[str, ...]
    verdicts: tuple[Verdict, ...]


@dataclass(frozen=True, slots=True)
class Settling:
    """What more pieces would bring, for one comparison."""

    pair: str
    words: SettleWords
    table: TableView | None


@dataclass(frozen=True, slots=True)
class Words:
    """All that the page says of an answer."""

    verdicts: tuple[Verdict, ...]
    readings: tuple[Reading, ...]
    warnings: tuple[tuple[str, str], ...]
    remarks: tuple[tuple[str, str], ...]
    counts: TableView
    strength: TableView
    ratios: TableView | None
    closer: tuple[TableView, ...]
    left_out: TableView | None
    pieces: TableView
    method: str


_READINGS = {
    "wrong-way-counts": "In, at the load they broke at",
    "right-way-only": "Out altogether",
}


def words_of(answer: Answer) -> Words:
    """Return the answer in words. Under the quick answer there are fewer tables."""
    return Words(
        verdicts=tuple(_verdict(answer, c) for c in answer.comparisons),
        readings=_readings(answer),
        warnings=_notices(answer, Weight.WARNING),
        remarks=_notices(answer, Weight.REMARK),
        counts=count_table(answer),
        strength=strength_table(answer),
        ratios=ratio_table(answer) if answer.comparisons else None,
        closer=tuple(view for c in answer.comparisons for view in _closer(answer, c)),
        left_out=left_out_table(answer),
        pieces=_pieces(answer),
        method=method_words(answer),
    )


def settling_of(found: list[dict[str, Any]]) -> tuple[Settling, ...]:
    """Return what a job found of further pieces, in words."""
    return tuple(
        Settling(_pair(one.group, one.reference), settle_words(one), settle_table(one))
        for one in (_adapter().validate_python(plain) for plain in found)
    )


@cache
def _adapter() -> "TypeAdapter[Settle]":
    from pydantic import TypeAdapter

    return TypeAdapter(Settle)


def _pair(group: str, reference: str) -> str:
    return f"{quoted(group)} against {quoted(reference)}"


def _verdict(answer: Answer, comparison: Comparison) -> Verdict:
    words = verdict_words(answer, comparison)
    if comparison.verdict.kind is VerdictKind.NOT_SETTLED:
        # How many more would settle it stands in a passage of its own, reckoned with care.
        words = dataclasses.replace(words, support="")
    return Verdict(_pair(comparison.group, comparison.reference), words)


def _readings(answer: Answer) -> tuple[Reading, ...]:
    """The answer with the pieces that broke another way in and out; none where none did."""
    found = []
    for code, label in _READINGS.items():
        others = {
            c.group: other
            for c in answer.comparisons
            for other in c.alternatives
            if other.code == code
        }
        if others:
            pieces = dict.fromkeys(p for other in others.values() for p in other.pieces)
            verdicts = tuple(
                _verdict(answer, _under(c, others[c.group]) if c.group in others else c)
                for c in answer.comparisons
            )
            found.append(Reading(code, label, tuple(pieces), verdicts))
    return tuple(found)


def _under(comparison: Comparison, other: Alternative) -> Comparison:
    ratio = other.ratio
    verdict = dataclasses.replace(
        comparison.verdict,
        kind=other.verdict,
        ratio=ratio.ratio,
        lower=ratio.lower,
        upper=ratio.upper,
        level=ratio.level,
        more_pieces=None,
    )
    nothing = Chance(None, None, None, comparison.chance.level)
    return dataclasses.replace(comparison, verdict=verdict, ratio=ratio, chance=nothing)


def _pieces(answer: Answer) -> TableView:
    """Every piece in short; the report says step by step how each was understood."""
    form = load_format([p.lower for p in answer.pieces if p.kind is not None], answer.unit)
    rows = [
        (p.specimen, p.group, written(p), understood(p, form), p.failure or "", why(p))
        for p in answer.pieces
    ]
    return TableView.of(
        "pieces",
        "Every piece",
        head=("Piece", "Group", "Written", "Understood as", "How it broke", "Why"),
        rows=rows,
        note="The report says step by step how each was understood.",
    )


def _notices(answer: Answer, weight: Weight) -> tuple[tuple[str, str], ...]:
    return tuple(
        (notice.code, notice_words(notice, answer.unit))
        for notice in answer.notices
        if notice.weight is weight
    )


def _closer(answer: Answer, comparison: Comparison) -> list[TableView]:
    tables = [alternative_table(answer, comparison)] if comparison.alternatives else []
    if len(comparison.families) > 1:
        tables.append(family_table(answer, comparison))
    if comparison.adjusted:
        tables.append(adjusted_table(answer, comparison))
    sessions = session_table(answer, comparison)
    return tables if sessions is None else [*tables, sessions]
