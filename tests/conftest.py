"""What all tests share: repeatable random examples, and the installed command."""

import os
import subprocess
import sys
from collections.abc import Callable
from pathlib import Path

import pytest
from hypothesis import settings

# The same examples every time, and no clock: a test fails for what changed in the code only.
settings.register_profile("house", derandomize=True, deadline=None, database=None)
settings.load_profile("house")

# Looked through for doctests, two modules of this name would be one too many.
collect_ignore_glob = ["*conftest.py"]

BIN = Path(sys.executable).parent

Command = Callable[..., "subprocess.CompletedProcess[str]"]


@pytest.fixture
def breakwright(tmp_path: Path) -> Command:
    """Run the installed command in an empty folder, without a terminal."""

    def run(*arguments: str | Path, given: str = "") -> "subprocess.CompletedProcess[str]":
        return subprocess.run(
            [BIN / "breakwright", *arguments],
            cwd=tmp_path,
            input=given,
            capture_output=True,
            text=True,
            encoding="utf-8",
            timeout=300,
            check=False,
        )

    return run


@pytest.fixture(scope="session")
def breakwright_path() -> str:
    """A PATH on which the installed command comes first."""
    return os.pathsep.join([str(BIN), "/usr/bin", "/bin"])
