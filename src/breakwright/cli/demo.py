"""``breakwright demo``: the whole way once, on an invented study."""

import os
import shutil
import sys
from pathlib import Path

import click

from breakwright.bootstrap import (
    CEILING,
    LEVEL,
    RESAMPLES,
    SEED,
    ReadOptions,
    answer_source,
    copy_demo,
    make_settings,
    read,
    write_report,
)
from breakwright.cli.deliver import print_view
from breakwright.cli.progress import shown_progress

__all__ = ["command"]

REPORT = "report.html"


@click.command("demo")
@click.argument(
    "folder",
    metavar="[DIR]",
    default=Path("breakwright-demo"),
    type=click.Path(path_type=Path, file_okay=False),
)
def command(folder: Path) -> None:
    """Answer an invented study, to see how it goes.

    The study and its report are written into DIR ('breakwright-demo' if left out). A file there
    that is not the demo's is left alone, and nothing is written.
    """
    from breakwright.report.terminal import answer_view

    copy_demo(folder)
    source = read(folder, ReadOptions())
    settings = make_settings(level=LEVEL, seed=SEED, resamples=RESAMPLES, ceiling=CEILING)
    with shown_progress(wanted=True) as tell:
        answer = answer_source(source, settings, progress=tell)
        write_report(answer, folder / REPORT)
    print_view(answer_view(answer))
    click.echo(f"\nThe study, with its invented readings: {folder}")
    click.echo(f"The report, to open in a browser: {(folder / REPORT).resolve()}")
    click.echo(f"The same study at the bench, as pages: {_called()} serve --demo --open")


def _called() -> str:
    """Return how this command can be called again: its path, where its name would not be found."""
    here = Path(sys.argv[0])
    found = shutil.which("breakwright")
    if here.name != "breakwright" or (found and Path(found).resolve() == here.resolve()):
        return "breakwright"
    return os.path.relpath(here)
