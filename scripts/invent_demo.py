"""Invent the readings of the demo study: pulling plain and wedged pegs out of a coat rail.

    python scripts/invent_demo.py > src/breakwright/demo/trials.csv

Nothing here was measured. The model behind the numbers, in kgf: the glue line of a plain peg
holds 60 in the middle, a wedged one 1.4 times that, both with a scatter of 15 % and both better
in denser boards; a peg's shank snaps near 94; each of two scales ends at 50 and carries about
half of the load. The seed was picked so that the study has one of everything that happens at a
bench: a scale out of range, a snapped shank, a dark display, a pilot.
"""

import csv
import datetime as dt
import math
import random
import sys
from collections.abc import Iterable, Iterator
from statistics import NormalDist

SEED = 8
MIDDLE = {"plain": 60.0, "wedged": 60.0 * 1.4}
SCATTER = 0.15
SHANK, SHANK_SCATTER = 94.0, 0.14
CAPACITY, STEP = 50.0, 0.05
DENSITY = {"A": 652.0, "B": 689.0, "C": 671.0, "D": 705.0}  # of the boards, kg/m3
# Every board and every day has as many pegs of one kind as of the other, so that neither can
# pass for a wedge.
DAYS = {dt.date(2024, 3, 9): (46.0, ("A", "B")), dt.date(2024, 3, 10): (70.0, ("C", "D"))}
EACH = 3  # pegs of a group out of one board
DARK = 17  # the pull in which the right display went dark

HEADER = (
    *("order", "date", "specimen", "group", "block", "load_1_kgf", "load_2_kgf", "ended"),
    *("failure", "rate_kgf_s", "density_kg_m3", "cure_h", "void", "note"),
)


class Dice:
    """Numbers that stay the same in every version of Python: only ``random()`` is drawn."""

    def __init__(self, seed: int) -> None:
        self._random = random.Random(seed)

    def between(self, low: float, high: float) -> float:
        return low + (high - low) * self._random.random()

    def scattered(self, middle: float, scatter: float) -> float:
        """Return a lognormal number with the median ``middle``."""
        return middle * math.exp(scatter * NormalDist().inv_cdf(self.between(1e-9, 1.0 - 1e-9)))

    def mixed(self, things: Iterable[tuple[str, str]]) -> list[tuple[str, str]]:
        return [thing for _, thing in sorted((self._random.random(), t) for t in things)]


def shown(load: float) -> str:
    """What the display of one scale says of its share of the load."""
    steps = round(load / STEP)
    return f">{CAPACITY:g}" if steps * STEP > CAPACITY else f"{steps * STEP:.2f}"


def row(dice: Dice, *, order: int, day: dt.date, group: str, board: str, name: str) -> list[str]:
    density = DENSITY[board] + dice.between(-9.0, 9.0)
    cured = DAYS[day][0] + dice.between(0.0, 5.0)
    glue = dice.scattered(MIDDLE[group] * (density / 680.0) ** 1.5, SCATTER)
    shank = dice.scattered(SHANK, SHANK_SCATTER)
    load = min(glue, shank)
    left = dice.between(0.46, 0.54)
    ended, failure, note = "broke", "pull-out" if glue <= shank else "shank", ""
    if order == DARK:
        load *= 0.8
        ended, failure = "screen-lost", "pull-out"
        note = "right display went dark; last numbers seen; peg came out on the next stroke"
    cells = [shown(load * left), shown(load * (1.0 - left))]
    if failure == "shank":
        note = "peg snapped flush with the rail, glue line whole"
    elif order == DARK:
        cells[1] = f">{cells[1]}"
    elif any(cell.startswith(">") for cell in cells):
        note = "a display stood at its end"
    rate = dice.between(0.8, 1.6)
    return [
        *(str(order), day.isoformat(), name, group, board, *cells, ended, failure),
        *(f"{rate:.1f}", f"{density:.0f}", f"{cured:.1f}", "", note),
    ]


def pilot() -> list[str]:
    return [
        *("1", "2024-03-09", "A0", "plain", "A", "21.30", "19.85", "rig-failed", ""),
        *("1.0", "655", "46.0", "pilot: the strap slipped off the peg", "strap roughened after it"),
    ]


def rows(seed: int) -> Iterator[list[str]]:
    dice = Dice(seed)
    yield pilot()
    order = 1
    made = dict.fromkeys(DENSITY, 0)
    for day, (_, boards) in DAYS.items():
        pegs = [(board, group) for board in boards for group in MIDDLE for _ in range(EACH)]
        for board, group in dice.mixed(pegs):
            order += 1
            made[board] += 1
            name = f"{board}{made[board]}"
            yield row(dice, order=order, day=day, group=group, board=board, name=name)


def main() -> None:
    out = csv.writer(sys.stdout, lineterminator="\n")
    out.writerow(HEADER)
    out.writerows(rows(int(sys.argv[1]) if len(sys.argv) > 1 else SEED))


if __name__ == "__main__":
    main()
