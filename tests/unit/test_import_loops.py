"""Every module can be the first one imported, and none imports its own package root.

After the like-minded test of skyfield (see the habits of the house).
"""

import ast
import pkgutil
import subprocess
import sys
from pathlib import Path

import pytest

import breakwright

HOME = Path(breakwright.__file__).parent
MODULES = sorted(
    info.name for info in pkgutil.walk_packages([str(HOME)], prefix=f"{breakwright.__name__}.")
)
HEAVY = {"altair", "jinja2", "numpy", "pydantic", "rich", "scipy", "vl_convert"}


def source_of(module: str) -> str:
    path = HOME.joinpath(*module.split(".")[1:])
    return (path / "__init__.py" if path.is_dir() else path.with_suffix(".py")).read_text("utf-8")


@pytest.mark.parametrize("module", MODULES)
def test_no_module_imports_its_package_root(module: str) -> None:
    for node in ast.walk(ast.parse(source_of(module))):
        if isinstance(node, ast.Import):
            assert breakwright.__name__ not in [alias.name for alias in node.names]
        if isinstance(node, ast.ImportFrom):
            assert node.level == 0, "imports are written in full here"
            assert node.module != breakwright.__name__


def test_every_module_can_be_imported_first() -> None:
    # One process for all: what is ours is forgotten between two imports, what is others' is not.
    program = """
import importlib, sys, traceback
failed = 0
for name in sys.argv[1:]:
    for known in [m for m in sys.modules if m.split(".")[0] == "breakwright"]:
        del sys.modules[known]
    try:
        importlib.import_module(name)
    except Exception:
        failed += 1
        traceback.print_exc()
print("tried", len(sys.argv) - 1, "failed", failed)
"""
    done = subprocess.run(
        [sys.executable, "-c", program, *MODULES], capture_output=True, text=True, check=True
    )
    assert done.stdout.split() == ["tried", str(len(MODULES)), "failed", "0"], done.stderr


@pytest.mark.parametrize(
    "arguments", [["--help"], ["--version"], ["answer", "--help"], ["demo", "--help"], []]
)
def test_help_loads_nothing_heavy(arguments: list[str]) -> None:
    program = (
        "import sys; from breakwright.cli.main import run; status = run(sys.argv[1:]);"
        "print(); print(status, *sorted({name.split('.')[0] for name in sys.modules}))"
    )
    done = subprocess.run(
        [sys.executable, "-c", program, *arguments], capture_output=True, text=True, check=True
    )
    status, *loaded = done.stdout.splitlines()[-1].split()
    assert status == ("0" if arguments else "2")
    assert "click" in loaded
    assert not HEAVY & set(loaded)
