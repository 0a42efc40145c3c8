"""The examples of docs/python.md run, each page from top to bottom in an empty folder."""

import doctest
from pathlib import Path

import pytest

PAGE = Path(__file__).parents[2] / "docs" / "python.md"


def test_the_examples_of_the_page(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.chdir(tmp_path)
    told = doctest.testfile(str(PAGE), module_relative=False, encoding="utf-8")
    assert told.attempted > 10
    assert told.failed == 0
