"""Options that say how a sheet is to be read, the same for every command that reads one."""

from collections.abc import Callable
from enum import StrEnum
from pathlib import Path
from typing import Any, TypeVar

import click

from breakwright.bootstrap import (
    Decimal,
    ForceUnit,
    Negative,
    ReadOptions,
    Sharing,
    force_unit,
)

__all__ = ["SHEET", "reads_a_sheet", "sheet_options"]

Command = TypeVar("Command", bound=Callable[..., Any])

_KEPT = "breakwright.sheet"

SHEET = click.argument("sheet", metavar="SHEET_OR_FOLDER", type=click.Path(path_type=Path))


def _keep(context: click.Context, parameter: click.Parameter, value: object) -> None:
    context.meta.setdefault(_KEPT, {})[parameter.name] = value


def _option(name: str, type_: click.ParamType[Any], **words: str) -> Callable[[Command], Command]:
    return click.option(
        name,
        type=type_,
        metavar=words.get("metavar"),
        help=words["help"],
        callback=_keep,
        expose_value=False,
    )


def _one_of(enum: type[StrEnum]) -> click.Choice[str]:
    return click.Choice([member.value for member in enum], case_sensitive=False)


_OPTIONS = (
    _option(
        "--unit",
        click.STRING,
        metavar="|".join(ForceUnit),
        help="Unit of the loads in the sheet.",
    ),
    _option("--decimal", _one_of(Decimal), help="What parts the fraction: 1.5 or 1,5."),
    _option(
        "--negative",
        _one_of(Negative),
        help="Negative loads, as pull gauges show them: ask (the default), or take their size.",
    ),
    _option(
        "--sharing",
        _one_of(Sharing),
        help="load_1, load_2, ... were read at the same moment, or are each scale's own peak.",
    ),
    _option(
        "--reference",
        click.STRING,
        metavar="GROUP",
        help="The group that the others are compared with.",
    ),
    _option(
        "--counts",
        click.STRING,
        metavar="WAY",
        help="The way of breaking that you ask about, as the sheet calls it.",
    ),
    _option(
        "--worth",
        click.FloatRange(1.0, 100.0, min_open=True, max_open=True),
        metavar="RATIO",
        help="The smallest ratio worth knowing, such as 1.2.",
    ),
    _option(
        "--resolution",
        click.FloatRange(0.0),
        metavar="STEP",
        help="The smallest step of the display, in the sheet's unit.",
    ),
    _option(
        "--capacity",
        click.FloatRange(0.0, min_open=True),
        metavar="LOAD",
        help="Where the display stops, in the sheet's unit.",
    ),
)


def reads_a_sheet(command: Command) -> Command:
    """Give a command the options above; ``sheet_options`` gathers what was said."""
    for option in reversed(_OPTIONS):
        command = option(command)
    return command


def sheet_options(context: click.Context) -> ReadOptions:
    """Return what the options of this command line say about the sheet.

    Raises InputRefused for a unit that is none of force, with the question it raises.
    """
    said: dict[str, Any] = context.meta[_KEPT]
    return ReadOptions(
        unit=None if said["unit"] is None else force_unit(said["unit"]),
        decimal=None if said["decimal"] is None else Decimal(said["decimal"]),
        pulls_negative=Negative(said["negative"] or Negative.ASK),
        sharing=None if said["sharing"] is None else Sharing(said["sharing"]),
        reference=said["reference"],
        counts=said["counts"],
        worth=said["worth"],
        resolution=said["resolution"],
        capacity=said["capacity"],
    )
