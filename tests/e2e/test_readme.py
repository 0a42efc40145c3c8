"""The README's commands run, and its links and pictures are there."""

import re
import shlex
import signal
import subprocess
from pathlib import Path

import pytest

from breakwright.version import VERSION

ROOT = Path(__file__).parents[2]
README = (ROOT / "README.md").read_text("utf-8")
BLOCK = re.compile(r"^( *)```(\w+)\n(.*?)^\1```$", re.MULTILINE | re.DOTALL)


def blocks(language: str) -> list[str]:
    found = []
    for indent, name, body in BLOCK.findall(README):
        if name == language:
            found.append("".join(line.removeprefix(indent) for line in body.splitlines(True)))
    return found


COMMANDS = [line for block in blocks("sh") for line in block.splitlines() if line.strip()]
MAKE = [line for line in COMMANDS if line.startswith("make ")]
OURS = [line for line in COMMANDS if line.startswith("breakwright ")]


def test_the_readme_holds_only_commands_that_are_tested_here() -> None:
    assert len(OURS) >= 5
    assert len(MAKE) >= 2
    assert MAKE + OURS == COMMANDS


@pytest.mark.parametrize("line", MAKE)
def test_make_knows_the_target(line: str) -> None:
    targets = re.findall(r"^\.PHONY: (\S+)$", (ROOT / "Makefile").read_text("utf-8"), re.MULTILINE)
    assert shlex.split(line)[1] in targets


def serve_and_stop(line: str, folder: Path, env: dict[str, str]) -> None:
    """Start the server, wait until it says that it is ready, and stop it as Ctrl-C does."""
    server = subprocess.Popen(
        shlex.split(line),
        cwd=folder,
        env=env | {"PYTHONUNBUFFERED": "1"},
        stdout=subprocess.PIPE,
        text=True,
    )
    assert server.stdout is not None
    with server.stdout as said:
        assert any(words.startswith("To stop") for words in said)
        server.send_signal(signal.SIGINT)
        assert server.wait(60) == 0


def test_the_five_minute_walk(
    tmp_path: Path, breakwright_path: str, capfd: pytest.CaptureFixture[str]
) -> None:
    (sheet,) = blocks("csv")
    (tmp_path / "my-sheet.csv").write_text(sheet, "utf-8")
    env = {"PATH": breakwright_path, "HOME": str(tmp_path), "LANG": "C.UTF-8", "BROWSER": "true"}
    said = []
    for line in OURS:
        if line.startswith("breakwright serve"):
            serve_and_stop(line, tmp_path, env)
        else:
            subprocess.run(
                ["/bin/sh", "-c", line],
                cwd=tmp_path,
                env=env,
                stdin=subprocess.DEVNULL,
                check=True,
                timeout=300,
            )
        said.append(capfd.readouterr())
    assert "screw" in said[0].out
    report = (tmp_path / "my-report.html").read_text("utf-8")
    assert "dowel" in report
    assert list((tmp_path / "my-pictures").glob("*.png"))
    assert '"schema": "breakwright/answer/1"' in (tmp_path / "my-answer.json").read_text("utf-8")
    assert (tmp_path / "my-first-study" / "study.toml").is_file()
    told = dict(zip(OURS, said, strict=True))
    assert "wedged" in told["breakwright answer my-first-study"].out
    (plan,) = (words.out for line, words in told.items() if line.startswith("breakwright plan"))
    for mistake in ("«rail over its supports»", "«screws of the beam»", "Too small."):
        assert mistake in plan
    assert "bench-sheet.html" in "".join(p.name for p in (tmp_path / "my-first-study").iterdir())
    assert (tmp_path / "my-plan.html").is_file()


TARGETS = sorted(
    {a or b for a, b in re.findall(r'\]\(([^)#:]+)\)|(?:src|srcset)="([^"]+)"', README)}
)


@pytest.mark.parametrize("target", TARGETS)
def test_links_lead_somewhere(target: str) -> None:
    assert (ROOT / target).exists()


def test_the_version_to_cite_is_this_one() -> None:
    assert f"Breakwright {VERSION}" in README
