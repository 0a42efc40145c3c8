"""Draw the pictures of docs/filming.md: one frame each of films that the generator draws."""

import sys
from pathlib import Path

import cv2

sys.path.insert(0, str(Path(__file__).parent.parent))

from training.clips.catalogue import SCENES
from training.clips.shoot import pictures
from training.clips.take import take

PICTURES = Path(__file__).parent.parent / "docs" / "pictures"
# What the page calls it: the clip, and the moment (s) in it.
SHOWN = {
    "good": ("plain", 4.0),
    "far": ("far-away", 3.0),
    "glare": ("glare", 3.4),
    "slant": ("slanting-view", 3.0),
    "cut": ("leaves-the-picture", 2.15),
    "blur": ("focus-hunts", 1.6),
}


def main() -> None:
    """Write ``filming-NAME.jpg`` for each."""
    for name, (clip, moment) in SHOWN.items():
        planned = take(SCENES[clip], seed=1)
        times = planned.truth.times
        wanted = min(range(len(times)), key=lambda frame: abs(float(times[frame]) - moment))
        for frame, picture in enumerate(pictures(planned)):
            if frame == wanted:
                path = PICTURES / f"filming-{name}.jpg"
                cv2.imwrite(str(path), picture, [cv2.IMWRITE_JPEG_QUALITY, 80])
                break


if __name__ == "__main__":
    main()
