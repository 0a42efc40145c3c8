"""A question that a sheet raises, asked of the person in front of it, if there is one."""

import dataclasses
import sys
from pathlib import Path
from typing import TYPE_CHECKING

import click

from breakwright.bootstrap import Negative, ReadOptions, read
from breakwright.model.errors import InputRefused

if TYPE_CHECKING:
    from breakwright.files.source import Source

__all__ = ["read_or_ask"]

NEGATIVE = "negative-load"


def read_or_ask(path: Path, options: ReadOptions) -> "Source":
    """Read the sheet; where only the question of negative peaks stops it, ask and read again.

    Raises InputRefused with the question as a problem where nobody can be asked, or who is
    asked says no.
    """
    try:
        return read(path, options)
    except InputRefused as refused:
        if {problem.code for problem in refused.problems} != {NEGATIVE} or not _somebody():
            raise
        for problem in refused.problems:
            click.echo(f"{problem.file}: {problem.column_name}: {problem.message}", err=True)
        if not click.confirm("Take these loads by their size, without the sign?", err=True):
            raise
    return read(path, dataclasses.replace(options, pulls_negative=Negative.BY_SIZE))


def _somebody() -> bool:
    return sys.stdin is not None and sys.stdin.isatty() and sys.stderr.isatty()
