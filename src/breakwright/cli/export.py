"""``breakwright export``: a study of the store as a folder or a zip file."""

from pathlib import Path

import click

from breakwright.cli.deliver import file_to_write
from breakwright.cli.stores import at_store, opened_if_there

__all__ = ["command"]

_WRITTEN_OVER = ("study.toml", "specimens.csv", "trials.csv", "history.jsonl", "datapackage.json")


@click.command("export")
@click.argument("study", metavar="STUDY")
@click.argument(
    "path", metavar="DIR_OR_ZIP", type=click.Path(path_type=Path), callback=file_to_write
)
@click.option("--replace", is_flag=True, help="Write over files of an earlier export.")
@at_store
def command(study: str, path: Path, *, replace: bool, store: str | None) -> None:
    """Write a study of the store as a folder, or zipped.

    STUDY is its short name, its id or how its title begins. The folder is what 'answer', 'plan'
    and 'import' read; nothing that was ever noted is left out.
    """
    from breakwright.bootstrap.folders import export_study, study_named
    from breakwright.model.errors import ImpossibleValue
    from breakwright.usecases.bench.bench import Bench

    if path.suffix.lower() == ".zip" and path.exists() and not replace:
        raise ImpossibleValue(
            f"{path} is there already; nothing was written. Name another file, or give --replace"
        )
    with opened_if_there(store) as there:
        state = Bench(there).state(study_named(there, study))
        if state is None:
            raise ImpossibleValue(f"the beginning of the study {study} is not in the store yet")
        made = export_study(there, state, path, over=_WRITTEN_OVER if replace else ())
    click.echo(f"«{state.title}»: {len(made.files)} files in {path}")
    if made.clashes:
        click.echo(
            f"Two readings of {', '.join(made.clashes)} do not know of each other: the first to "
            "arrive is in trials.csv, all are in history.jsonl."
        )
    for name in made.missing:
        click.echo(f"A picture or trace is named and was never sent: {name}")
    if made.films:
        click.echo(f"Films stay on the server: {', '.join(made.films)}")
