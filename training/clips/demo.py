"""``python -m training.clips.demo``: the film of piece C1 of the demo study, and its marks.

Both scales together rise at 0.9 kgf/s; the right one goes dark at 21.10 kgf while the left one
shows 20.70; the peg comes out 1.3 s later. ``--copies FOLDER`` also writes a truncated, a turned
and an uneven copy of it.
"""

import argparse
from dataclasses import replace
from pathlib import Path

from training.clips.camera import Camera
from training.clips.containers import truncated, turned_copy, uneven_copy
from training.clips.glass import Glass
from training.clips.indicator import Fault, Indicator, Kind
from training.clips.load import Load
from training.clips.looks import LOOKS
from training.clips.scene import Place, Scene, Unit
from training.clips.shoot import pictures
from training.clips.tables import displays_table
from training.clips.take import take
from training.clips.thud import thuds
from training.clips.truth import Truth, marks
from training.clips.writing import write

__all__ = ["DARK_AT", "FILM", "SCENE", "SEED", "copies", "shoot_demo"]

FILM = "peg-C1.mp4"
SEED = 20_240_310
DARK_AT = 6.9  # s
_HOME = Path("src/breakwright/demo")
_HEAD = """\
# The two displays in peg-C1.mp4, an invented film of piece C1: drawn by a program, nothing was
# measured. The corners are those of the digits, in the frame at `time`: top left, top right,
# bottom right, bottom left."""

# Taken up quickly, then 0.9 kgf/s as in the sheet. The last values before the right scale goes
# dark are taken at 6.72 s (right, 21.10) and 6.75 s (left, 20.70): both stand for several frames,
# also in a copy that lacks some.
_FIRM, _RATE, _BREAK = 38.425, 0.9, DARK_AT + 1.3
_LEFT = 20.70 / (_FIRM + _RATE * (6.75 - 3.0))
_LOAD = Load(
    (
        (0.0, 0.0),
        (0.6, 0.0),
        (3.0, _FIRM),
        (_BREAK, _FIRM + _RATE * (_BREAK - 3.0)),
        (_BREAK + 0.004, 0.0),
    ),
    (_BREAK,),
)

SCENE = Scene(
    "peg-C1",
    9.4,
    _LOAD,
    (
        Unit(
            Indicator("left scale", share=((0.0, _LEFT),), refresh=0.25, phase=0.0),
            replace(LOOKS["grey"], plate="50 kgf"),
            Glass(rise=0.015, fall=0.02),
            Place(295, 255, digit=46.0, yaw=9.0, pitch=-3.0),
        ),
        Unit(
            Indicator(
                "right scale",
                share=((0.0, 1.0 - _LEFT),),
                refresh=0.25,
                phase=0.22,
                faults=(Fault(Kind.DARK, DARK_AT),),
            ),
            replace(LOOKS["green"], plate="50 kgf"),
            Glass(rise=0.015, fall=0.02),
            Place(668, 262, digit=46.0, yaw=-7.0, roll=1.5, swing=3.0, swing_from=_BREAK),
        ),
    ),
    Camera(shake=1.8, noise=1.4, bumps=((_BREAK + 0.01, 7.0),), quality=26),
    sound=True,
    plate="invented film: drawn, not measured",
)


def shoot_demo(folder: Path) -> Truth:
    """Write the film and its ``displays.toml`` into ``folder``; return the truth of it."""
    planned = take(SCENE, seed=SEED)
    write(
        folder / FILM,
        pictures(planned),
        planned.truth.times,
        camera=SCENE.camera,
        sound=thuds(SCENE, seed=SEED),
        says={"title": "Peg C1 (invented)", "comment": "Invented: drawn by a program."},
        preset="slow",
    )
    table = displays_table(
        FILM,
        marks(planned.truth, at=0.4, error=0.5, seed=SEED),
        instruments={"left scale": "left scale", "right scale": "right scale"},
        head=_HEAD,
    )
    (folder / "displays.toml").write_text(table, encoding="utf-8")
    return planned.truth


def copies(film: Path, folder: Path) -> tuple[Path, Path, Path]:
    """Write three copies of ``film`` that hold the same peak: broken off after the break, turned
    by 90 degrees with a tag, and with each fifth frame missing."""
    found = (folder / "truncated.mp4", folder / "turned.mp4", folder / "uneven.mp4")
    truncated(film, found[0], part=0.97)
    turned_copy(film, found[1], degrees=90)
    uneven_copy(film, found[2], every=5)
    return found


def main() -> None:
    """Run what was asked for."""
    parser = argparse.ArgumentParser(prog="python -m training.clips.demo", description=__doc__)
    parser.add_argument("--to", type=Path, default=_HOME, metavar="FOLDER")
    parser.add_argument("--copies", type=Path, metavar="FOLDER")
    asked = parser.parse_args()
    asked.to.mkdir(parents=True, exist_ok=True)
    truth = shoot_demo(asked.to)
    film = asked.to / FILM
    print(f"{film}: {film.stat().st_size / 1000:.0f} kB, {len(truth.times)} frames")
    if asked.copies is not None:
        asked.copies.mkdir(parents=True, exist_ok=True)
        for path in copies(film, asked.copies):
            print(path)


if __name__ == "__main__":
    main()
