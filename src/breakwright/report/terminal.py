"""The answer, and every row explained, for a terminal: 80 columns do, and colour is not needed."""

from collections.abc import Sequence
from typing import TYPE_CHECKING

from breakwright.model.notice import Notice
from breakwright.model.units import ForceUnit
from breakwright.report.cautions import NOT_A_RATING
from breakwright.report.foretold_words import foretold_lines
from breakwright.report.missing_words import missing_words
from breakwright.report.notice_views import notice_paragraphs
from breakwright.report.numbers import (
    chance_text,
    count_text,
    level_text,
    load_format,
    percent_text,
    ratio_limits,
    times_text,
)
from breakwright.report.paragraph import Paragraph
from breakwright.report.piece_words import step_lines, understood, why, written
from breakwright.report.verdict_words import quoted, verdict_words
from breakwright.usecases.result import Answer, Comparison, GroupResult, PieceResult

if TYPE_CHECKING:
    from rich.console import RenderableType

__all__ = ["answer_view", "check_view", "verdict_view"]


def verdict_view(answer: Answer) -> "RenderableType":
    """Return only the verdict of each comparison, a sentence each."""
    from rich.console import Group

    return Group(*(Paragraph(verdict_words(answer, c).headline) for c in answer.comparisons))


def answer_view(answer: Answer) -> "RenderableType":
    """Return the whole answer: verdict, groups, ratio, warnings, and how to get it again."""
    from rich.console import Group
    from rich.text import Text

    parts: list[RenderableType] = []
    if answer.title:
        parts += [Paragraph(answer.title, style="bold"), Text("")]
    if answer.invented:
        parts += [Paragraph("Invented data: made up to show how this works."), Text("")]
    for comparison in answer.comparisons:
        parts += _verdict(answer, comparison)
    parts += [_groups(answer), Text("")]
    for comparison in answer.comparisons:
        parts += [Paragraph(fact, " - ") for fact in _facts(comparison)]
    foretold = foretold_lines(answer)
    if foretold:
        parts += [Text(""), Paragraph("Foretold and found")]
        parts += [Paragraph(line, " - ") for line in foretold]
    parts += notice_paragraphs(answer.notices, answer.unit)
    method = answer.method
    parts += [
        Text(""),
        Paragraph(
            f"breakwright {method.version}, seed {method.seed}, "
            f"{count_text(method.resamples, 'resample', 'resamples')} a limit, "
            f"{method.family} unless said otherwise",
            style="dim",
        ),
        Paragraph(NOT_A_RATING),
    ]
    return Group(*parts)


def check_view(
    pieces: Sequence[PieceResult], notices: Sequence[Notice], unit: ForceUnit
) -> "RenderableType":
    """Return every row as it was written and understood, with the reason, and what was noticed."""
    from rich import box
    from rich.console import Group
    from rich.table import Table
    from rich.text import Text

    form = load_format([p.lower for p in pieces if p.kind is not None], unit)
    table = Table(box=box.SIMPLE_HEAD, pad_edge=False, expand=False)
    table.add_column("Line", justify="right", no_wrap=True)
    for name, ratio in (("Piece", 2), ("Group", 3), ("Written", 4), ("Understood", 4), ("Why", 5)):
        table.add_column(name, ratio=ratio, overflow="fold")
    for piece in pieces:
        line = "" if piece.line is None else str(piece.line)
        style = "dim" if piece.void is not None else ""
        cells = (
            line,
            piece.specimen,
            piece.group,
            written(piece),
            understood(piece, form),
            why(piece),
        )
        table.add_row(*(Text(cell) for cell in cells), style=style)
    steps: list[RenderableType] = []
    for piece in pieces:
        lines = step_lines(piece)
        if lines:
            steps.append(Paragraph(f"{piece.specimen}:", style="bold"))
            steps += [Paragraph(text, "   ") for text in lines]
    if steps:
        steps = [Paragraph("How each reading became a load:"), Text(""), *steps, Text("")]
    void = sum(p.void is not None for p in pieces)
    total = count_text(len(pieces), "piece", "pieces")
    left = f", {void} of them left out with a reason" if void else ""
    return Group(
        table, *steps, Paragraph(f"{total} read{left}."), *notice_paragraphs(notices, unit)
    )


def _verdict(answer: Answer, comparison: Comparison) -> "list[RenderableType]":
    from rich.text import Text

    words = verdict_words(answer, comparison)
    parts: list[RenderableType] = [Paragraph(words.headline, style="bold")]
    if words.support:
        parts.append(Paragraph(words.support))
    parts.append(Paragraph("What this does not show:"))
    parts += [Paragraph(line, " - ") for line in words.must_not]
    return [*parts, Text("")]


def _groups(answer: Answer) -> "RenderableType":
    from rich import box
    from rich.table import Table
    from rich.text import Text

    level = level_text(answer.method.level)
    table = Table(box=box.SIMPLE_HEAD, padding=(0, 1, 0, 0), collapse_padding=True)
    table.add_column("Group", overflow="fold", min_width=8)
    for name in ("Pieces", "At\nleast", "Other\nway", "Left\nout"):
        table.add_column(name, justify="right", no_wrap=True)
    table.add_column(f"Median, {answer.unit.value}\n({level} interval)", overflow="fold")
    table.add_column("Scatter", justify="right", no_wrap=True)
    for group in answer.groups:
        name = f"{group.name} (reference)" if group.is_reference else group.name
        table.add_row(
            Text(name),
            str(group.pieces),
            str(group.at_least),
            str(group.wrong_way),
            str(group.void),
            Text(_median(group, answer)),
            Text(percent_text(_scatter(group, answer))),
        )
    return table


def _scatter(group: GroupResult, answer: Answer) -> float | None:
    fits = (fit for fit in group.fits if fit.family == answer.method.family)
    return next((fit.cv for fit in fits), None)


def _median(group: GroupResult, answer: Answer) -> str:
    form = load_format([g.median.estimate for g in answer.groups], answer.unit)
    bound = group.median
    if bound.estimate is not None:
        limits = (
            f"{form.number(bound.lower)} to {form.number(bound.upper)}"
            if bound.lower is not None and bound.upper is not None
            else form.between(bound.lower, bound.upper)
        )
        return f"{form.number(bound.estimate)} ({limits})"
    if group.at_least_median is not None and group.at_least_median.lower is not None:
        least = form if any(g.median.estimate for g in answer.groups) else None
        own = least or load_format([group.at_least_median.lower], answer.unit)
        number = own.number(group.at_least_median.lower)
        return f"at least {number} ({level_text(group.at_least_median.level)} sure)"
    reason = next((f.missing for f in group.fits if f.missing is not None), None)
    return f"none: {missing_words(reason)}"


def _facts(comparison: Comparison) -> list[str]:
    verdict, chance = comparison.verdict, comparison.chance
    pair = f"{quoted(comparison.group)} against {quoted(comparison.reference)}"
    limits, level = ratio_limits(verdict.lower, verdict.upper), level_text(verdict.level)
    facts = [
        f"Ratio of medians, {pair}: no estimate; {limits} ({level} confidence)"
        if verdict.ratio is None
        else f"Ratio of medians, {pair}: {times_text(verdict.ratio)} ({level} interval {limits})"
    ]
    if comparison.ratio.sure_stronger is not None:
        facts.append(
            f"Sure that it is stronger: {chance_text(comparison.ratio.sure_stronger)}; "
            f"that it is weaker: {chance_text(comparison.ratio.sure_weaker)}"
        )
    if chance.estimate is not None:
        facts.append(
            f"Chance that one piece of {quoted(comparison.group)} beats one of "
            f"{quoted(comparison.reference)}: {chance_text(chance.estimate)} "
            f"({chance_text(chance.lower)} to {chance_text(chance.upper)})"
        )
    return facts
