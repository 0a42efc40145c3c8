"""Every code that predict, rig and scales can say has its paragraph."""

import re
from pathlib import Path

ROOT = Path(__file__).parents[3]
SOURCES = (
    "src/breakwright/rig/rig_notices.py",
    "src/breakwright/rig/scale_notices.py",
    "src/breakwright/usecases/predict.py",
)


def test_codes_and_paragraphs_are_the_same():
    said = set()
    for name in SOURCES:
        text = (ROOT / name).read_text("utf-8")
        said |= set(re.findall(r'(?:noted|Notice)\(\s*"([a-z-]+)"', text))
    told = re.findall(r"^### `([a-z-]+)`$", (ROOT / "docs/messages.md").read_text("utf-8"), re.M)
    assert said
    assert said <= set(told)
