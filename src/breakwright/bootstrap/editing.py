"""``study.toml`` made and changed by forms: texts in, texts out. Keeps comments and order."""

from typing import TYPE_CHECKING

from breakwright.files.edit_study import (
    moved_item,
    retold,
    study_table,
    with_item,
    with_keys,
    without_item,
)
from breakwright.files.new_study import NewScale, NewStudy, free_handle, new_study_toml, title_of
from breakwright.files.part_units import house_key

if TYPE_CHECKING:
    from breakwright.files.study_file import StudyFile

__all__ = [
    "NewScale",
    "NewStudy",
    "free_handle",
    "house_key",
    "moved_item",
    "new_study_toml",
    "retold",
    "study_file",
    "study_table",
    "title_of",
    "with_item",
    "with_keys",
    "without_item",
]


def study_file(toml: str) -> "StudyFile | None":
    """Return what a ``study.toml`` says, as far as it can be read; None where it is no TOML."""
    from breakwright.files.findings import Findings
    from breakwright.files.study_file import read_study_text

    return read_study_text(toml, Findings("study.toml"))
