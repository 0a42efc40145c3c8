"""``breakwright check``: every row of a sheet explained, and nothing answered."""

from pathlib import Path

import click

from breakwright.bootstrap import understand
from breakwright.cli.deliver import print_view
from breakwright.cli.options import SHEET, reads_a_sheet, sheet_options
from breakwright.cli.questions import read_or_ask

__all__ = ["command"]


@click.command("check")
@SHEET
@reads_a_sheet
@click.pass_context
def command(context: click.Context, *, sheet: Path) -> None:
    """Explain every row as it was understood, without answering.

    Takes the same sheets and folders as 'breakwright answer'.
    """
    from breakwright.report.terminal import check_view

    source = read_or_ask(sheet, sheet_options(context))
    pieces, notices = understand(source)
    print_view(check_view(pieces, notices, source.study.unit))
