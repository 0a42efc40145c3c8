"""Make the README's pictures from the demo study, as `breakwright answer --pictures` makes them."""

import importlib.resources
import tempfile
from pathlib import Path

from breakwright.bootstrap import (
    CEILING,
    LEVEL,
    RESAMPLES,
    SEED,
    ReadOptions,
    answer_source,
    make_settings,
    read,
    write_pictures,
)

KEPT = ("ratio-light.svg", "ratio-dark.svg", "readings-light.svg", "readings-dark.svg")
FOLDER = Path(__file__).parent.parent / "docs" / "pictures"


def main() -> None:
    with importlib.resources.as_file(importlib.resources.files("breakwright.demo")) as demo:
        source = read(demo, ReadOptions())
    settings = make_settings(level=LEVEL, seed=SEED, resamples=RESAMPLES, ceiling=CEILING)
    answer = answer_source(source, settings)
    FOLDER.mkdir(parents=True, exist_ok=True)
    with tempfile.TemporaryDirectory() as scratch:
        written = {path.name: path for path in write_pictures(answer, Path(scratch))}
        for name in KEPT:
            (FOLDER / name).write_bytes(written[name].read_bytes())


if __name__ == "__main__":
    main()
