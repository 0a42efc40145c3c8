"""``export``, ``import`` and ``backup`` as people type them."""

import json
import re
import shlex
from pathlib import Path
from typing import Any

from breakwright.cli.main import BAD_INPUT

DEMO = Path(__file__).parents[3] / "src" / "breakwright" / "demo"


def without_places(value: Any) -> Any:
    """An answer as JSON, without the names of files and the numbers of lines."""
    if isinstance(value, dict):
        return {k: without_places(v) for k, v in value.items() if k not in ("file", "line")}
    if isinstance(value, list):
        return [without_places(v) for v in value]
    return value


def test_the_demo_goes_through_the_store_and_gives_the_same_answer(breakwright, tmp_path) -> None:
    taken = breakwright("import", DEMO, "--store", "bench.sqlite")
    again = breakwright("export", "Coat", "out", "--store", "bench.sqlite")
    zipped = breakwright("export", "coat-rail-pegs-in-ash", "out.zip", "--store", "bench.sqlite")
    repeat = breakwright("import", "out.zip", "--store", "bench.sqlite")

    assert (taken.returncode, again.returncode, zipped.returncode) == (0, 0, 0)
    assert "25 pieces, 25 read" in taken.stdout
    assert "nothing was new" in repeat.stdout
    asked = ("--json", "--quiet", "--resamples", "200")
    one = breakwright("answer", DEMO, *asked)
    other = breakwright("answer", "out", *asked)
    assert one.returncode == 0
    assert without_places(json.loads(other.stdout)) == without_places(json.loads(one.stdout))


def test_what_is_not_there_is_said(breakwright, tmp_path) -> None:
    breakwright("import", DEMO, "--store", "bench.sqlite")

    for arguments in (
        ("export", "dowels", "out", "--store", "bench.sqlite"),
        ("export", "Coat", "out", "--store", "none.sqlite"),
        ("export", "Coat", "no/folder/out", "--store", "bench.sqlite"),
        ("import", "nothing.zip", "--store", "bench.sqlite"),
        ("backup", "none/copy.sqlite", "--store", "bench.sqlite"),
        ("backup", "copy.sqlite", "--store", "none.sqlite"),
        ("backup", "copy.sqlite", "--store", "mysql://x"),
        ("import", tmp_path, "--store", "bench.sqlite"),
    ):
        done = breakwright(*arguments)
        assert done.returncode == BAD_INPUT, arguments
        assert done.stderr
        assert "Traceback" not in done.stderr
    assert (
        "coat-rail-pegs-in-ash" in breakwright("export", "x", "o", "--store", "bench.sqlite").stderr
    )
    assert not (tmp_path / "out").exists()
    assert not (tmp_path / "none.sqlite").exists()


def test_a_sheet_its_backup_and_a_zip_that_is_there(breakwright, tmp_path) -> None:
    (tmp_path / "pegs.csv").write_text("group,load\nplain,41\nwedged,45\nplain,39\n", "utf-8")

    asked = breakwright("import", "pegs.csv", "--store", "bench.sqlite")
    taken = breakwright("import", "pegs.csv", "--unit", "kgf", "--store", "bench.sqlite")
    copied = breakwright("backup", "copy.sqlite", "--store", "bench.sqlite")
    out = breakwright("export", "pegs", "pegs.zip", "--store", "copy.sqlite")
    refused = breakwright("export", "pegs", "pegs.zip", "--store", "copy.sqlite")
    over = breakwright("export", "pegs", "pegs.zip", "--store", "copy.sqlite", "--replace")

    assert (asked.returncode, taken.returncode) == (BAD_INPUT, 0)
    assert "unit-missing" in asked.stderr
    assert "3 pieces, 3 read" in taken.stdout
    assert "numbered" in taken.stdout
    assert copied.returncode == out.returncode == over.returncode == 0
    assert refused.returncode == BAD_INPUT


def test_the_commands_of_the_page_run(breakwright, tmp_path, monkeypatch) -> None:
    monkeypatch.setenv("BREAKWRIGHT_DATA", str(tmp_path / "data"))
    sheet = "specimen,group,load_kgf\nA1,plain,41\nA2,wedged,45\nA3,plain,39\n"
    for name in ("pegs.csv", "my-sheet.csv"):
        (tmp_path / name).write_text(sheet, "utf-8")
    assert breakwright("import", "pegs.csv").returncode == 0
    page = (DEMO.parents[2] / "docs" / "folder.md").read_text("utf-8")

    commands = [
        shlex.split(line, comments=True)[1:]
        for block in re.findall(r"```sh\n(.*?)```", page, flags=re.DOTALL)
        for line in block.splitlines()
    ]

    assert len(commands) == 6
    for command in commands:
        done = breakwright(*command)
        assert done.returncode == 0, (command, done.stderr)
