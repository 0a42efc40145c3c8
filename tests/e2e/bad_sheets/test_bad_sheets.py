"""Every bad sheet is refused with its reason and its place; nothing is a traceback."""

from pathlib import Path

import pytest
from bad_sheet import Bad
from cases_cells import NUMBERS, UNITS
from cases_files import FILES
from cases_folders import FOLDERS
from cases_rows import ROWS

from breakwright.files.source import read_source
from breakwright.model.errors import InputRefused, Problem

BAD = [*FILES, *UNITS, *NUMBERS, *ROWS, *FOLDERS]


def refused(bad: Bad, folder: Path) -> tuple[Problem, ...]:
    for name, data in bad.files.items():
        (folder / name).write_bytes(data)
    with pytest.raises(InputRefused) as caught:
        read_source(folder / bad.path, bad.options)
    return caught.value.problems


@pytest.mark.parametrize("bad", BAD, ids=lambda bad: bad.name)
def test_it_is_refused_with_its_reason_and_place(bad: Bad, tmp_path: Path) -> None:
    problems = refused(bad, tmp_path)

    found = next((p for p in problems if p.code == bad.code), None)
    assert found is not None, problems
    assert (found.line, found.column) == (bad.line, bad.column)
    words = " | ".join(filter(None, (found.message, found.read, found.allowed, found.do)))
    for said in bad.says:
        assert said.lower() in words.lower()


@pytest.mark.parametrize("bad", BAD, ids=lambda bad: bad.name)
def test_one_cause_is_not_reported_under_other_names(bad: Bad, tmp_path: Path) -> None:
    codes = {problem.code for problem in refused(bad, tmp_path)}

    assert codes == {bad.code} | bad.others


@pytest.mark.parametrize("bad", BAD, ids=lambda bad: bad.name)
def test_every_problem_names_its_file_and_what_to_do(bad: Bad, tmp_path: Path) -> None:
    for problem in refused(bad, tmp_path):
        assert problem.file.startswith(str(tmp_path))
        assert problem.do
        assert len(problem.read or "") <= 200


def test_there_are_many_of_them_and_each_has_a_name_of_its_own() -> None:
    assert len(BAD) >= 50
    assert len({bad.name for bad in BAD}) == len(BAD)
