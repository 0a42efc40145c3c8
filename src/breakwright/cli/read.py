"""``breakwright read``: the load off the displays in a film, with what proves it."""

from pathlib import Path

import click

from breakwright.cli.read_options import asked_of, reads_films

__all__ = ["command"]


@click.command("read")
@click.argument(
    "films", metavar="FILM...", nargs=-1, required=True, type=click.Path(path_type=Path)
)
@reads_films
@click.pass_context
def command(context: click.Context, films: tuple[Path, ...]) -> int:
    """Read the load off the displays in a film: a trace, the peak, and pictures that prove it.

    FILM is a video as a phone records it, or a folder of them. Let the program look for the
    displays first, then correct what it wrote and read:

    \b
        breakwright read pull.mp4 --propose
        breakwright read pull.mp4 --study my-study --piece C1

    Beside the film a folder pull-read is written: film.json, trace.csv, the chart, the contact
    sheet with the pictures around the peak and around every doubt. Ctrl-C ends it and keeps what
    was read so far. The film stays as it is, and nothing leaves this machine.
    """
    from breakwright.cli.read_films import read_as_asked

    return read_as_asked(asked_of(context, films))
