"""Warnings and remarks for a terminal, each with its code."""

from collections.abc import Sequence
from typing import TYPE_CHECKING

from breakwright.model.notice import Notice, Weight
from breakwright.model.units import ForceUnit
from breakwright.report.notice_words import notice_words
from breakwright.report.paragraph import Paragraph

if TYPE_CHECKING:
    from rich.console import RenderableType

__all__ = ["notice_paragraphs"]


def notice_paragraphs(notices: Sequence[Notice], unit: ForceUnit) -> "list[RenderableType]":
    """Return a heading and a paragraph a notice, warnings before remarks; nothing for none."""
    from rich.text import Text

    parts: list[RenderableType] = []
    for weight, title, style, mark in (
        (Weight.WARNING, "Warnings", "bold yellow", "!"),
        (Weight.REMARK, "Remarks", "bold", "-"),
    ):
        chosen = [notice for notice in notices if notice.weight is weight]
        if chosen:
            parts += [Text(""), Text(title, style=style)]
            parts += [Paragraph(f"{notice_words(n, unit)} [{n.code}]", f" {mark} ") for n in chosen]
    return parts
