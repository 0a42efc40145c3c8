"""An answer that shows itself: a small table in a notebook, sentences in a plain prompt."""

from dataclasses import dataclass, fields
from html import escape

from breakwright.report.cautions import NOT_A_RATING
from breakwright.report.group_tables import count_table, strength_table
from breakwright.report.table_view import TableView
from breakwright.report.verdict_words import verdict_words
from breakwright.usecases.result import Answer

__all__ = ["NotebookAnswer"]


@dataclass(frozen=True, slots=True, init=False, repr=False)
class NotebookAnswer(Answer):
    """The same data as ``answer``, field by field; only how it is shown differs."""

    def __init__(self, answer: Answer) -> None:
        for field in fields(Answer):
            object.__setattr__(self, field.name, getattr(answer, field.name))

    def __str__(self) -> str:
        lines = [verdict_words(self, c).headline for c in self.comparisons]
        return "\n".join([*lines, NOT_A_RATING])

    def __repr__(self) -> str:
        groups = ", ".join(group.name for group in self.groups)
        return f"<answer about {groups}: {len(self.pieces)} pieces>"

    def _repr_html_(self) -> str:
        words = "".join(
            f"<p><strong>{escape(verdict_words(self, c).headline)}</strong></p>"
            for c in self.comparisons
        )
        tables = "".join(_html(view) for view in (count_table(self), strength_table(self)))
        return f"<div>{words}{tables}<p>{escape(NOT_A_RATING)}</p></div>"


def _html(view: TableView) -> str:
    head = "".join(f'<th scope="col">{escape(cell)}</th>' for cell in view.head)
    rows = "".join(
        f'<tr><th scope="row">{escape(row[0])}</th>'
        + "".join(f"<td>{escape(cell)}</td>" for cell in row[1:])
        + "</tr>"
        for row in view.rows
    )
    return (
        f"<table><caption>{escape(view.caption)}</caption><thead><tr>{head}</tr></thead>"
        f"<tbody>{rows}</tbody></table>"
    )
