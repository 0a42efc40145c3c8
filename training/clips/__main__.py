"""``python -m training.clips NAME… --to FOLDER``: make clips, print their marks."""

import argparse
import sys
from pathlib import Path

from training.clips.catalogue import SCENES, SEED
from training.clips.shoot import film
from training.clips.tables import displays_table
from training.clips.truth import marks


def main() -> None:
    """Run what was asked for."""
    parser = argparse.ArgumentParser(prog="python -m training.clips", description=__doc__)
    parser.add_argument("names", nargs="*", metavar="NAME")
    parser.add_argument("--to", type=Path, default=Path("build/clips"), metavar="FOLDER")
    parser.add_argument("--seed", type=int, default=SEED)
    parser.add_argument("--list", action="store_true", help="only name the clips there are")
    asked = parser.parse_args()
    if asked.list:
        sys.stdout.write("\n".join(SCENES) + "\n")
        return
    unknown = [name for name in asked.names if name not in SCENES]
    if unknown or not asked.names:
        parser.error(f"no clip {', '.join(unknown) or 'was named'}; there are {', '.join(SCENES)}")
    asked.to.mkdir(parents=True, exist_ok=True)
    for name in asked.names:
        path = asked.to / f"{name}.mp4"
        truth = film(SCENES[name], path, seed=asked.seed)
        table = displays_table(path.name, marks(truth))
        path.with_suffix(".toml").write_text(table, encoding="utf-8")
        sys.stdout.write(f"{path}\n{table}\n")


if __name__ == "__main__":
    main()
