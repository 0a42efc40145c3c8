"""``breakwright plan``: everything before the first cut, and the papers for the bench."""

from pathlib import Path

import click

from breakwright.bootstrap import (
    before,
    offers_of,
    plan_files,
    read_plan,
    refuse_changed,
    write_plan_files,
)
from breakwright.cli.deliver import deliver_sheet, say_written
from breakwright.cli.progress import shown_progress
from breakwright.cli.study_options import AS_JSON, OFFER, REPORT, SEED, STUDY
from breakwright.version import VERSION

__all__ = ["command"]


@click.command("plan")
@STUDY
@click.option(
    "--out",
    type=click.Path(path_type=Path, file_okay=False),
    metavar="DIR",
    help="Where specimens.csv and bench-sheet.html go; beside the study without it.",
)
@click.option("--replace", is_flag=True, help="Write over a plan that is there and differs.")
@OFFER
@SEED
@AS_JSON
@REPORT
def command(
    *,
    study: Path,
    out: Path | None,
    replace: bool,
    offers: tuple[float, ...],
    seed: int | None,
    as_json: bool,
    report: Path | None,
) -> None:
    """Foretell, check rig and scales, count pieces, draw their order.

    STUDY is a folder with a study.toml. Beside it (or in --out DIR) go specimens.csv, a line for
    each piece in order, and bench-sheet.html, to print.
    """
    from breakwright.report.before_sheets import before_sheet

    source = read_plan(study)
    with shown_progress(wanted=True) as tell:
        result = before(source, seed=seed, offers=offers_of(source, offers), progress=tell)
    folder = out or (study if study.is_dir() else study.parent)
    files = plan_files(source, result, folder)
    if not replace:
        refuse_changed(files)
    written = write_plan_files(files)
    deliver_sheet(
        before_sheet(result, version=VERSION),
        report=report,
        json_of=(result, "before") if as_json else None,
    )
    say_written(written)
