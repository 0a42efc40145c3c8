"""``python -m benchmarks film``: how well films of displays are read, and how fast.

Real digits are looked for in ``../shared/data/real-digits`` or in the folder that
``BREAKWRIGHT_REAL_DIGITS`` names; what is absent is named as not measured, never as passed.
"""

import os
from collections.abc import Sequence
from pathlib import Path

from training.evaluate_faces import NORMAL, font_rows, fonts_in
from training.evaluate_fonts import CURVES, FONTS, FontsMissing, curve
from training.evaluate_real import real_rows
from training.evaluate_score import Known, Score, score

from benchmarks import film_speed, film_suite
from benchmarks.film_peers import PeerScore, digits_alone, peers
from breakwright.video.digit_network import digit_reader

__all__ = ["run"]

_REAL_ROWS, _FONT_ROWS, _PEER_ROWS = 600, 600, 150
_REAL = Path(__file__).parents[2] / "shared" / "data" / "real-digits"


def run() -> str:
    """Return all tables of films, as the text for ``docs/benchmarks.md``."""
    reader = digit_reader()
    lines = ["### Rows of digits", ""]
    lines += [
        "Exact rows, in %. 'Digits' leaves the point out on both sides, as where the instrument's "
        "decimals are known; each other program is given the same rows as larger pictures, "
        "dark on bright.",
        "",
    ]
    folder = Path(os.environ.get("BREAKWRIGHT_REAL_DIGITS", _REAL))
    if folder.is_dir():
        known = real_rows(folder, rows=_REAL_ROWS)
        lines += _compared("photographed digits", known, score(reader, known))
    else:
        lines += ["Photographed digits: **not measured**, the folder of them is not here."]
    lines.append("")
    fonts = fonts_in(FONTS)
    if fonts:
        known = font_rows(fonts, NORMAL, rows=_FONT_ROWS, seed=2)
        lines += _compared("fonts never trained on, normal contrast", known, score(reader, known))
    else:
        lines += ["Fonts never trained on: **not measured**, fonts-dseg is not here."]
    lines += ["", "### Conditions", "", *_curves(), ""]
    lines += ["### Drawn films with their truth", "", film_suite.table(film_suite.measure()), ""]
    lines += ["### Against decoding alone", "", film_speed.run()]
    return "\n".join(lines)


def _compared(what: str, known: Sequence[Known], ours: Score) -> list[str]:
    few = list(known[:_PEER_ROWS])
    others = peers([one.picture for one in few], [one.text for one in few])
    lines = [
        f"| {what} | rows | with the point | digits | ms a row |",
        "|---|---|---|---|---|",
        f"| breakwright | {ours.count} | {100 * ours.rate:.1f} | "
        f"{100 * ours.exact_without_point / ours.count:.1f} | {_own_ms(few):.2f} |",
    ]
    same = sum(
        digits_alone(read) == digits_alone(one.text)
        for read, one in zip(ours.read[: len(few)], few, strict=True)
    )
    lines.append(f"| the same, the others' rows | {len(few)} | | {100 * same / len(few):.1f} | |")
    return lines + [_peer_line(other, len(few)) for other in others]


def _peer_line(other: PeerScore, rows: int) -> str:
    if other.exact is None or other.seconds is None:
        return f"| {other.name} | | | **not measured** | |"
    return f"| {other.name} | {rows} | | {100 * other.exact:.1f} | {1e3 * other.seconds:.0f} |"


def _own_ms(known: Sequence[Known]) -> float:
    """Milliseconds that the network takes a strip, in batches of 16 of one width."""
    import time

    import numpy as np

    reader = digit_reader()
    strip = known[0].strip
    strip = np.pad(strip, ((0, 0), (0, -strip.shape[1] % 4)), mode="edge")
    batch = np.stack([strip] * 16)
    reader.read(batch)
    start = time.perf_counter()
    for _ in range(20):
        reader.read(batch)
    return 1e3 * (time.perf_counter() - start) / 320


def _curves() -> list[str]:
    reader = digit_reader()
    lines = ["| condition | exact rows with the point, % |", "|---|---|"]
    try:
        for condition in CURVES:
            points = curve(reader, condition)
            told = ", ".join(f"{p.value:g}: {100 * p.found.rate:.1f}" for p in points)
            lines.append(f"| {condition} | {told} |")
    except FontsMissing as missing:
        return [f"**Not measured.** {missing}"]
    return lines
