"""``breakwright backup``: a copy of the whole store, while others go on writing."""

from pathlib import Path

import click

from breakwright.cli.deliver import file_to_write
from breakwright.cli.stores import at_store, opened_if_there

__all__ = ["command"]


@click.command("backup")
@click.argument(
    "path",
    metavar="FILE",
    type=click.Path(path_type=Path, dir_okay=False),
    callback=file_to_write,
)
@at_store
def command(path: Path, *, store: str | None) -> None:
    """Copy the whole store, every study with its media, into one FILE.

    The server may run meanwhile. To go back, stop it and start it with --store FILE.
    """
    with opened_if_there(store) as there:
        there.backup(path)
        studies = len(there.studies())
    click.echo(f"{studies} {'study' if studies == 1 else 'studies'} copied to {path}")
