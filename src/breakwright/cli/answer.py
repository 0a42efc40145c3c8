"""``breakwright answer``: from a sheet or a study folder to the answer."""

from pathlib import Path

import click

from breakwright.bootstrap import (
    CEILING,
    LEVEL,
    RESAMPLES,
    SEED,
    answer_source,
    make_settings,
)
from breakwright.cli.deliver import (
    file_to_write,
    print_json,
    print_view,
    say_written,
    write_files,
)
from breakwright.cli.options import SHEET, reads_a_sheet, sheet_options
from breakwright.cli.progress import shown_progress
from breakwright.cli.questions import read_or_ask

__all__ = ["command"]


@click.command("answer")
@SHEET
@reads_a_sheet
@click.option(
    "--ceiling",
    type=click.Choice(["at-least", "as-read"]),
    default=CEILING,
    show_default=True,
    help="Readings piled up at a common top value: a limit of the scale, or strengths.",
)
@click.option(
    "--level",
    type=click.FloatRange(0.5, 0.999),
    default=LEVEL,
    show_default=True,
    help="Confidence of the intervals.",
)
@click.option(
    "--seed",
    type=click.IntRange(0),
    default=SEED,
    show_default=True,
    help="Seed of the simulations: same sheet, same seed, same answer to the byte.",
)
@click.option(
    "--resamples",
    type=click.IntRange(200, 1_000_000),
    default=RESAMPLES,
    show_default=True,
    help="Simulated experiments behind each limit.",
)
@click.option("--json", "as_json", is_flag=True, help="Print everything as one JSON document.")
@click.option(
    "--report",
    type=click.Path(path_type=Path, dir_okay=False),
    metavar="FILE",
    callback=file_to_write,
    help="Write the report, one HTML file that needs no network.",
)
@click.option(
    "--pictures",
    type=click.Path(path_type=Path, file_okay=False),
    metavar="DIR",
    callback=file_to_write,
    help="Write the charts as SVG and as 1920x1080 PNG.",
)
@click.option("-q", "--quiet", is_flag=True, help="Print the verdict only, and no progress.")
@click.pass_context
def command(
    context: click.Context,
    *,
    sheet: Path,
    ceiling: str,
    level: float,
    seed: int,
    resamples: int,
    as_json: bool,
    report: Path | None,
    pictures: Path | None,
    quiet: bool,
) -> None:
    """Say how much stronger, how sure, and what must not be concluded.

    SHEET_OR_FOLDER is a CSV sheet with a header (group and load at least), or a folder with
    trials.csv and study.toml.
    """
    source = read_or_ask(sheet, sheet_options(context))
    settings = make_settings(level=level, seed=seed, resamples=resamples, ceiling=ceiling)
    with shown_progress(wanted=not quiet) as tell:
        answer = answer_source(source, settings, progress=tell)
        written = write_files(answer, report=report, pictures=pictures, progress=tell)
    if as_json:
        print_json(answer)
    else:
        from breakwright.report.terminal import answer_view, verdict_view

        print_view(verdict_view(answer) if quiet else answer_view(answer))
    if not quiet:
        say_written(written)
