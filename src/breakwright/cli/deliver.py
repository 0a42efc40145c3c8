"""What was asked for, put where it was asked for: on the terminal, as JSON, in files."""

from collections.abc import Sequence
from pathlib import Path
from typing import TYPE_CHECKING

import click

from breakwright.bootstrap import Progress, write_pictures, write_report, write_sheet

if TYPE_CHECKING:
    from rich.console import RenderableType

    from breakwright.report.before_page import Sheet
    from breakwright.usecases.result import Answer

__all__ = [
    "deliver_sheet",
    "file_to_write",
    "print_json",
    "print_result_json",
    "print_view",
    "say_written",
    "write_files",
]


def file_to_write(
    context: click.Context, parameter: click.Parameter, value: Path | None
) -> Path | None:
    """Refuse a place that cannot be written to before minutes are spent on what goes there."""
    del context
    if value is not None and not value.parent.is_dir():
        raise click.BadParameter(
            f"the folder {value.parent} does not exist; make it first", param=parameter
        )
    return value


def print_view(view: "RenderableType") -> None:
    """Print a view on standard output; colour only where that is a terminal."""
    from rich.console import Console

    Console(highlight=False, markup=False, emoji=False).print(view)


def print_json(answer: "Answer") -> None:
    """Print the answer as one JSON document in UTF-8, whatever the terminal's encoding."""
    print_result_json(answer, "answer")


def print_result_json(result: object, name: str) -> None:
    """Print any result as one JSON document in UTF-8; ``name`` stands for it in messages."""
    from breakwright.report.json_form import result_json

    click.echo(result_json(result, name).encode(), nl=False)


def deliver_sheet(
    sheet: "Sheet", *, report: Path | None, json_of: tuple[object, str] | None
) -> None:
    """Show a sheet on the terminal, or its result as JSON, and write its page if asked for."""
    if report is not None:
        write_sheet(sheet, report)
    if json_of is not None:
        print_result_json(*json_of)
    else:
        from breakwright.report.passage_view import passages_view

        print_view(passages_view(sheet))
    if report is not None:
        say_written((report,))


def write_files(
    answer: "Answer", *, report: Path | None, pictures: Path | None, progress: Progress | None
) -> tuple[Path, ...]:
    """Write the files that were asked for, and return where they lie."""
    written: list[Path] = []
    if report is not None:
        if progress is not None:
            progress("writing the report", 0.0)
        write_report(answer, report)
        written.append(report)
    if pictures is not None:
        written += write_pictures(answer, pictures, progress=progress)
    return tuple(written)


def say_written(written: Sequence[Path]) -> None:
    """Say on standard error which files were written: not part of the answer."""
    for path in written:
        click.echo(f"written: {path}", err=True)
