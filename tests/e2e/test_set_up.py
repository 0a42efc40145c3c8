"""Set-up on machines that lack something: one sentence says what to install. Fake interpreters."""

import os
import shutil
import subprocess
from pathlib import Path

import pytest

ROOT = Path(__file__).parents[2]
SHELL = shutil.which("sh") or "/bin/sh"
NEEDED = ("sed", "touch", "rm", "mkdir", "printf")


@pytest.fixture
def bench(tmp_path: Path) -> Path:
    """A folder with nothing on its PATH but a few tools: no Python at all."""
    tools = tmp_path / "bin"
    tools.mkdir()
    for name in NEEDED:
        if path := shutil.which(name):
            (tools / name).symlink_to(path)
    return tmp_path


def python(bench: Path, name: str, body: str) -> None:
    path = bench / "bin" / name
    path.write_text(f"#!{SHELL}\n{body}\n")
    path.chmod(0o755)


def set_up(bench: Path, asked: str = "") -> "subprocess.CompletedProcess[str]":
    return subprocess.run(
        [SHELL, str(ROOT / "scripts" / "set-up"), asked, "env", "lock", "env/.ready"],
        cwd=bench,
        env={"PATH": str(bench / "bin")},
        capture_output=True,
        text=True,
        check=False,
    )


OLD = 'case "$1" in -V) echo "Python 3.9.2";; -c) exit 1;; esac'
# New enough, but `import venv, ensurepip` fails, as on a Debian without python3-venv.
BARE = 'case "$2" in *ensurepip*) exit 1;; *) exit 0;; esac'


def one_sentence(done: "subprocess.CompletedProcess[str]") -> str:
    assert done.returncode == 1
    assert done.stdout == ""
    lines = done.stderr.splitlines()
    assert len(lines) == 1, done.stderr
    return lines[0]


def test_no_python_at_all(bench: Path) -> None:
    sentence = one_sentence(set_up(bench))
    assert "Python 3.11 or newer is needed" in sentence
    assert "apt install python3 python3-venv" in sentence
    assert not (bench / "env").exists()


def test_an_older_python_is_named(bench: Path) -> None:
    python(bench, "python3", OLD)
    sentence = one_sentence(set_up(bench))
    assert "Python 3.11 or newer is needed and this machine has Python 3.9.2" in sentence


def test_a_python_asked_for_that_is_too_old(bench: Path) -> None:
    python(bench, "mine", OLD)
    python(bench, "python3", "exit 0")
    assert "this machine has Python 3.9.2" in one_sentence(set_up(bench, asked="mine"))


def test_a_python_without_the_venv_module(bench: Path) -> None:
    python(bench, "python3", BARE)
    sentence = one_sentence(set_up(bench))
    assert "python3 has no venv module" in sentence
    assert "apt install python3-venv" in sentence


def test_the_one_that_can_make_an_environment_is_taken(bench: Path) -> None:
    # The newest cannot, the next one can: it is asked to, and its failure ends the set-up.
    python(bench, "python3.13", BARE)
    python(bench, "python3.12", 'case "$1" in -V) echo Python 3.12.0;; -m) exit 7;; esac')
    done = set_up(bench)
    assert "with Python 3.12.0" in done.stderr
    assert done.returncode == 7


def test_no_stamp_where_the_packages_could_not_be_installed(bench: Path) -> None:
    made = 'mkdir -p "$3/bin"; printf "#!%s\\ncase \\"\\$*\\" in *install*) exit 1;; esac\\n" '
    python(
        bench,
        "python3",
        f'[ "$2" = venv ] || exit 0\n{made} "{SHELL}" > "$3/bin/python"; '
        f'"{shutil.which("chmod")}" +x "$3/bin/python"',
    )
    done = set_up(bench)
    assert done.returncode == 1
    assert "could not be installed" in done.stderr.splitlines()[-1]
    assert not (bench / "env" / ".ready").exists()


@pytest.mark.skipif(shutil.which("make") is None, reason="no make on this machine")
def test_a_second_set_up_does_nothing(bench: Path) -> None:
    for name in ("Makefile", "requirements.lock", "pyproject.toml"):
        shutil.copy(ROOT / name, bench / name)
    shutil.copytree(ROOT / "scripts", bench / "scripts")
    stamp = bench / ".venv" / ".ready"
    stamp.parent.mkdir()
    stamp.touch()
    make = [shutil.which("make") or "make", "--silent", "--question", ".venv/.ready"]
    environment = {"PATH": os.environ["PATH"]}
    assert subprocess.run(make, cwd=bench, env=environment, check=False).returncode == 0
    newer = stamp.stat().st_mtime + 10
    os.utime(bench / "requirements.lock", (newer, newer))
    assert subprocess.run(make, cwd=bench, env=environment, check=False).returncode == 1


def test_without_a_browser_tests_are_left_out_but_ci_fails(bench: Path) -> None:
    (bench / "bin" / "id").write_text(f"#!{SHELL}\necho 1000\n")  # not root: nothing to install
    (bench / "bin" / "id").chmod(0o755)
    look = [SHELL, str(ROOT / "scripts" / "browser"), "playwright"]
    for environment, status in (({}, 0), ({"CI": "true"}, 1)):
        done = subprocess.run(
            look,
            env={"PATH": str(bench / "bin"), **environment},
            capture_output=True,
            text=True,
            check=False,
        )
        assert done.returncode == status
        assert "apt install chromium libatomic1" in done.stderr
        assert done.stdout == ""
