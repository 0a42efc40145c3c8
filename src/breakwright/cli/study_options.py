"""What the four commands before the first cut have in common: the study and where output goes."""

from pathlib import Path

import click

from breakwright.cli.deliver import file_to_write

__all__ = ["AS_JSON", "OFFER", "REPORT", "SEED", "STUDY"]


STUDY = click.argument("study", metavar="STUDY", type=click.Path(path_type=Path))
SEED = click.option(
    "--seed",
    type=click.IntRange(0),
    default=None,
    help="Seed of the simulations and of the lot; without it the one in study.toml.",
)
AS_JSON = click.option(
    "--json", "as_json", is_flag=True, help="Print everything as one JSON document."
)
REPORT = click.option(
    "--report",
    type=click.Path(path_type=Path, dir_okay=False),
    metavar="FILE",
    callback=file_to_write,
    help="Write the report, one HTML file that needs no network.",
)
OFFER = click.option(
    "--offer",
    "offers",
    type=click.FloatRange(0.0, min_open=True),
    metavar="LOAD",
    multiple=True,
    help="Capacity of a scale that you could buy, in the study's unit; may be given repeatedly.",
)
