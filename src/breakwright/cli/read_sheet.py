"""Readings off films, shown to the person and put into the study's sheet."""

import sys
from collections.abc import Sequence
from pathlib import Path

import click

from breakwright.bootstrap.film_study import (
    Proposal,
    SheetChange,
    propose_readings,
    put_readings,
    write_readings,
)
from breakwright.bootstrap.film_told import FilmTold
from breakwright.cli.read_options import Asked
from breakwright.cli.stores import now
from breakwright.cli.trouble import say_trouble
from breakwright.model.errors import InputRefused, Problem

__all__ = ["put_into_sheet"]

BAD_INPUT = 2


def put_into_sheet(told: Sequence[FilmTold], asked: Asked) -> int:
    """Show which pull is of which piece, and write the readings if the person agrees; return the
    exit status. Raises InputRefused with what stands in the way; then nothing is written."""
    assert asked.study is not None
    proposals = propose_readings(
        told, asked.study, named=asked.pieces, in_order=asked.in_order, failure=asked.failure
    )
    if not proposals:
        say_trouble("no break was found, so there is no reading to put into the sheet")
        return BAD_INPUT
    _refuse_unmatched(proposals, asked)
    change = put_readings(proposals, asked.study)
    for proposal in proposals:
        _say_proposal(proposal, change)
    if change.replaced and not asked.replace:
        raise InputRefused([_there_already(change)])
    fresh = [p for p in proposals if p.match.piece not in (None, *change.same)]
    if not fresh:
        click.echo(f"{change.path} says so already; nothing was written.")
        return 0
    if not _agreed(proposals, asked):
        return BAD_INPUT
    films = ", ".join(dict.fromkeys(p.match.pull.film for p in fresh))
    kept = write_readings(change, when=now(), because=f"read off {films}")
    _say_written(change, kept)
    return 0


def _refuse_unmatched(proposals: Sequence[Proposal], asked: Asked) -> None:
    left = [p for p in proposals if p.match.piece is None]
    if left and not asked.in_order:
        raise InputRefused(
            [
                Problem(
                    "pulls-and-pieces",
                    f"{len(proposals)} pulls were found, and {len(asked.pieces)} "
                    f"{'piece was' if len(asked.pieces) == 1 else 'pieces were'} named; nothing "
                    "was written",
                    "--piece",
                    read=", ".join(asked.pieces),
                    allowed="a --piece for each pull, in the order of the film; or --in-order",
                    do="Look at the chart: a slip may have been taken for a break.",
                )
            ]
        )


def _say_proposal(proposal: Proposal, change: SheetChange) -> None:
    entry, pull, piece = proposal.entry, proposal.match.pull, proposal.match.piece
    loads = " + ".join(load or "(not read)" for load in entry.loads)
    whom = "no piece is left for it" if piece is None else f"piece {piece}"
    words = f"{pull.film}, {pull.found.peak_at:.1f} s: {whom}: {loads} {entry.unit}"
    words += f", {entry.ended.value}"
    if entry.rate is not None:
        words += f", {entry.rate} {entry.unit} a second"
    if piece is not None and piece in change.replaced:
        words += f" (in the sheet so far: {change.replaced[piece][0]})"
    elif piece in change.same:
        words += " (as in the sheet)"
    click.echo(words)


def _there_already(change: SheetChange) -> Problem:
    pieces = ", ".join(change.replaced)
    return Problem(
        "reading-there",
        f"there is a reading of {pieces} already, and it says something else; nothing was written",
        str(change.path),
        read="; ".join(f"{piece}: {was}" for piece, (was, _, _) in change.replaced.items()),
        allowed="a piece without a reading",
        do="Give --replace if the film is right; what the row says now is kept beside the sheet.",
    )


def _agreed(proposals: Sequence[Proposal], asked: Asked) -> bool:
    """One pull of the one piece that was named needs no question; anything else does."""
    if asked.yes or (len(proposals) == 1 and len(asked.pieces) == 1):
        return True
    if not (sys.stdin is not None and sys.stdin.isatty() and sys.stderr.isatty()):
        say_trouble(
            "nothing was written: nobody can be asked here whether this is right. Give --yes if "
            "it is"
        )
        return False
    if click.confirm("Is each pull of the piece beside it?", err=True):
        return True
    click.echo("Nothing was written.", err=True)
    return False


def _say_written(change: SheetChange, kept: Path | None) -> None:
    if change.begun:
        click.echo(f"The plan's list of pieces was taken over into {change.path.name}.", err=True)
    for piece in change.replaced:
        click.echo(f"The reading of {piece} was replaced.", err=True)
    if kept is not None:
        click.echo(f"What stood there before: {kept}", err=True)
    click.echo(f"written: {change.path}", err=True)
