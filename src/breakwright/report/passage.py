"""A passage of a foretelling: a headline, sentences with their weight, tables. Terminal and page
show the same passages."""

from dataclasses import dataclass, field
from enum import StrEnum

from breakwright.report.table_view import TableView
from breakwright.report.terms import Term

__all__ = ["Line", "Passage", "Tone", "care", "danger", "plain"]


class Tone(StrEnum):
    """How loud a sentence is."""

    PLAIN = "plain"
    CARE = "care"  # pointed out
    DANGER = "danger"  # in red where there is colour, and in words everywhere


@dataclass(frozen=True, slots=True)
class Line:
    """One or more sentences of one tone."""

    text: str
    tone: Tone = Tone.PLAIN


@dataclass(frozen=True, slots=True)
class Passage:
    """``key`` is unique on a page and names the charts that belong to the passage.

    ``headline`` answers the passage's question; ``lines`` follow, loudest first where the order
    does not matter; ``todo`` are things to do, each with what it would bring.
    """

    key: str
    title: str
    headline: Line
    lines: tuple[Line, ...] = ()
    todo: tuple[str, ...] = ()
    tables: tuple[TableView, ...] = ()
    terms: tuple[Term, ...] = field(default=())


def plain(text: str) -> Line:
    """Return a sentence that only informs."""
    return Line(text)


def care(text: str) -> Line:
    """Return a sentence that points something out."""
    return Line(text, Tone.CARE)


def danger(text: str) -> Line:
    """Return a sentence that warns of harm."""
    return Line(text, Tone.DANGER)
