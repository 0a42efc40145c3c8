"""What the keys of ``study.toml`` may hold, beyond their types."""

from breakwright.files.findings import Findings
from breakwright.files.nearest import look_alike_key, near_words
from breakwright.files.study_shape import StudyTable
from breakwright.files.toml_lines import key_line
from breakwright.files.unit_words import read_unit
from breakwright.model.errors import Problem
from breakwright.model.study import RECORD_KEYS
from breakwright.model.trial import Sharing
from breakwright.model.units import ForceUnit

__all__ = ["check_study", "check_worth"]


def check_study(
    table: StudyTable, text: str, findings: Findings
) -> tuple[ForceUnit | None, Sharing | None]:
    """Note every value that cannot be; return the unit and the sharing as understood."""
    unit = _unit(table, text, findings)
    sharing = _sharing(table, text, findings)
    if table.worth is not None:
        check_worth(table.worth, "worth", key_line(text, ["worth"]), findings)
    _check_groups(table, text, findings)
    _check_sheet(table, text, findings)
    _check_record(table, text, findings)
    return unit, sharing


def check_worth(worth: float, name: str, line: int | None, findings: Findings) -> None:
    """Note a smallest ratio worth knowing that is none; ``name`` is the key or the option."""
    if 1.0 < worth < 100.0:
        return
    findings.problem(
        "bad-worth",
        "the smallest ratio worth knowing is more than 1 and less than 100",
        line=line,
        name=name,
        read=f"{worth:g}",
        allowed="a ratio such as 1.2: 'a fifth stronger is worth knowing'",
        do="For 20 % write 1.2; for 'four fifths as strong' write 1.25, its inverse.",
    )


def _unit(table: StudyTable, text: str, findings: Findings) -> ForceUnit | None:
    if table.unit is None:
        return None
    read = read_unit(table.unit, file=findings.file)
    if not isinstance(read, Problem):
        return read
    findings.problem(
        read.code,
        read.message,
        line=key_line(text, ["unit"]),
        name="unit",
        read=read.read,
        allowed=read.allowed,
        do=read.do,
    )
    return None


def _sharing(table: StudyTable, text: str, findings: Findings) -> Sharing | None:
    if table.sharing is None:
        return None
    if table.sharing in list(Sharing):
        return Sharing(table.sharing)
    near = near_words(table.sharing, list(Sharing))
    findings.problem(
        "bad-value",
        "this is not a way in which displays share a load",
        line=key_line(text, ["sharing"]),
        name="sharing",
        read=table.sharing,
        allowed=" or ".join(Sharing),
        do=f"Did you mean {near[0]}?" if near else "Choose one of these.",
    )
    return None


def _check_groups(table: StudyTable, text: str, findings: Findings) -> None:
    seen: set[str] = set()
    for group in table.groups:
        name = group.strip()
        if not look_alike_key(name) or name in seen:
            findings.problem(
                "bad-value",
                "a group is named twice here" if name else "a group has an empty name",
                line=key_line(text, ["groups"]),
                name="groups",
                read=group,
                allowed="each group once, as it is written in the sheet",
                do="Take the entry out or correct it.",
            )
        seen.add(name)


def _check_sheet(table: StudyTable, text: str, findings: Findings) -> None:
    # A study is one folder: what it needs travels with it, and nothing outside is read.
    name = table.sheet
    if name.strip() and name not in (".", "..") and not set(name) & set("/\\:\x00"):
        return
    findings.problem(
        "bad-value",
        "the sheet lies in the study's own folder",
        line=key_line(text, ["sheet"]),
        name="sheet",
        read=name,
        allowed="the name of a file beside study.toml, such as trials.csv",
        do="Move or copy the sheet into the folder and write its name only.",
    )


def _check_record(table: StudyTable, text: str, findings: Findings) -> None:
    for key in table.record:
        if key in RECORD_KEYS:
            continue
        near = near_words(key, RECORD_KEYS)
        findings.problem(
            "unknown-key",
            f"'record.{key}' is not a key that is known here",
            line=key_line(text, ["record", key]),
            name=f"record.{key}",
            read=key,
            allowed=", ".join(RECORD_KEYS),
            do=f"Did you mean '{near[0]}'?" if near else "Put it under one of these.",
        )
