"""What 'breakwright read' says of a film: the peak first, then what to look at, then the files."""

import json
from collections.abc import Sequence

import click

from breakwright.bootstrap.film_told import FilmTold, film_dict
from breakwright.cli.deliver import print_view
from breakwright.cli.read_job import FilmDone

__all__ = ["say_done", "say_json"]


def say_done(done: FilmDone, *, quiet: bool) -> None:
    """Say on standard output what one film told, and where its files lie."""
    from rich.console import Group
    from rich.text import Text

    from breakwright.report.film_words import break_lines, doubt_words, peak_words
    from breakwright.report.paragraph import Paragraph

    told = done.told
    if told is None:
        for path in done.written:
            click.echo(f"written: {path}", err=True)
        return
    reading, unit = told.reading, told.unit
    name = " and ".join(film.name for film in told.films)
    if quiet:
        for found in reading.breaks:
            print_view(Paragraph(f"{name}: {peak_words(found, reading, unit)}"))
        if not reading.breaks:
            print_view(Paragraph(f"{name}: no break was found"))
        return
    again = " (read by an earlier run)" if done.before else ""
    parts = [Paragraph(f"{name}{again}", style="bold")]
    for found in reading.breaks:
        first, *rest = break_lines(found, reading, unit)
        parts.append(Paragraph(first))
        parts += [Paragraph(line, "  ") for line in rest]
    if not reading.breaks:
        parts.append(Paragraph("No break was found in this film."))
    if reading.facts.ended_early and all(one.code != "ended-early" for one in reading.doubts):
        parts.append(Paragraph(f"Not the whole film: {reading.facts.ended_early}."))
    if reading.doubts:
        parts.append(Paragraph("Look at:"))
        parts += [Paragraph(doubt_words(one, reading, unit), " - ") for one in reading.doubts]
    print_view(Group(*parts, Text("")))
    for path in done.written:
        click.echo(f"written: {path}", err=True)


def say_json(told: Sequence[FilmTold], *, several: bool) -> None:
    """Print what the films told as one JSON document: one form, or a list of them."""
    forms = [film_dict(one) for one in told]
    if not several and not forms:
        return
    text = json.dumps(forms if several else forms[0], ensure_ascii=False, allow_nan=False, indent=2)
    click.echo(f"{text}\n".encode(), nl=False)
