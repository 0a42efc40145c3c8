"""``python -m benchmarks.film_speed``: what reading two displays costs beside decoding alone.

The film is drawn by ``training.clips`` at 1920 x 1080, 30 frames a second, and looped without
coding it anew. Decoding alone and the whole reading take turns in one process; the ratio is that
of the median times. The memory is the peak of a process of its own that reads a long film.
"""

import argparse
import subprocess
import sys
import tempfile
import time
from collections.abc import Sequence
from dataclasses import dataclass, replace
from pathlib import Path
from statistics import median

from training.clips.catalogue import SCENES
from training.clips.scene import Scene
from training.clips.shoot import film
from training.clips.truth import marks

from breakwright.model.film import DisplayMark
from breakwright.usecases.film import read_film
from breakwright.video.digit_network import digit_reader
from breakwright.video.film_file import open_film

__all__ = ["MOST_MEMORY", "MOST_RATIO", "Row", "measure", "run"]

MOST_RATIO = 1.25
MOST_MEMORY = 600.0  # MB
# Encoder and quality such that the rate is about a phone's (20 and 10 Mbit/s; common practice, no
# source): decoding time goes with it, and a film with few bits would ask too much of the reading.
CODECS = {"H.264": ("libx264", 18), "HEVC": ("libx265", 20)}
LONG_MINUTES = 20.0

_SEED = 11
_MEGABYTE = 1e6


@dataclass(frozen=True, slots=True)
class Row:
    """One codec at ``rate`` Mbit/s: how many frames, ms a frame of decoding alone and of reading,
    and the peak memory (MB) over ``long_minutes`` of film (None: not measured)."""

    codec: str
    rate: float
    frames: int
    decode: float
    read: float
    memory: float | None
    long_minutes: float

    @property
    def ratio(self) -> float:
        return self.read / self.decode


def measure(*, minutes: float = LONG_MINUTES, repeats: int = 3, loops: int = 3) -> tuple[Row, ...]:
    """Measure each codec; ``minutes`` of film for the memory (0: leave it out), ``loops`` of the
    six-second clip for the speed."""
    return tuple(_measured(name, minutes=minutes, repeats=repeats, loops=loops) for name in CODECS)


def run() -> str:
    """Return the table as text for the page of benchmarks."""
    return "\n".join(_lines(measure()))


def _measured(codec: str, *, minutes: float, repeats: int, loops: int) -> Row:
    with tempfile.TemporaryDirectory() as folder:
        clip, timed, long = (Path(folder) / f"{name}.mp4" for name in ("clip", "timed", "long"))
        truth = film(_scene(*CODECS[codec]), clip, seed=_SEED)
        asked = marks(truth)
        looped(clip, timed, loops)
        decoding, reading, frames = [], [], 0
        for _ in range(repeats):
            start = time.perf_counter()
            frames = _decoded(timed)
            decoding.append(time.perf_counter() - start)
            start = time.perf_counter()
            _read(timed, asked)
            reading.append(time.perf_counter() - start)
        memory = None
        if minutes:
            rounds = round(minutes * 60.0 / SCENES["plain"].seconds)
            looped(clip, long, rounds)
            memory = _peak(long)
        return Row(
            codec,
            clip.stat().st_size * 8e-6 / SCENES["plain"].seconds,
            frames,
            1000.0 * median(decoding) / frames,
            1000.0 * median(reading) / frames,
            memory,
            minutes,
        )


def _scene(codec: str, quality: int) -> Scene:
    """The plain pull on two displays, twice as large."""
    plain = SCENES["plain"]
    units = tuple(
        replace(
            unit,
            place=replace(
                unit.place, x=2 * unit.place.x, y=2 * unit.place.y, digit=2 * unit.place.digit
            ),
        )
        for unit in plain.units
    )
    camera = replace(plain.camera, width=1920, height=1080, codec=codec, quality=quality, shake=3.0)
    return replace(plain, units=units, camera=camera)


def _decoded(path: Path) -> int:
    import av

    with av.open(str(path)) as container:
        stream = container.streams.video[0]
        stream.thread_type = "AUTO"
        return sum(1 for _ in container.decode(stream))


def _read(path: Path, asked: Sequence[DisplayMark]) -> None:
    read_film(open_film(path), asked, digit_reader(), tell=_untold)


def _untold(_done: float, _whole: float) -> None:
    """Nobody watches."""


def looped(clip: Path, to: Path, times: int) -> None:
    """Write the pictures of ``clip`` ``times`` times one after the other, as they are coded."""
    import av

    with av.open(str(to), "w") as target:
        track = None
        begun = 0
        for _ in range(times):
            end = 0
            with av.open(str(clip)) as source:
                stream = source.streams.video[0]
                if track is None:
                    track = target.add_stream_from_template(stream)
                for packet in source.demux(stream):
                    if packet.dts is None or packet.pts is None:
                        continue
                    end = max(end, packet.pts + (packet.duration or 0))
                    packet.pts += begun
                    packet.dts += begun
                    packet.stream = track
                    target.mux(packet)
            begun += end


def _peak(path: Path) -> float:
    """Read ``path`` in a process of its own; its peak memory in MB."""
    done = subprocess.run(
        [sys.executable, "-m", "benchmarks.film_speed", "--alone", str(path)],
        capture_output=True,
        text=True,
        check=False,
    )
    if done.returncode:
        raise RuntimeError(f"reading the long film failed:\n{done.stderr}")
    return float(done.stdout.split()[-1])


def _alone(path: Path) -> None:
    # Drawing is left out of the memory: the marks follow from the scene without a picture.
    from training.clips.take import take

    _read(path, marks(take(_scene(*CODECS["H.264"]), seed=_SEED).truth))
    status = Path("/proc/self/status").read_text(encoding="ascii")
    peak = next(line for line in status.splitlines() if line.startswith("VmHWM:"))
    print(float(peak.split()[1]) * 1024.0 / _MEGABYTE)


def _lines(rows: Sequence[Row]) -> list[str]:
    lines = [
        "Two displays at 1920 x 1080, 30 frames a second; decoding alone and the whole reading in "
        f"turns. Bounds: ratio {MOST_RATIO:.2f}, memory {MOST_MEMORY:.0f} MB.",
        "",
        "| codec | Mbit/s | frames | decode, ms a frame | read, ms a frame | ratio "
        "| peak memory, MB |",
        "|---|---|---|---|---|---|---|",
    ]
    for row in rows:
        memory = "" if row.memory is None else f"{row.memory:.0f} ({row.long_minutes:g} min)"
        lines.append(
            f"| {row.codec} | {row.rate:.1f} | {row.frames} | {row.decode:.2f} | {row.read:.2f} "
            f"| {row.ratio:.2f} | {memory} |"
        )
    return lines


def main() -> None:
    """Measure and print the table."""
    asked = argparse.ArgumentParser(description=__doc__)
    asked.add_argument("--minutes", type=float, default=LONG_MINUTES)
    asked.add_argument("--repeats", type=int, default=3)
    asked.add_argument("--alone", type=Path, help=argparse.SUPPRESS)
    given = asked.parse_args()
    if given.alone is not None:
        _alone(given.alone)
        return
    print("\n".join(_lines(measure(minutes=given.minutes, repeats=given.repeats))))


if __name__ == "__main__":
    main()
