"""``breakwright import``: a folder, a zip file or a sheet into the store."""

from pathlib import Path

import click

from breakwright.cli.options import reads_a_sheet, sheet_options
from breakwright.cli.stores import at_store, new_id, now, opened

__all__ = ["command"]


@click.command("import")
@click.argument("path", metavar="DIR_ZIP_OR_SHEET", type=click.Path(path_type=Path, exists=True))
@click.option(
    "--as-new",
    is_flag=True,
    help="Take the tables as a new study, whatever the history beside them says.",
)
@at_store
@reads_a_sheet
@click.pass_context
def command(context: click.Context, path: Path, *, as_new: bool, store: str | None) -> None:
    """Take a study into the store: a folder or a zip file as 'export' writes them, a folder made
    by hand, or a lone CSV sheet.

    Importing an exported study twice changes nothing. The options below say how a sheet made by
    hand is to be read.
    """
    from breakwright.bootstrap.folders import Making, keep_import, read_import
    from breakwright.model.units import ForceUnit
    from breakwright.report.notice_words import notice_words

    options = sheet_options(context)
    with opened(store) as there:
        lines = there.studies()
        incoming = read_import(
            path,
            name=str(path),
            making=Making(now(), new_id),
            options=options,
            handles=[(line.handle, line.id) for line in lines],
            as_new=as_new,
        )
        receipt = keep_import(there, incoming, received=now())
        study = incoming.events[0].study
        title = next(line for line in there.studies() if line.id == study)
    if receipt.new:
        click.echo(f"«{title.title}» ({title.handle}): {title.pieces} pieces, {title.read} read")
    else:
        click.echo(f"«{title.title}» ({title.handle}) was there already; nothing was new")
    for notice in incoming.notices:
        click.echo(notice_words(notice, ForceUnit.N))
    for name in incoming.missing:
        click.echo(f"A picture or trace is named and did not come along: {name}")
