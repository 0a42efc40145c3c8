"""Reading a sheet given as text, for the tests of this folder."""

from pathlib import Path

import pytest

from breakwright.files.source import ReadOptions, Source, read_source
from breakwright.model.errors import InputRefused, Problem
from breakwright.model.trial import Trial

NOTHING = ReadOptions()


def read_text(
    folder: Path, text: str | bytes, options: ReadOptions = NOTHING, *, study: str | None = None
) -> Source:
    """Read ``text`` as a sheet, with ``study`` as the study.toml beside it."""
    data = text.encode() if isinstance(text, str) else text
    if study is None:
        (folder / "sheet.csv").write_bytes(data)
        return read_source(folder / "sheet.csv", options)
    (folder / "trials.csv").write_bytes(data)
    (folder / "study.toml").write_text(study, encoding="utf-8")
    return read_source(folder, options)


def problems_of(
    folder: Path, text: str | bytes, options: ReadOptions = NOTHING, *, study: str | None = None
) -> tuple[Problem, ...]:
    with pytest.raises(InputRefused) as caught:
        read_text(folder, text, options, study=study)
    return caught.value.problems


def spans(trials: tuple[Trial, ...]) -> list[tuple[float, float]]:
    """Return lower and upper of each trial's first reading, in N."""
    return [(t.readings[0].shown.lower, t.readings[0].shown.upper) for t in trials]


def codes(source: Source) -> list[str]:
    return [notice.code for notice in source.notices]
