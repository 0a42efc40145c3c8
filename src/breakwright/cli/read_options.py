"""The options of 'breakwright read', and what they say together."""

from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path
from typing import Any, TypeVar

import click

from breakwright.bootstrap import ForceUnit
from breakwright.bootstrap.film_marks import DisplayAsked

__all__ = ["Asked", "asked_of", "reads_films"]

Command = TypeVar("Command", bound=Callable[..., Any])

_KEPT = "breakwright.film_options"
_FILE = click.Path(path_type=Path, dir_okay=False)
_FOLDER = click.Path(path_type=Path, file_okay=False)


def _keep(context: click.Context, parameter: click.Parameter, value: object) -> None:
    context.meta.setdefault(_KEPT, {})[parameter.name] = value


def _option(*names: str, **words: Any) -> Callable[[Command], Command]:
    """An option whose value goes to ``asked_of`` and not to the command's own arguments."""
    return click.option(*names, **words, callback=_keep, expose_value=False)


_OPTIONS = (
    _option(
        "--display",
        "displays",
        metavar='"NAME: X,Y X,Y X,Y X,Y @ T"',
        multiple=True,
        help="A display: the corners of its digits as they read (top left, top right, bottom "
        "right, bottom left) in the frame at T seconds; then, if need be, '; unit=kgf "
        'decimals=2 resolution=0.05 capacity=50 refresh_s=0.25 instrument="left scale"\'.',
    ),
    _option(
        "--displays",
        "displays_file",
        type=_FILE,
        metavar="FILE",
        help="A displays.toml; without it the one that lies beside the film.",
    ),
    _option("--propose", is_flag=True, help="Look for displays, draw them, write a displays.toml."),
    _option("--unit", metavar="|".join(ForceUnit), help="Unit of displays that name none."),
    _option("--decimals", type=click.IntRange(0, 6), help="Digits behind the point."),
    _option(
        "--resolution",
        type=click.FloatRange(0.0, min_open=True),
        metavar="STEP",
        help="Smallest step of the displays.",
    ),
    _option(
        "--capacity",
        type=click.FloatRange(0.0, min_open=True),
        metavar="LOAD",
        help="Last load that the displays show.",
    ),
    _option(
        "--study",
        type=click.Path(path_type=Path),
        metavar="DIR",
        help="A study: its instruments say unit, resolution, capacity and refresh time.",
    ),
    _option(
        "--piece",
        "pieces",
        metavar="LABEL",
        multiple=True,
        help="Put the reading into the study's sheet, as that of this piece; once for each pull.",
    ),
    _option(
        "--in-order",
        is_flag=True,
        help="Give the pulls to the pieces that have no reading, in the planned order.",
    ),
    _option("--failure", metavar="WAY", help="How every piece of this film broke."),
    _option(
        "--replace", is_flag=True, help="Replace a reading that is there; what it said is kept."
    ),
    _option("--yes", is_flag=True, help="Write into the sheet without asking."),
    _option(
        "--with",
        "other",
        type=click.Path(path_type=Path),
        metavar="FILM",
        help="A second film of the same break, by another phone.",
    ),
    _option(
        "--with-display",
        "other_displays",
        metavar="...",
        multiple=True,
        help="A display in the second film, as --display.",
    ),
    _option(
        "--with-displays",
        "other_file",
        type=_FILE,
        metavar="FILE",
        help="A displays.toml for the second film.",
    ),
    _option(
        "--offset",
        type=float,
        metavar="SECONDS",
        help="What to add to the second film's times to get the first one's; without it the sound "
        "of the break tells.",
    ),
    _option(
        "--out",
        type=_FOLDER,
        metavar="DIR",
        help="Where results go; without it FILM-read beside the film.",
    ),
    _option("--again", is_flag=True, help="Read also what an earlier run has read."),
    _option(
        "--bundle",
        type=_FILE,
        metavar="FILE",
        help="Write crops and trace only as a zip file, to send a film that reads badly.",
    ),
    _option("--workers", type=click.IntRange(1, 64), help="Films read at once, of several."),
    _option("--json", "as_json", is_flag=True, help="Print everything as JSON."),
    _option("-q", "--quiet", is_flag=True, help="Print the peaks only, and no progress."),
)


@dataclass(frozen=True, slots=True)
class Asked:
    """Everything that the command line said, by the name of its option."""

    films: tuple[Path, ...]
    displays: tuple[str, ...]
    displays_file: Path | None
    propose: bool
    unit: str | None
    decimals: int | None
    resolution: float | None
    capacity: float | None
    study: Path | None
    pieces: tuple[str, ...]
    in_order: bool
    failure: str | None
    replace: bool
    yes: bool
    other: Path | None
    other_displays: tuple[str, ...]
    other_file: Path | None
    offset: float | None
    out: Path | None
    again: bool
    bundle: Path | None
    workers: int | None
    as_json: bool
    quiet: bool

    @property
    def of_all(self) -> DisplayAsked:
        """What was said of all displays at once."""
        return DisplayAsked(
            "",
            (),
            unit=self.unit,
            decimals=self.decimals,
            resolution=self.resolution,
            capacity=self.capacity,
        )


def reads_films(command: Command) -> Command:
    """Give a command the options above; ``asked_of`` gathers what was said."""
    for option in reversed(_OPTIONS):
        command = option(command)
    return command


def asked_of(context: click.Context, films: tuple[Path, ...]) -> Asked:
    """Return what this command line says. Raises UsageError for what cannot go together."""
    said: dict[str, Any] = context.meta[_KEPT]
    asked = Asked(films=films, **said)
    if asked.displays and asked.displays_file:
        raise click.UsageError("Give --display or --displays, not both.")
    if asked.other_displays and asked.other_file:
        raise click.UsageError("Give --with-display or --with-displays, not both.")
    if asked.other is None and (
        asked.other_displays or asked.other_file or asked.offset is not None
    ):
        raise click.UsageError("--with-display, --with-displays and --offset need --with FILM.")
    wants_sheet = asked.pieces or asked.in_order
    if wants_sheet and asked.study is None:
        raise click.UsageError("--piece and --in-order need --study DIR, whose sheet is written.")
    if not wants_sheet and (asked.replace or asked.yes or asked.failure):
        raise click.UsageError("--replace, --yes and --failure need --piece or --in-order.")
    return asked
