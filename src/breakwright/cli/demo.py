"""``breakwright demo``: the whole way once, on an invented study."""

import os
import shutil
import sys
from pathlib import Path

import click

from breakwright.bootstrap import (
    CEILING,
    DEMO_FILM,
    DEMO_PIECE,
    LEVEL,
    RESAMPLES,
    SEED,
    Progress,
    ReadOptions,
    answer_source,
    copy_demo,
    make_settings,
    read,
    write_report,
)
from breakwright.cli.deliver import print_view
from breakwright.cli.progress import shown_progress
from breakwright.model.errors import InputRefused

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

    The load of one of its pieces is read off a film first, as 'breakwright read' does. The study
    and its report are written into DIR ('breakwright-demo' if left out). A file there
    that is not the demo's is left alone, and nothing is written.
    """
    from breakwright.report.terminal import answer_view

    copy_demo(folder)
    settings = make_settings(level=LEVEL, seed=SEED, resamples=RESAMPLES, ceiling=CEILING)
    with shown_progress(wanted=True) as tell:
        film = _film_read(folder, tell)
        source = read(folder, ReadOptions())
        answer = answer_source(source, settings, progress=tell)
        write_report(answer, folder / REPORT)
    print_view(answer_view(answer))
    click.echo(f"\n{film}")
    click.echo(f"\nThe study, with its invented readings: {folder}")
    click.echo(f"The report, to open in a browser: {(folder / REPORT).resolve()}")
    click.echo(f"The same study at the bench, as pages: {_called()} serve --demo --open")


def _film_read(folder: Path, tell: Progress | None) -> str:
    """Read the film of one pull into the sheet of the copy, and return what is to be said of it.

    Without the libraries for films the sheet stays as it is: it says what the film shows.
    """
    from breakwright.cli.extras import missing_words

    film = folder / DEMO_FILM[0]
    try:
        return _film_into_sheet(film, folder, tell)
    except ModuleNotFoundError as absent:
        words = missing_words(absent.name)
        if words is None:
            raise
        return f"The film {film} was not read ({words}); its reading stands in the sheet."


def _film_into_sheet(film: Path, folder: Path, tell: Progress | None) -> str:
    import av  # noqa: F401 - without it the film is said to be unreadable, not the library
    import cv2  # noqa: F401
    import onnxruntime  # noqa: F401

    from breakwright.bootstrap.film_marks import displays_of_file
    from breakwright.bootstrap.film_study import propose_readings, put_readings, write_readings
    from breakwright.cli.read_job import FilmJob, read_job
    from breakwright.cli.stores import now
    from breakwright.report.film_words import peak_words

    def share(time: float, duration: float) -> None:
        if tell is not None:
            tell(f"reading {film.name}", min(1.0, time / duration) if duration > 0.0 else 0.0)

    job = FilmJob(
        film,
        displays_of_file(folder / DEMO_FILM[1]),
        folder,
        folder / f"{film.stem}-read",
    )
    done = read_job(job, tell=share, stop=lambda: False)
    if done.problems or done.told is None:
        raise InputRefused(done.problems)
    told = done.told
    if not told.reading.breaks:
        return f"No break was found in {film.name}; the sheet's own reading stays."
    proposals = propose_readings([told], folder, named=(DEMO_PIECE,), in_order=False)
    change = put_readings(proposals, folder)
    if DEMO_PIECE not in change.same:
        write_readings(change, when=now(), because=f"read off {film.name}")
    peak = peak_words(told.reading.breaks[0], told.reading, told.unit)
    return (
        f"Piece {DEMO_PIECE} was read off its film, {film.name}: {peak}. The answer above uses "
        f"that. Trace, chart and pictures: {job.folder}"
    )


def _called() -> str:
    """Return how this command can be called again: its path, where its name would not be found."""
    here = Path(sys.argv[0])
    found = shutil.which("breakwright")
    if here.name != "breakwright" or (found and Path(found).resolve() == here.resolve()):
        return "breakwright"
    return os.path.relpath(here)
