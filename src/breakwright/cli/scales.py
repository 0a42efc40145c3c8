"""``breakwright scales``: which scale runs out, and which one would do."""

from pathlib import Path

import click

from breakwright.bootstrap import check_rig, check_scales, offers_of, read_plan
from breakwright.cli.deliver import deliver_sheet
from breakwright.cli.study_options import AS_JSON, OFFER, REPORT, SEED, STUDY
from breakwright.version import VERSION

__all__ = ["command"]


@click.command("scales")
@STUDY
@OFFER
@SEED
@AS_JSON
@REPORT
def command(
    *,
    study: Path,
    offers: tuple[float, ...],
    seed: int | None,
    as_json: bool,
    report: Path | None,
) -> None:
    """Say how often the scales run out, what to buy, and which piece would fit them.

    STUDY is a folder with a study.toml; its [[instrument]] tables are the scales at hand.
    """
    from breakwright.report.before_sheets import scales_sheet

    source = read_plan(study)
    rig = check_rig(source, seed=seed)
    result = check_scales(source, rig, seed=seed, offers=offers_of(source, offers))
    deliver_sheet(
        scales_sheet(result, rig, version=VERSION),
        report=report,
        json_of=(result, "scales") if as_json else None,
    )
