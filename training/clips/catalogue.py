"""All clips by name, and which lines of the tester's list each covers."""

from training.clips.clip import Clip
from training.clips.clips_camera import CLIPS as CAMERA
from training.clips.clips_glass import CLIPS as GLASS
from training.clips.clips_light import CLIPS as LIGHT
from training.clips.clips_texts import CLIPS as TEXTS
from training.clips.clips_time import CLIPS as TIME

__all__ = ["CLIPS", "LINES", "SCENES", "SEED", "clips_for"]

SEED = 20_260_131

CLIPS: dict[str, Clip] = {
    clip.scene.name: clip for clip in (*TIME, *GLASS, *TEXTS, *LIGHT, *CAMERA)
}
SCENES = {name: clip.scene for name, clip in CLIPS.items()}

# What a tester must include, one line each.
LINES = (
    "ghost unions",
    "half-refreshed rows",
    "row-torn frames",
    "a new value exactly at the peak",
    "a one-frame peak",
    "moving glare",
    "shadow",
    "hand",
    "auto-exposure step at the break",
    "focus hunting",
    "LED banding by row",
    "LED banding by digit",
    "time-out mid-pull",
    "backlight off",
    "hold and peak-hold",
    "one of two frozen",
    "over-range texts",
    "negative",
    "digit count change",
    "point lost or shifted",
    "kg/lb switch",
    "6/7/9 variants",
    "clipped right digit",
    "rows of ones",
    "unit icons",
    "red and blue displays",
    "90 and 180 degree rotation",
    "variable frame rate gaps",
    "duplicated frames",
    "HEVC",
    "60 and 240 fps",
    "a bump of the camera at the break",
    "a swinging scale",
    "a display leaving the frame",
    "different refresh rates and lags",
)


def clips_for(line: str) -> tuple[str, ...]:
    """Return the names of the clips that cover ``line`` of the list."""
    return tuple(name for name, clip in CLIPS.items() if line in clip.lines)
