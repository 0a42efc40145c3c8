"""Prints how well the packaged network reads strips that it was not trained on.

python -m training.evaluate --digits ../shared/data/real-digits
"""

import argparse
import sys
from collections.abc import Sequence
from pathlib import Path

from breakwright.reading.film_ports import DigitReader
from breakwright.video.digit_network import digit_reader
from training.evaluate_fonts import CURVES, FontsMissing, curve, evaluate_fonts
from training.evaluate_real import evaluate_real
from training.evaluate_score import Known, Score, reliability, score
from training.strips.strip import strips

__all__ = ["main"]

# No training run uses this seed: they use a seed and a chunk's number together.
_SYNTHETIC = 99_000_001


def main(arguments: Sequence[str] | None = None) -> None:
    """Measure and print; what is absent is named as not measured."""
    parser = argparse.ArgumentParser(prog="python -m training.evaluate", description=__doc__)
    parser.add_argument("--digits", type=Path, help="folder of real digits")
    parser.add_argument("--rows", type=int, default=600, help="rows of real digits and in fonts")
    parser.add_argument("--points", type=int, default=200, help="rows a point of a curve")
    asked = parser.parse_args(arguments)
    reader = digit_reader()
    _real(reader, asked.digits, asked.rows)
    _synthetic(reader, asked.rows)
    try:
        _print("fonts and strokes never trained on", evaluate_fonts(reader, rows=asked.rows))
        for condition in CURVES:
            points = curve(reader, condition, rows=asked.points)
            told = "  ".join(f"{p.value:g}: {100 * p.found.rate:.1f} %" for p in points)
            _say(f"{condition}: {told}")
    except FontsMissing as missing:
        _say(f"fonts: NOT MEASURED. {missing}")


def _real(reader: DigitReader, folder: Path | None, rows: int) -> None:
    if folder is None or not folder.is_dir():
        _say("real digits: NOT MEASURED, no folder of them was given")
        return
    found = evaluate_real(reader, folder, rows=rows)
    _print("rows of real digits", found)
    _calibration(found)


def _synthetic(reader: DigitReader, rows: int) -> None:
    made = strips(_SYNTHETIC, 4 * rows)
    known = [Known(one.gray, one.gray, one.text, "synthetic") for one in made]
    found = score(reader, known)
    _print("synthetic strips, the training's whole range", found)
    _calibration(found)


def _calibration(found: Score) -> None:
    for one in reliability(found):
        if one.count:
            _say(
                f"  claimed {one.low:g} to {one.high:g}: {one.count} strips, mean "
                f"{one.claimed:.4f}, right {one.right:.4f}"
            )


def _print(what: str, found: Score) -> None:
    _say(
        f"{what}: {found.count} strips, exact {100 * found.rate:.2f} %, but for the point "
        f"{100 * found.exact_without_point / found.count:.2f} %"
    )


def _say(line: str) -> None:
    sys.stdout.write(line + "\n")
    sys.stdout.flush()


if __name__ == "__main__":
    main()
