"""General readers of text on rows of digits: what anybody could install instead of our network.

Each is given the row as a picture of its own (cropped, dark on bright, with a margin, 64 px or
more high), is told that it is one line, and where the program allows it that only digits, the
point and the minus stand there. Time is wall time a row, the start of the program left out as
far as it can be (one process for all rows).
"""

import json
import re
import shutil
import subprocess
import tempfile
import time
from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path

import numpy as np
from numpy.typing import NDArray

__all__ = ["PeerScore", "digits_alone", "peers"]

Pixels = NDArray[np.uint8]
_RAPID = Path(__file__).parent / "readers"


@dataclass(frozen=True)
class PeerScore:
    """``exact``: share of rows read exactly, the point left out on both sides; None: the program
    is not on this machine. ``seconds`` a row."""

    name: str
    exact: float | None
    seconds: float | None


def digits_alone(text: str) -> str:
    """Return ``text`` without point and blanks, O as 0: what display rows are compared by.

    >>> digits_alone(" 2O.4 ")
    '204'
    """
    return re.sub(r"[\s.,:']", "", text).upper().replace("O", "0")


def peers(pictures: Sequence[Pixels], texts: Sequence[str]) -> list[PeerScore]:
    """Read ``pictures`` (h, w) gray, which show ``texts``, with each program that is here."""
    with tempfile.TemporaryDirectory() as folder:
        files = _written(pictures, Path(folder))
        listing = Path(folder, "all.txt")
        listing.write_text("".join(f"{file}\n" for file in files), encoding="utf-8")
        return [_tesseract(listing, texts), _rapid(listing, texts)]


def _written(pictures: Sequence[Pixels], folder: Path) -> list[Path]:
    import cv2

    files = []
    for number, picture in enumerate(pictures):
        row = picture
        if np.median(row) < 128:
            row = np.asarray(255 - row, dtype=np.uint8)
        if row.shape[0] < 64:
            scale = 64 / row.shape[0]
            row = cv2.resize(row, None, fx=scale, fy=scale, interpolation=cv2.INTER_CUBIC)
        level = int(np.percentile(row, 90))
        row = cv2.copyMakeBorder(row, 20, 20, 20, 20, cv2.BORDER_CONSTANT, value=level)
        files.append(folder / f"{number:05d}.png")
        cv2.imwrite(str(files[-1]), row)
    return files


def _score(name: str, found: Sequence[str], texts: Sequence[str], seconds: float) -> PeerScore:
    right = [
        digits_alone(read) == digits_alone(true) for read, true in zip(found, texts, strict=True)
    ]
    return PeerScore(name, float(np.mean(right)), seconds / len(right))


def _tesseract(listing: Path, texts: Sequence[str]) -> PeerScore:
    program = shutil.which("tesseract")
    if program is None:
        return PeerScore("tesseract (not on this machine)", None, None)
    said = subprocess.run([program, "--version"], capture_output=True, text=True, check=True)
    name = (said.stdout or said.stderr).splitlines()[0]
    start = time.perf_counter()
    run = subprocess.run(
        [
            *(program, str(listing), "stdout", "--psm", "7"),
            *("-c", "tessedit_char_whitelist=0123456789.-LEr", "-c", "page_separator=\f"),
        ],
        capture_output=True,
        text=True,
        check=True,
    )
    seconds = time.perf_counter() - start
    pages = run.stdout.split("\f")[: len(texts)]
    return _score(name, pages, texts, seconds)


def _rapid(listing: Path, texts: Sequence[str]) -> PeerScore:
    python = _RAPID / ".venv" / "bin" / "python"
    if not python.exists():
        return PeerScore("rapidocr (not on this machine)", None, None)
    asked = "from importlib.metadata import version; print(version('rapidocr-onnxruntime'))"
    number = subprocess.run(
        [python, "-c", asked], capture_output=True, text=True, check=True
    ).stdout.strip()
    start = time.perf_counter()
    run = subprocess.run(
        [python, str(_RAPID / "rapid.py"), str(listing)], capture_output=True, text=True, check=True
    )
    seconds = time.perf_counter() - start
    found = [json.loads(line) for line in run.stdout.splitlines()]
    return _score(f"rapidocr-onnxruntime {number}", found, texts, seconds)
