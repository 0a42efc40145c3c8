"""The examples of docs/sheet.md are read as it says, and every message code is explained."""

import ast
import importlib.util
import math
import re
from dataclasses import fields
from pathlib import Path

import pytest
from reading import read_text, spans

from breakwright.files.part_tables import OWN_KEYS
from breakwright.files.planning import read_plan_source
from breakwright.files.source import ReadOptions
from breakwright.files.study_shape import (
    ExpectedTable,
    InstrumentTable,
    LayoutTable,
    StudyTable,
    WeightTable,
    WishTable,
)
from breakwright.model.study import RECORD_KEYS
from breakwright.model.trial import Sharing
from breakwright.usecases.part_checks import part_check_problems

ROOT = Path(__file__).parents[3]
SHEET = (ROOT / "docs" / "sheet.md").read_text(encoding="utf-8")
AHEAD = ("part", "expected", "wish", "layout")  # shown in docs/study.md
FILES = sorted((ROOT / "src" / "breakwright" / "files").rglob("*.py"))


def examples() -> list[tuple[str | None, str]]:
    """Return each CSV example with the study.toml that stands before it, if one does."""
    found: list[tuple[str | None, str]] = []
    study: str | None = None
    for kind, text in re.findall(r"```(csv|toml)\n(.*?)```", SHEET, flags=re.DOTALL):
        if kind == "csv":
            found.append((study, text))
        study = text if kind == "toml" else None
    return found


@pytest.mark.parametrize(("study", "text"), examples())
def test_the_examples_are_read(study: str | None, text: str, tmp_path: Path) -> None:
    sharing = Sharing.SAME_MOMENT if "load_1" in text and study is None else None

    source = read_text(tmp_path, text, ReadOptions(sharing=sharing), study=study)

    assert len(source.study.trials) == text.strip().count("\n")
    assert source.study.groups == ("plain", "wedged")


def test_there_are_examples_of_both_kinds() -> None:
    assert len(examples()) >= 5
    assert sum(study is not None for study, _ in examples()) >= 2


def test_the_long_study_shows_every_key() -> None:
    text = next(study for study, _ in examples() if study is not None)
    for shape in (StudyTable, InstrumentTable, WeightTable):
        for key in (field.name for field in fields(shape) if field.name not in AHEAD):
            assert re.search(rf"^(\[+(instrument\.)?{key}\]+|{key} = )", text, flags=re.MULTILINE)
    for key in RECORD_KEYS:
        assert re.search(rf"^{key} = ", text, flags=re.MULTILINE)


def test_the_table_of_loads_says_what_is_read(tmp_path: Path) -> None:
    rows = re.findall(r"^\| `([^`]+)` \|[^|]+\| ([\d.]+) \| ?([\d.]*) ?\|$", SHEET, re.MULTILINE)
    assert len(rows) == 6

    text = "group,load_N\n" + "".join(f"plain,{cell}\n" for cell, _, _ in rows) + "wedged,5\n"
    read = spans(read_text(tmp_path, text).study.trials)

    for (_, low, high), span in zip(rows, read[:-1], strict=True):
        assert span == (float(low), float(high) if high else math.inf)


EMITTERS = (
    *("problem", "remark", "warning", "Wrong", "Problem", "_check_spelling"),
    *("refuse", "_refuse"),
)


def emitted() -> set[str]:
    """Return every code that the files room can give to a problem or a notice."""
    codes: set[str] = set()
    for file in FILES:
        for node in ast.walk(ast.parse(file.read_text(encoding="utf-8"))):
            if not isinstance(node, ast.Call):
                continue
            name = getattr(node.func, "attr", getattr(node.func, "id", ""))
            if name not in EMITTERS:
                continue
            candidates = [*node.args, *(k.value for k in node.keywords if k.arg == "code")]
            codes.update(
                arg.value
                for arg in candidates
                if isinstance(arg, ast.Constant)
                and isinstance(arg.value, str)
                and re.fullmatch(r"[a-z0-9]+(-[a-z0-9]+)+", arg.value)
            )
    return codes


def test_every_code_has_a_paragraph() -> None:
    pages = sorted((ROOT / "docs").glob("messages*.md"))
    explained: set[str] = set()
    for page in pages:
        explained |= set(
            re.findall(r"^#+ `?([a-z0-9-]+)`?", page.read_text(encoding="utf-8"), re.MULTILINE)
        )

    assert len(emitted()) > 60
    assert emitted() - explained == set()


STUDY = (ROOT / "docs" / "study.md").read_text(encoding="utf-8")


def whole_study() -> str:
    (found,) = re.findall(r"```toml\n(.*?)```", STUDY, flags=re.DOTALL)
    return str(found)


def test_the_study_ahead_is_read_and_possible(tmp_path: Path) -> None:
    (tmp_path / "study.toml").write_text(whole_study(), encoding="utf-8")

    source = read_plan_source(tmp_path)

    assert [part.name for part in source.study.parts] == ["screw", "beam", "chains"]
    assert part_check_problems(source.study, file="study.toml") == ()


def test_the_study_ahead_shows_every_key() -> None:
    text = whole_study()
    for key in AHEAD:
        assert re.search(rf"^\[+{key}\]+", text, flags=re.MULTILINE)
    for shape in (ExpectedTable, WishTable, LayoutTable):
        for key in (field.name for field in fields(shape)):
            assert re.search(rf"^{key} = ", text, flags=re.MULTILINE), key
    for key in OWN_KEYS:
        assert re.search(rf"^({key} = |\[part\.{key}\.)", text, flags=re.MULTILINE), key
        assert f"`{key}`" in STUDY or f"`[part.{key}." in STUDY


def test_the_kinds_are_those_of_the_catalogue() -> None:
    """Make them anew with: python scripts/kinds_table.py"""
    spec = importlib.util.spec_from_file_location(
        "kinds_table", ROOT / "scripts" / "kinds_table.py"
    )
    assert spec is not None
    assert spec.loader is not None
    made = importlib.util.module_from_spec(spec)
    spec.loader.exec_module(made)

    assert made.page(STUDY) == STUDY
