"""Every code that the doors and the API use has its paragraph."""

import ast
import re
from pathlib import Path

from breakwright.web.doors import refusal

ROOT = Path(__file__).parents[3]
WEB = ROOT / "src" / "breakwright" / "web"
HERE = ("trouble.py", "photos.py", "traces.py", "doors/refusal.py")


def codes_in(path: Path) -> set[str]:
    """Text that looks like a code where a Problem or its table is made."""
    words = set()
    for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
        first: list[ast.expr] = []
        if isinstance(node, ast.Call) and getattr(node.func, "id", "") == "Problem":
            first = node.args[:1]
        elif isinstance(node, ast.Tuple):
            first = node.elts[:2]
        words |= {
            one.value
            for one in first
            if isinstance(one, ast.Constant)
            and isinstance(one.value, str)
            and re.fullmatch(r"[a-z]+(-[a-z]+)+", one.value)
        }
    return words


def test_every_code_of_the_doors_has_its_paragraph() -> None:
    told = set(
        re.findall(r"^### `([a-z-]+)`", (ROOT / "docs/messages.md").read_text("utf-8"), re.M)
    )
    used = set(refusal._SAID).union(*(codes_in(WEB / name) for name in HERE))
    assert {"host-unknown", "photo-unreadable", "disk-full", "trace-unreadable"} <= used
    assert used <= told
