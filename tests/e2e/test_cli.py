"""The installed command, as a person, a pipe and a script meet it."""

import json
import os
import pty
import re
import select
import subprocess
import sys
from collections.abc import Callable
from pathlib import Path

import jsonschema
import pytest

from breakwright.report.json_form import answer_schema

Command = Callable[..., "subprocess.CompletedProcess[str]"]
COMMAND = str(Path(sys.executable).parent / "breakwright")
CTRL_C = b"\x03"
PATIENCE = 120  # seconds without a word, after which a program on a terminal is given up
QUICK = ("--resamples", "200")

SHEET = """specimen,group,load_N,failure
1,screw,412,pull-out
2,screw,479,pull-out
3,screw,443,pull-out
4,screw,526,pull-out
5,dowel,613,pull-out
6,dowel,558,pull-out
7,dowel,>700,pull-out
8,dowel,589,split
"""
NEGATIVE = "group,load_N\n" + "".join(
    f"{name},-{load}\n" for name, load in [("a", 41), ("a", 47), ("a", 44), ("b", 61), ("b", 55)]
)


@pytest.fixture
def sheet(tmp_path: Path) -> Path:
    path = tmp_path / "sheet.csv"
    path.write_text(SHEET, "utf-8")
    return path


def test_an_answer_in_the_terminal(breakwright: Command, sheet: Path) -> None:
    done = breakwright("answer", sheet, *QUICK, "--reference", "screw", "--counts", "pull-out")
    assert done.returncode == 0
    assert done.stderr == ""
    for word in ("screw", "dowel", "seed 20240229", "Not a rating for lifting people"):
        assert word in done.stdout
    assert "\x1b" not in done.stdout, "no colour where there is no terminal"


def test_quiet_prints_the_verdict_and_nothing_else(breakwright: Command, sheet: Path) -> None:
    done = breakwright("answer", sheet, *QUICK, "--quiet", "--report", "r.html")
    assert done.returncode == 0
    assert done.stderr == ""
    assert "dowel" in done.stdout
    assert "seed" not in done.stdout


def test_json_is_one_document_and_nothing_else(breakwright: Command, sheet: Path) -> None:
    done = breakwright("answer", sheet, *QUICK, "--json", "--reference", "screw")
    assert done.returncode == 0
    assert done.stderr == ""
    answer = json.loads(done.stdout)
    jsonschema.validate(answer, answer_schema())
    assert answer["reference"] == "screw"
    assert len(answer["pieces"]) == 8


def test_the_same_sheet_and_seed_give_the_same_bytes(breakwright: Command, sheet: Path) -> None:
    first, again, other = (
        breakwright("answer", sheet, *QUICK, "--json", "--seed", seed) for seed in "112"
    )
    assert first.stdout == again.stdout
    assert first.stdout != other.stdout


def test_files_are_written_where_they_were_asked_for(
    breakwright: Command, sheet: Path, tmp_path: Path
) -> None:
    done = breakwright("answer", sheet, *QUICK, "--report", "r.html", "--pictures", "p")
    assert done.returncode == 0
    assert "written: r.html" in done.stderr
    page = (tmp_path / "r.html").read_text("utf-8")
    assert page.lstrip().lower().startswith("<!doctype html>")
    pictures = sorted((tmp_path / "p").iterdir())
    assert {path.suffix for path in pictures} == {".svg", ".png"}
    assert {path.name for path in tmp_path.iterdir()} == {"sheet.csv", "r.html", "p"}


def test_check_explains_every_row_and_answers_nothing(breakwright: Command, sheet: Path) -> None:
    done = breakwright("check", sheet, "--counts", "pull-out")
    assert done.returncode == 0
    assert done.stderr == ""
    for line in range(2, 10):
        assert re.search(rf"^ *{line} ", done.stdout, re.MULTILINE)
    assert "at least 700" in done.stdout
    assert "8 pieces read" in done.stdout.replace("\u00a0", " ")
    assert "seed" not in done.stdout


def test_bad_input_is_status_2_with_every_problem(breakwright: Command, tmp_path: Path) -> None:
    (tmp_path / "bad.csv").write_text("group,load_N\na,4l2\na,5\nb,\nb,7\n")
    done = breakwright("answer", "bad.csv", "--report", "r.html", "--json")
    assert done.returncode == 2
    assert done.stdout == ""
    assert "bad.csv:2:2" in done.stderr
    assert "bad.csv:4" in done.stderr
    assert "Traceback" not in done.stderr
    assert not (tmp_path / "r.html").exists()


def test_a_question_nobody_can_answer_is_a_problem(breakwright: Command, tmp_path: Path) -> None:
    (tmp_path / "pulls.csv").write_text(NEGATIVE)
    done = breakwright("check", "pulls.csv", given="y\n")
    assert done.returncode == 2
    assert "negative" in done.stderr
    assert "--negative by-size" in done.stderr
    assert breakwright("check", "pulls.csv", "--negative", "by-size").returncode == 0


# Makes its terminal the one that sends it Ctrl-C, hears Ctrl-C even if it was started to ignore
# it, as in the background, and becomes the command.
AT_A_TERMINAL = """
import fcntl, os, signal, sys, termios
fcntl.ioctl(0, termios.TIOCSCTTY, 0)
signal.signal(signal.SIGINT, signal.SIG_DFL)
os.execv(sys.argv[1], sys.argv[1:])
"""


def at_a_terminal(
    folder: Path, arguments: list[str], *, cue: bytes = b"[y/N]", typed: bytes = b""
) -> tuple[int, str]:
    """Run the command on a terminal of its own and type something when it says ``cue``."""
    terminal, its_end = pty.openpty()
    child = subprocess.Popen(
        [sys.executable, "-c", AT_A_TERMINAL, COMMAND, *arguments],
        cwd=folder,
        stdin=its_end,
        stdout=its_end,
        stderr=its_end,
        start_new_session=True,
    )
    os.close(its_end)
    said = b""
    waiting = bool(typed)
    quiet = 0
    while quiet < PATIENCE:
        ready, _, _ = select.select([terminal], [], [], 1.0)
        # Ctrl-C that comes just before the program begins to wait for a line is heard only
        # after the next key, in any program; a person presses it once more.
        again = typed == CTRL_C and quiet % 10 == 9
        quiet = 0 if ready else quiet + 1
        if ready:
            try:
                more = os.read(terminal, 4096)
            except OSError:
                break
            if not more:
                break
            said += more
        if cue in said and (waiting or again):
            os.write(terminal, typed)
            waiting = False
    else:
        child.kill()
    status = child.wait()
    os.close(terminal)
    return status, said.decode("utf-8", "replace")


@pytest.mark.parametrize(
    ("typed", "status", "said"),
    [
        (b"y\n", 0, "5"),
        (b"n\n", 2, "--negative by-size"),
        (CTRL_C, 130, "interrupted"),
    ],
)
def test_a_person_at_the_terminal_is_asked(
    tmp_path: Path, typed: bytes, status: int, said: str
) -> None:
    (tmp_path / "pulls.csv").write_text(NEGATIVE)
    ended, shown = at_a_terminal(tmp_path, ["check", "pulls.csv"], typed=typed)
    assert "Take these loads by their size" in shown
    assert ended == status, shown
    assert said in shown
    assert "Traceback" not in shown


def test_progress_moves_at_a_terminal_whatever_the_groups_are_called(tmp_path: Path) -> None:
    sheet = SHEET.replace("screw", "[/bold] screw")
    (tmp_path / "sheet.csv").write_text(sheet, "utf-8")
    ended, shown = at_a_terminal(tmp_path, ["answer", "sheet.csv", *QUICK])
    assert ended == 0, shown
    assert "reading the rows" in shown
    assert "[/bold] screw" in shown


def test_ctrl_c_in_the_middle_leaves_nothing_half_written(sheet: Path, tmp_path: Path) -> None:
    arguments = ["answer", str(sheet), "--resamples", "100000", "--report", "r.html"]
    ended, shown = at_a_terminal(tmp_path, arguments, cue=b"group ", typed=CTRL_C)
    assert ended == 130, shown
    assert "interrupted" in shown
    assert "Traceback" not in shown
    assert [path.name for path in tmp_path.iterdir()] == [sheet.name]


@pytest.mark.parametrize("arguments", [["check"], ["answer", *QUICK], ["answer", *QUICK, "--json"]])
def test_a_reader_that_goes_away_is_no_disaster(sheet: Path, arguments: list[str]) -> None:
    reading, writing = os.pipe()
    os.close(reading)
    try:
        done = subprocess.run(
            [COMMAND, *arguments, str(sheet)],
            stdout=writing,
            stderr=subprocess.PIPE,
            stdin=subprocess.DEVNULL,
            text=True,
            timeout=300,
            check=False,
        )
    finally:
        os.close(writing)
    assert done.returncode == 1
    assert done.stderr == ""


def test_a_terminal_of_an_old_encoding(sheet: Path) -> None:
    old = {**os.environ, "PYTHONIOENCODING": "ascii"}
    done = subprocess.run(
        [COMMAND, "check", str(sheet)], env=old, capture_output=True, timeout=300, check=False
    )
    assert done.returncode == 0
    assert b"screw" in done.stdout
    raw = subprocess.run(
        [COMMAND, "answer", *QUICK, "--json", str(sheet)],
        env=old,
        capture_output=True,
        timeout=300,
        check=True,
    )
    assert json.loads(raw.stdout.decode("utf-8"))["pieces"]


def test_the_demo_leaves_what_is_not_its_own(breakwright: Command, tmp_path: Path) -> None:
    mine = tmp_path / "mine"
    mine.mkdir()
    (mine / "trials.csv").write_text("group,load_N\na,1\n")
    done = breakwright("demo", "mine")
    assert done.returncode == 2
    assert "is there already" in done.stderr
    assert sorted(path.name for path in mine.iterdir()) == ["trials.csv"]
    assert (mine / "trials.csv").read_text() == "group,load_N\na,1\n"


def test_the_demo_twice(breakwright: Command, tmp_path: Path) -> None:
    first = breakwright("demo")
    assert first.returncode == 0
    folder = tmp_path / "breakwright-demo"
    assert sorted(path.name for path in folder.iterdir()) == [
        "displays.toml",
        "peg-C1-read",
        "peg-C1.mp4",
        "report.html",
        "study.toml",
        "trials.csv",
    ]
    report = (folder / "report.html").read_bytes()
    assert "nvented" in first.stdout
    assert str(folder / "report.html") in first.stdout
    again = breakwright("demo")
    assert again.stdout == first.stdout
    assert (folder / "report.html").read_bytes() == report
