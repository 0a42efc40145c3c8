"""The page about load cells runs: its lines are read, its options exist, its codes are told."""

import re
import shlex
from pathlib import Path

import pytest

from breakwright.cli.listen import command
from breakwright.model.units import ForceUnit
from breakwright.reading.stream_line import Format, LineKind, decimal_mark, read_line
from breakwright.reading.stream_pulls import PullRules
from breakwright.reading.stream_words import Fault, Stamps

ROOT = Path(__file__).parents[3]
PAGE = (ROOT / "docs" / "load-cell.md").read_text(encoding="utf-8")
SOURCE = ROOT / "src" / "breakwright"
ROWS = re.findall(r"^\| `([^`]+)` \| (?:`([^`]*)`)? ?\| ([^|]+) \|([^|]*)\|$", PAGE, re.MULTILINE)


@pytest.mark.parametrize(("line", "options", "load", "time"), ROWS)
def test_the_lines_of_the_page(line: str, options: str, load: str, time: str) -> None:
    words = shlex.split(options)
    said = dict(zip(words[::2], words[1::2], strict=True))
    form = Format(
        ForceUnit(said["--unit"]) if "--unit" in said else None,
        said.get("--decimal") or decimal_mark(line),
        Stamps(said["--stamps"]) if "--stamps" in said else None,
        int(said["--column"]) if "--column" in said else None,
    )
    found = read_line(line, form)
    if load == "no number":
        assert found.kind is LineKind.OVER
    else:
        assert found.load == pytest.approx(float(load), rel=1e-12)
    assert found.stamp == (float(time) if time.strip() else None)


def test_there_are_lines_on_the_page() -> None:
    assert len(ROWS) == 15


def test_every_option_is_on_the_page_or_speaks_for_itself() -> None:
    known = {name for parameter in command.params for name in parameter.opts}
    named = set(re.findall(r"--[a-z][a-z-]*", PAGE)) - {"--lan", "--https"}
    assert named - known == set()
    told_by_help = {"--capacity", "--resolution", "--failure", "-", "source"}
    assert known - named - told_by_help == set()


def test_the_numbers_of_the_page_are_the_program_s() -> None:
    rules = PullRules()
    assert (rules.threshold, rules.stay, rules.drop, rules.silence) == (50.0, 2.0, 0.5, 1.5)


def test_every_code_has_a_paragraph() -> None:
    told = set(
        re.findall(
            r"^### `([a-z0-9-]+)`", (ROOT / "docs/messages.md").read_text("utf-8"), re.MULTILINE
        )
    )
    files = [*(SOURCE / "wire").glob("*.py"), *(SOURCE / "cli").glob("listen*.py")]
    given = {
        code for file in files for code in re.findall(r'code="([a-z-]+)"', file.read_text("utf-8"))
    } | {fault.value for fault in Fault if fault.asks}
    assert len(given) > 12
    assert given - told == set()
