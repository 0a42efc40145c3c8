"""``breakwright predict``: at what load each part breaks, and how."""

from pathlib import Path

import click

from breakwright.bootstrap import predict, read_plan
from breakwright.cli.deliver import deliver_sheet
from breakwright.cli.study_options import AS_JSON, REPORT, STUDY
from breakwright.version import VERSION

__all__ = ["command"]


@click.command("predict")
@STUDY
@AS_JSON
@REPORT
def command(*, study: Path, as_json: bool, report: Path | None) -> None:
    """Foretell at what load the pieces break, and how, before any wood is cut.

    STUDY is a folder with a study.toml, or such a file. A sheet of readings is not needed.
    """
    from breakwright.report.before_sheets import predict_sheet

    result = predict(read_plan(study))
    deliver_sheet(
        predict_sheet(result, version=VERSION),
        report=report,
        json_of=(result, "predict") if as_json else None,
    )
