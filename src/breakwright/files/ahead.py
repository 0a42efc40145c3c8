"""What ``study.toml`` says for the work before the first cut: parts, expectations, wish, layout."""

from collections.abc import Sequence
from dataclasses import dataclass, field

from breakwright.files.findings import Findings
from breakwright.files.foresight import expected_of, layout_of, wish_of
from breakwright.files.part_tables import described_parts
from breakwright.files.study_file import StudyFile
from breakwright.model.foresight import Expected, Layout, Wish
from breakwright.model.part import Part
from breakwright.model.units import ForceUnit

__all__ = ["Ahead", "ahead_of"]


@dataclass(frozen=True, slots=True)
class Ahead:
    """Nothing of it is needed for an answer."""

    parts: tuple[Part, ...] = ()
    expected: Expected = field(default_factory=Expected)
    wish: Wish = field(default_factory=Wish)
    layout: Layout = field(default_factory=Layout)


def ahead_of(study: StudyFile, unit: ForceUnit, groups: Sequence[str], findings: Findings) -> Ahead:
    """Return what can be understood of it; loads are in the study's ``unit``."""
    scales = [table.name.strip() for table in study.table.instrument]
    return Ahead(
        described_parts(study, unit, groups, findings),
        expected_of(study, unit, groups, findings),
        wish_of(study, findings),
        layout_of(study, unit, scales, findings),
    )
