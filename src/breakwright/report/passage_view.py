"""Passages for a terminal: 80 columns do, and only danger is in colour, and only where there is
any."""

from typing import TYPE_CHECKING

from breakwright.report.before_page import Sheet
from breakwright.report.cautions import NOT_A_RATING
from breakwright.report.notice_views import notice_paragraphs
from breakwright.report.paragraph import Paragraph
from breakwright.report.passage import Passage, Tone
from breakwright.report.table_view import TableView

if TYPE_CHECKING:
    from rich.console import RenderableType

__all__ = ["passages_view"]

_STYLE = {Tone.PLAIN: "", Tone.CARE: "yellow", Tone.DANGER: "bold red"}
_MARK = {Tone.PLAIN: " - ", Tone.CARE: " ! ", Tone.DANGER: " ! "}


def passages_view(sheet: Sheet) -> "RenderableType":
    """Return the passages of a sheet one below the other, its notices, and how it was made."""
    from rich.console import Group
    from rich.text import Text

    parts: list[RenderableType] = [Paragraph(sheet.title, style="bold"), Text("")]
    if sheet.invented:
        parts += [Paragraph("Invented study: made up to show how this works."), Text("")]
    for passage in sheet.passages:
        parts += _passage(passage)
    parts += notice_paragraphs(sheet.notices, sheet.unit)
    parts += [Text(""), Paragraph(sheet.made, style="dim"), Paragraph(NOT_A_RATING)]
    return Group(*parts)


def _passage(passage: Passage) -> "list[RenderableType]":
    from rich.text import Text

    head = passage.headline
    parts: list[RenderableType] = [
        Paragraph(passage.title, style="bold"),
        Paragraph("-" * min(len(passage.title), 60)),
        Paragraph(head.text, style=_STYLE[head.tone]),
    ]
    parts += [Paragraph(line.text, _MARK[line.tone], _STYLE[line.tone]) for line in passage.lines]
    if passage.todo:
        parts.append(Paragraph("What would help:"))
        parts += [Paragraph(words, " > ") for words in passage.todo]
    for view in passage.tables:
        parts += [Text(""), Paragraph(f"{view.caption}:"), _table(view)]
        if view.note:
            parts.append(Paragraph(view.note))
    return [*parts, Text("")]


def _table(view: TableView) -> "RenderableType":
    from rich import box
    from rich.table import Table
    from rich.text import Text

    table = Table(
        box=box.SIMPLE_HEAD,
        padding=(0, 1, 0, 0),
        collapse_padding=True,
        pad_edge=False,
    )
    for name in view.head:
        table.add_column(Text(name), overflow="fold", vertical="top")
    for row in view.rows:
        table.add_row(*(Text(cell) for cell in row))
    return table
