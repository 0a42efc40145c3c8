"""``breakwright listen``: a live load cell at the bench, its trace and its peaks."""

import sys
from pathlib import Path

import click

from breakwright.bootstrap import ForceUnit, force_unit
from breakwright.bootstrap.listening import Format, Stamps
from breakwright.model.units import NEWTONS_PER

__all__ = ["command"]

_DEFAULT_SERVER = "http://127.0.0.1:8321"


@click.command("listen")
@click.argument("source", metavar="[-]", required=False, type=click.Choice(["-"]))
@click.option("--serial", "port", metavar="PORT", help="Serial port, such as /dev/ttyUSB0 or COM3.")
@click.option(
    "--baud", type=click.IntRange(50, 4_000_000), default=9600, show_default=True, help="Its speed."
)
@click.option(
    "--to",
    "address",
    metavar="URL",
    default=_DEFAULT_SERVER,
    show_default=True,
    help="Address of a running 'breakwright serve'.",
)
@click.option("--study", metavar="HANDLE", help="Study that the pulls belong to.")
@click.option("--token", metavar="TOKEN", help="The token of a server opened with --lan.")
@click.option(
    "--certificate",
    type=click.Path(path_type=Path, exists=True, dir_okay=False),
    metavar="FILE",
    help="Certificate to trust, for a server with --https.",
)
@click.option("--scale", metavar="NAME", help="Which display of the study the cell is.")
@click.option("--unit", metavar="|".join(ForceUnit), help="Unit of lines that name none.")
@click.option(
    "--decimal", type=click.Choice(["point", "comma"]), help="What parts the fraction: 1.5 or 1,5."
)
@click.option(
    "--stamps",
    type=click.Choice(["s", "ms", "us", "none"]),
    help="What the time in front of the load is counted in.",
)
@click.option("--column", type=click.IntRange(1), metavar="N", help="Which number is the load.")
@click.option(
    "--every",
    type=click.FloatRange(0.0, 3600.0, min_open=True),
    metavar="SECONDS",
    help="Time between two lines, for lines out of a file without times.",
)
@click.option("--negative", is_flag=True, help="The cell shows a pull as a negative load.")
@click.option(
    "--capacity",
    type=click.FloatRange(0.0, min_open=True),
    metavar="LOAD",
    help="Where the display stops, in --unit or N; without it as the study says.",
)
@click.option(
    "--resolution",
    type=click.FloatRange(0.0),
    metavar="STEP",
    help="Smallest step of the display, in --unit or N; without it as the study says.",
)
@click.option(
    "--threshold",
    type=click.FloatRange(0.0, min_open=True),
    metavar="LOAD",
    help="Load at which a pull begins, in --unit or N; without it 2 % of the capacity, or 50 N.",
)
@click.option(
    "--rate",
    type=click.FloatRange(0.0, min_open=True),
    metavar="LOAD",
    help="Loading rate, in --unit or N a second; without it the trace's own.",
)
@click.option(
    "--stay",
    type=click.FloatRange(0.0, 600.0),
    metavar="SECONDS",
    default=2.0,
    show_default=True,
    help="How long the load must stay down before a pull is over.",
)
@click.option("--failure", metavar="WAY", help="How every piece of this run breaks.")
@click.option(
    "--save",
    type=click.Path(path_type=Path, file_okay=False),
    metavar="FOLDER",
    help="Where traces are kept; without it the folder of your data.",
)
@click.option(
    "--wait",
    "patience",
    type=click.FloatRange(0.0, 86_400.0),
    metavar="SECONDS",
    default=10.0,
    show_default=True,
    help="How long to try sending after the lines have ended.",
)
@click.option("--yes", is_flag=True, help="Send every clear pull without asking.")
@click.option("--dry-run", is_flag=True, help="Show and record; send nothing.")
def command(
    *,
    source: str | None,
    port: str | None,
    baud: int,
    address: str,
    study: str | None,
    token: str | None,
    certificate: Path | None,
    scale: str | None,
    unit: str | None,
    decimal: str | None,
    stamps: str | None,
    column: int | None,
    every: float | None,
    negative: bool,
    capacity: float | None,
    resolution: float | None,
    threshold: float | None,
    rate: float | None,
    stay: float,
    failure: str | None,
    save: Path | None,
    patience: float,
    yes: bool,
    dry_run: bool,
) -> int:
    """Read a load cell while pieces are pulled, and send each peak as a reading.

    Lines of numbers come from a serial port (--serial) or from standard input (-):

    \b
        breakwright listen --serial /dev/ttyUSB0 --unit N
        my-logger | breakwright listen - --unit kgf --yes

    Everything is written to the disk first. A reading that the server did not get, because it
    was away or this program ended, is sent by the next run, and never twice. Ctrl-C ends it.
    """
    from breakwright.cli.listen_setup import Wanted, listen_as_wanted

    if (source is None) == (port is None):
        raise click.UsageError("Give either --serial PORT, or - for lines on standard input.")
    asks = port is not None and sys.stdin.isatty() and sys.stdout.isatty()
    if not (asks or yes or dry_run):
        raise click.UsageError(
            "Nobody can be asked here whether a pull is a reading. Give --yes to send every "
            "clear one, or --dry-run to send none."
        )
    force = None if unit is None else force_unit(unit)
    per = NEWTONS_PER[force or ForceUnit.N]
    wanted = Wanted(
        port=port,
        baud=baud,
        address=None if dry_run else address,
        study=study,
        token=token,
        certificate=certificate,
        scale=scale,
        form=Format(force, decimal, Stamps(stamps) if stamps else None, column),
        every=every,
        sign=-1.0 if negative else 1.0,
        capacity=None if capacity is None else capacity * per,
        resolution=None if resolution is None else resolution * per,
        threshold=None if threshold is None else threshold * per,
        rate=None if rate is None else rate * per,
        stay=stay,
        failure=failure,
        save=save,
        patience=patience,
        asks=asks and not yes,
    )
    return listen_as_wanted(wanted)
