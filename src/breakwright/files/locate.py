"""What a path leads to: a sheet, a study folder, or the study.toml of one."""

from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path
from typing import TypeVar

from breakwright.files.findings import Findings
from breakwright.files.nearest import listed, near_words

__all__ = ["Place", "locate", "locate_study", "refuse_missing_sheet"]

Found = TypeVar("Found")

_STUDY = "study.toml"
_TRIALS = "trials.csv"


@dataclass(frozen=True, slots=True)
class Place:
    """``study`` is None for a sheet on its own; with it, the study may name another sheet."""

    sheet: Path
    study: Path | None


def locate(path: Path, findings: Findings) -> Place:
    """Return where the sheet and the study are; whether they can be read is seen later."""
    return _followed(path, _located, findings) or Place(path, None)


def locate_study(path: Path, findings: Findings) -> Path:
    """Return where the ``study.toml`` is that ``path`` leads to, a folder or the file itself."""
    return _followed(path, _located_study, findings) or path


def _located_study(path: Path, findings: Findings) -> Path:
    if path.is_dir():
        study = path / _STUDY
        if not study.exists():
            findings.problem(
                "no-study-in-folder",
                f"this folder holds no {_STUDY}, which describes the rig, the scales and the wish",
                read=f"TOML files here: {listed(sorted(p.name for p in path.glob('*.toml')))}",
                allowed=f"a folder with {_STUDY}; a sheet of readings is not needed",
                do="'breakwright demo' writes a study to start from.",
            )
        return study
    if path.exists() and path.suffix.lower() != ".toml":
        findings.problem(
            "not-a-study",
            f"what is asked here stands in a {_STUDY}, and this is another kind of file",
            read=path.name,
            allowed=f"a folder with {_STUDY}, or a file in the form of one (.toml)",
            do="Give the path of the study's folder.",
        )
    return path


def _followed(
    path: Path, follow: Callable[[Path, Findings], Found], findings: Findings
) -> Found | None:
    try:
        return follow(path, findings)
    except PermissionError:
        findings.problem(
            "no-permission",
            "you are not allowed to look into this folder",
            do="Ask its owner, or change its permissions, then try again.",
        )
    except (OSError, ValueError) as error:
        findings.problem(
            "cannot-read",
            f"this path could not be followed: {getattr(error, 'strerror', None) or error}",
            do="Check the path, then try again.",
        )
    return None


def _located(path: Path, findings: Findings) -> Place:
    if path.is_dir():
        return _in_folder(path, findings)
    if path.name == _STUDY:
        return Place(path.parent / _TRIALS, path)
    if path.suffix.lower() == ".toml" and path.exists():
        findings.problem(
            "not-a-sheet",
            f"a study is described in a file called {_STUDY}; this one has another name",
            read=path.name,
            allowed=f"a CSV sheet, or a folder with {_STUDY} and {_TRIALS}",
            do=f"Rename it to {_STUDY} and put the sheet beside it.",
        )
    elif (path.parent / _STUDY).is_file() and path.is_file():
        findings.remark("study-not-used", {"study": str(path.parent / _STUDY)})
    return Place(path, None)


def _in_folder(folder: Path, findings: Findings) -> Place:
    study = folder / _STUDY
    if study.exists():
        return Place(folder / _TRIALS, study)
    if not (folder / _TRIALS).exists():
        sheets = _sheets(folder)
        findings.problem(
            "no-sheet-in-folder",
            f"this folder holds neither {_STUDY} nor {_TRIALS}",
            read=f"CSV files here: {listed(sheets)}",
            allowed=f"a CSV sheet, or a folder with {_STUDY} and {_TRIALS}",
            do=f"Give the path of the sheet itself, such as {folder / sheets[0]}."
            if sheets
            else "Check the path.",
        )
    return Place(folder / _TRIALS, None)


def refuse_missing_sheet(study: Path, sheet: Path, findings: Findings) -> None:
    """Note that the sheet which belongs to ``study`` is not there."""
    sheets = _sheets(study.parent)
    near = near_words(sheet.name, sheets) or tuple(sheets[:1])
    findings.problem(
        "study-without-sheet",
        f"there is {_STUDY}, but not the sheet that belongs to it: {sheet.name}",
        file=str(study),
        name="sheet",
        read=f"CSV files here: {listed(sheets)}",
        allowed=f"{_TRIALS}, or the file that 'sheet' names, in the same folder",
        do=f'Write sheet = "{near[0]}" into {_STUDY}, or name the sheet {_TRIALS}.'
        if near
        else f"Put the sheet into the folder as {_TRIALS}.",
    )


def _sheets(folder: Path) -> list[str]:
    return sorted(p.name for p in folder.iterdir() if p.suffix.lower() in (".csv", ".tsv", ".txt"))
