"""``breakwright rig``: is every part of the rig stronger than the piece?"""

from pathlib import Path

import click

from breakwright.bootstrap import check_rig, read_plan
from breakwright.cli.deliver import deliver_sheet
from breakwright.cli.study_options import AS_JSON, REPORT, SEED, STUDY
from breakwright.version import VERSION

__all__ = ["command"]


@click.command("rig")
@STUDY
@SEED
@AS_JSON
@REPORT
def command(*, study: Path, seed: int | None, as_json: bool, report: Path | None) -> None:
    """Say which part of the rig gives first, and what would help.

    STUDY is a folder with a study.toml whose [[part]] tables describe the load path.
    """
    from breakwright.report.before_sheets import rig_sheet

    result = check_rig(read_plan(study), seed=seed)
    deliver_sheet(
        rig_sheet(result, version=VERSION),
        report=report,
        json_of=(result, "rig") if as_json else None,
    )
