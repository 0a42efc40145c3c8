"""The frames' own time stamps: from the first frame, always rising, and what was wrong."""

from dataclasses import dataclass
from typing import Any

__all__ = ["Stamps"]

# A film that ends this much (s) before its header says is cut off; rounding is less.
_SHORT = 0.1


@dataclass(slots=True)
class Stamps:
    """``first`` is the first frame's stamp, ``base`` the seconds of one tick; ``heard`` (s) is how
    far other tracks came, where the header's duration is that of all tracks together."""

    first: int
    base: float
    frames: int = 0
    last: float = 0.0
    longest: float = 0.0
    heard: float = 0.0
    unusable: int = 0
    harmed: int = 0
    harmed_at: float = 0.0
    failed: str = ""
    end: str = ""

    def of(self, picture: Any) -> float | None:
        """Return the picture's time (s), None where it has none or not a later one."""
        stamp = picture.pts if picture.pts is not None else picture.dts
        time = None if stamp is None else float((stamp - self.first) * self.base)
        if time is None or (self.frames and time <= self.last) or time < 0.0:
            self.unusable += 1
            return None
        self.frames += 1
        self.longest = max(self.longest, time - self.last)
        self.last = time
        return time

    def other(self, packet: Any) -> None:
        """Note how far another track has come."""
        if packet.pts is not None and packet.time_base:
            ticks = packet.pts + (packet.duration or 0)
            self.heard = max(self.heard, float(ticks * packet.time_base) - self.first * self.base)

    def damaged(self, why: str) -> None:
        """Note a place that could not be decoded."""
        if not self.harmed:
            self.harmed_at, self.failed = self.last, why
        self.harmed += 1

    def stopped(self, why: str) -> None:
        """Note that nothing more could be read of the file."""
        self.end = why

    def words(self, promised: float | None) -> list[str]:
        """Return, in words, all that kept the film from being read whole; nothing for a whole
        one. ``promised`` is the duration (s) in the header."""
        words = []
        if self.end:
            words.append(f"the file cannot be read on after {self.last:.2f} s ({self.end})")
        # The last frame lasts as well, as long as the longest before it at most.
        elif promised is not None and (
            max(self.last + self.longest, self.heard) < promised - _SHORT
        ):
            words.append(
                f"the file says that it lasts {promised:.2f} s, but ends after {self.last:.2f} s: "
                "it was cut off"
            )
        if self.harmed:
            places = "1 place" if self.harmed == 1 else f"{self.harmed} places"
            words.append(
                f"damaged at {places}, first after {self.harmed_at:.2f} s ({self.failed}); "
                "the pictures there are missing"
            )
        if self.unusable:
            frames = "1 frame" if self.unusable == 1 else f"{self.unusable} frames"
            words.append(
                f"{frames} left out: the time stamp is missing or not later than the one before"
            )
        return words
