"""The demo study is what its script invents, and shows what happens at a bench."""

import importlib.resources
import subprocess
import sys
from pathlib import Path

import pytest

from breakwright.bootstrap import ReadOptions, copy_demo, read, understand
from breakwright.model.errors import ImpossibleValue
from breakwright.model.outcome import Cause
from breakwright.model.study import RECORD_KEYS

ROOT = Path(__file__).parents[2]


def test_the_sheet_is_what_the_script_invents() -> None:
    script = ROOT / "scripts" / "invent_demo.py"
    made = subprocess.run([sys.executable, script], capture_output=True, check=True).stdout
    kept = importlib.resources.files("breakwright.demo").joinpath("trials.csv").read_bytes()
    assert made == kept


def test_it_is_marked_as_invented_and_has_one_of_everything(tmp_path: Path) -> None:
    copy_demo(tmp_path)
    source = read(tmp_path, ReadOptions())
    assert source.study.invented
    pieces, _ = understand(source)
    causes = [piece.cause for piece in pieces if piece.void is None]
    for cause in (Cause.MEASURED, Cause.OVER_RANGE, Cause.SCREEN_LOST, Cause.WRONG_WAY):
        assert cause in causes
    assert sum(piece.void is not None for piece in pieces) == 1
    for group in source.study.groups:
        assert sum(p.group == group and p.void is None for p in pieces) == 12
    assert 1 <= len(RECORD_KEYS.keys() - source.study.record.keys()) <= 3


def test_a_demo_folder_with_something_else_in_it_stays(tmp_path: Path) -> None:
    (tmp_path / "study.toml").write_text("title = 'mine'\n")
    with pytest.raises(ImpossibleValue, match="nothing was written"):
        copy_demo(tmp_path)
    assert [path.name for path in tmp_path.iterdir()] == ["study.toml"]
