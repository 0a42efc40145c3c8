"""Read a sheet or a study folder: everything in it, or every reason why it cannot be taken."""

from dataclasses import dataclass
from pathlib import Path
from types import MappingProxyType

from breakwright.files.ahead import Ahead, ahead_of
from breakwright.files.choices import Choices
from breakwright.files.columns import Role
from breakwright.files.findings import Findings
from breakwright.files.instruments import described_instruments, instruments_of_columns
from breakwright.files.load_units import load_units
from breakwright.files.locate import Place, locate, refuse_missing_sheet
from breakwright.files.numerals import Decimal
from breakwright.files.options import Negative, ReadOptions
from breakwright.files.sheet import OpenSheet, open_sheet, open_sheet_text, read_rows
from breakwright.files.study_file import StudyFile, read_study_file, read_study_text
from breakwright.files.whole import check_counts, settle_groups
from breakwright.model.errors import ImpossibleValue
from breakwright.model.notice import Notice
from breakwright.model.study import Study

__all__ = ["Decimal", "Negative", "ReadOptions", "Source", "read_source", "read_source_texts"]


@dataclass(frozen=True, slots=True)
class Source:
    """What was read, and what was taken on the way that people should know of.

    ``study_file`` is the ``study.toml`` that was read, for messages; None for a sheet alone.
    """

    study: Study
    notices: tuple[Notice, ...]
    study_file: str | None = None


def read_source(path: Path, options: ReadOptions) -> Source:
    """Return the study at ``path``: a sheet, a study folder, or its ``study.toml``.

    Raises ``InputRefused`` with every problem found. Loads come back in N.
    """
    findings = Findings(str(path))
    place = locate(path, findings)
    findings.refuse_if_any()
    study: StudyFile | None = None
    sheet_path = place.sheet
    if place.study is not None:
        findings.file = str(place.study)
        study = read_study_file(place.study, findings)
        if study is not None:
            sheet_path = place.study.parent / study.table.sheet
    sheet = _opened(sheet_path, place, findings)
    if place.study is not None and (study is None or study.lacks_unit):
        # Without the study's unit each load would only bring up the same question again.
        findings.refuse_if_any()
    if sheet is None:
        findings.refuse_if_any()
        raise ImpossibleValue(f"{sheet_path}: the sheet was not read, and no problem says why")
    return _read(sheet, study, options, findings)


def read_source_texts(
    study: str | None,
    sheet: str,
    options: ReadOptions,
    *,
    study_file: str = "study.toml",
    sheet_file: str = "trials.csv",
) -> Source:
    """Return the study of two texts, as ``read_source`` does of two files with these names.

    ``study`` is None for a sheet alone; a sheet that it names is not looked for.
    """
    findings = Findings(study_file if study is not None else sheet_file)
    described = None if study is None else read_study_text(study, findings)
    findings.file = sheet_file
    opened = open_sheet_text(sheet, findings)
    if study is not None and (described is None or described.lacks_unit):
        findings.refuse_if_any()
    if opened is None:
        findings.refuse_if_any()
        raise ImpossibleValue(f"{sheet_file}: the sheet was not read, and no problem says why")
    return _read(opened, described, options, findings)


def _opened(path: Path, place: Place, findings: Findings) -> OpenSheet | None:
    if place.study is not None and not path.exists():
        refuse_missing_sheet(place.study, path, findings)
        return None
    findings.file = str(path)
    return open_sheet(path, findings)


def _read(
    sheet: OpenSheet, study: StudyFile | None, options: ReadOptions, findings: Findings
) -> Source:
    choices = Choices(options, study, findings)
    line = sheet.table.header_line
    units = load_units(sheet.loads, sheet.sums, stated=choices.unit(), line=line, findings=findings)
    instruments = instruments_of_columns(
        described_instruments(study, units.shown, findings) if study else (),
        len(study.table.instrument) if study else 0,
        sheet.loads,
        options=options,
        unit=units.shown,
        has_scale=Role.SCALE in sheet.of,
        line=line,
        findings=findings,
    )
    sharing = choices.sharing()
    if len({column.number for column in sheet.loads} - {None}) > 1 and sharing is None:
        _ask_sharing(sheet, findings)
    rows = read_rows(sheet, options, units=units, instruments=instruments, findings=findings)
    groups, reference = settle_groups(
        rows,
        sheet.of[Role.GROUP],
        listed_groups=choices.groups(),
        reference=choices.reference(),
        complete=sheet.table.complete,
        findings=findings,
    )
    counts = choices.counts()
    check_counts(rows, sheet.of, counts, findings)
    worth = choices.worth()
    ahead = ahead_of(study, units.shown, groups, findings) if study else Ahead()
    findings.refuse_if_any()
    return Source(
        Study(
            trials=rows.trials(),
            groups=groups,
            reference=reference,
            title=study.table.title if study else "",
            question=study.table.question if study else "",
            counts=counts.value if counts else None,
            worth=worth,
            unit=units.shown,
            instruments=instruments,
            sharing=sharing,
            invented=study.table.invented if study else False,
            record=MappingProxyType(dict(study.table.record) if study else {}),
            parts=ahead.parts,
            expected=ahead.expected,
            wish=ahead.wish,
            layout=ahead.layout,
        ),
        tuple(findings.notices),
        study.file if study else None,
    )


def _ask_sharing(sheet: OpenSheet, findings: Findings) -> None:
    first = sheet.loads[0]
    findings.problem(
        "sharing-unknown",
        "were the loads of one row shown at the same moment, or are they each display's own peak?",
        line=sheet.table.header_line,
        column=first.place,
        name=first.written,
        read=", ".join(column.written for column in sheet.loads),
        allowed="same-moment (they add up) or separate-peaks (their sum is only an upper limit)",
        do="Give --sharing same-moment or --sharing separate-peaks, or write 'sharing' into "
        "study.toml.",
    )
