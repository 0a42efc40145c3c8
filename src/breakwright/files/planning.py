"""Read a study before anything is broken: ``study.toml`` alone, whether there is a sheet or not."""

from pathlib import Path
from types import MappingProxyType

from breakwright.files.ahead import ahead_of
from breakwright.files.findings import Findings
from breakwright.files.instruments import described_instruments
from breakwright.files.locate import locate_study
from breakwright.files.nearest import listed, near_words
from breakwright.files.source import Source
from breakwright.files.study_file import StudyFile, read_study_file, read_study_text
from breakwright.files.unit_words import UNITS_ALLOWED
from breakwright.model.errors import ImpossibleValue
from breakwright.model.study import Study
from breakwright.model.units import ForceUnit

__all__ = ["plan_source_of", "read_plan_source"]

_ONLY_GROUP = "pieces"


def read_plan_source(path: Path) -> Source:
    """Return the study at ``path``, a folder or its ``study.toml``, with no trials.

    Readings that a sheet beside it may hold are not looked at: a plan must not be swayed by
    them. Raises ``InputRefused`` with every problem found. Loads come back in N.
    """
    findings = Findings(str(path))
    place = locate_study(path, findings)
    findings.refuse_if_any()
    findings.file = str(place)
    return _plan_source(read_study_file(place, findings), findings)


def plan_source_of(text: str, *, file: str) -> Source:
    """Return the study that ``text`` describes, as ``read_plan_source`` does; ``file`` names it in
    messages."""
    findings = Findings(file)
    return _plan_source(read_study_text(text, findings), findings)


def _plan_source(file: StudyFile | None, findings: Findings) -> Source:
    if file is None or file.lacks_unit:
        findings.refuse_if_any()
    if file is None:
        raise ImpossibleValue(f"{findings.file}: the study was not read, and no problem says why")
    unit = _unit(file, findings)
    groups = tuple(group.strip() for group in file.table.groups) or (_ONLY_GROUP,)
    ahead = ahead_of(file, unit, groups, findings)
    instruments = described_instruments(file, unit, findings)
    reference = _reference(file, groups, findings)
    findings.refuse_if_any()
    return Source(
        Study(
            trials=(),
            groups=groups,
            reference=reference,
            title=file.table.title,
            question=file.table.question,
            counts=file.table.counts,
            worth=file.table.worth,
            unit=unit,
            instruments=instruments,
            sharing=file.sharing,
            invented=file.table.invented,
            record=MappingProxyType(dict(file.table.record)),
            parts=ahead.parts,
            expected=ahead.expected,
            wish=ahead.wish,
            layout=ahead.layout,
        ),
        tuple(findings.notices),
        file.file,
    )


def _unit(file: StudyFile, findings: Findings) -> ForceUnit:
    if file.unit is not None:
        return file.unit
    table = file.table
    loads = (
        *(f"instrument[{i + 1}]" for i, t in enumerate(table.instrument) if t.unit is None),
        *(f"part[{i + 1}].own_tests" for i, part in enumerate(table.part) if part.get("own_tests")),
        *("expected.median" for _ in (1,) if table.expected.median is not None),
        *("expected.pilots" for _ in (1,) if table.expected.pilots),
        *("layout.rate" for _ in (1,) if table.layout.rate is not None),
    )
    if loads:
        findings.problem(
            "unit-missing",
            "in which unit are the loads of this study? Nothing says it",
            name="unit",
            read=listed(loads),
            allowed=UNITS_ALLOWED,
            do='Write unit = "N", or another of these, at the top of the file.',
        )
    return ForceUnit.N


def _reference(file: StudyFile, groups: tuple[str, ...], findings: Findings) -> str:
    stated = (file.table.reference or "").strip()
    if not stated:
        if len(groups) > 1:
            findings.remark("reference-from-order", {"group": groups[0]}, groups=(groups[0],))
        return groups[0]
    if stated in groups:
        return stated
    near = near_words(stated, groups)
    findings.problem(
        "unknown-reference",
        "the reference is not one of the groups",
        line=file.line("reference"),
        name="reference",
        read=stated,
        allowed=listed(groups) if file.table.groups else "one of the names under 'groups'",
        do=f"Did you mean '{near[0]}'?" if near else "Name one of the groups.",
    )
    return groups[0]
