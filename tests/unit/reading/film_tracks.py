"""Made-up tracks of displays, where the load and what was shown are known: a load is sampled at
each refresh, shown on a liquid crystal that mixes old and new for a while, and read with noise."""

from collections.abc import Callable
from dataclasses import dataclass, replace

import numpy as np

from breakwright.model.film import DisplayMark, FilmFacts, Quad
from breakwright.reading.film_segments import union
from breakwright.reading.film_track import DisplayTrack

Load = Callable[[float], float]

QUAD = Quad((10.0, 10.0), (60.0, 10.0), (60.0, 30.0), (10.0, 30.0))


@dataclass(frozen=True)
class Screen:
    """How a display behaves and how it is filmed. Times in s, ``step`` in its unit; ``ghost``
    frames show old and new at once; ``noise`` is the share of frames read wrongly or unsurely."""

    step: float = 0.1
    decimals: int = 1
    refresh: float = 0.25
    phase: float = 0.0
    fps: float = 30.0
    ghost: int = 0
    noise: float = 0.0
    capacity: float | None = None
    hold: bool = False


@dataclass(frozen=True)
class Filmed:
    """``shown`` is the text of each frame's truth, None while it mixes; ``values`` its value."""

    track: DisplayTrack
    shown: tuple[str | None, ...]
    values: tuple[float | None, ...]


def film_facts(duration: float = 10.0, *, ended_early: str | None = None) -> FilmFacts:
    return FilmFacts(1920, 1080, 0, round(30 * duration), duration, "h264", True, ended_early)


def mark(name: str = "left", **known: float | int | str | None) -> DisplayMark:
    return replace(DisplayMark(name, QUAD), **known)


def pull(rate: float, peak: float, *, begins: float = 1.0, left: float = 0.0) -> Load:
    """Zero, a steady rise from ``begins`` (s) to ``peak``, then ``left`` at once."""
    breaks = begins + peak / rate

    def load(time: float) -> float:
        if time < begins:
            return 0.0
        return rate * (time - begins) if time <= breaks else left

    return load


def filmed(
    load: Load,
    *,
    until: float,
    screen: Screen | None = None,
    mark: DisplayMark | None = None,
    seed: int = 0,
) -> Filmed:
    """Film ``load`` (in the display's unit) for ``until`` s."""
    screen = screen or Screen()
    mark = mark or DisplayMark("left", QUAD, decimals=screen.decimals, resolution=screen.step)
    generator = np.random.default_rng(seed)
    times = np.arange(round(until * screen.fps)) / screen.fps
    beat = np.floor((times - screen.phase) / screen.refresh + 1e-9).astype(int)
    texts: list[tuple[str, ...]] = []
    scores = np.full((len(times), 4), -np.inf, np.float32)
    change = np.abs(generator.normal(0.004, 0.001, len(times))).astype(np.float32)
    shown: list[str | None] = []
    highest = 0.0
    samples: dict[int, str] = {}
    for number in range(int(beat.min()) - 1, int(beat.max()) + 1):
        value = load(number * screen.refresh + screen.phase)
        highest = max(highest, value)
        samples[number] = _text(highest if screen.hold else value, screen)
    for frame, number in enumerate(beat.tolist()):
        now, before = samples[number], samples[number - 1]
        since = frame - int(np.searchsorted(beat, number))
        fresh = now != before and frame > 0
        if fresh and since == 0:
            change[frame] += 0.2
        if fresh and since < screen.ghost:
            shown.append(None)
            mixed = union(before, now)
            row = [(mixed, 0.9), (now, 0.05)] if mixed else [("", 0.6), (now, 0.3)]
        else:
            shown.append(now)
            row = _noisy(now, generator, screen.noise)
        texts.append(tuple(text for text, _ in row))
        scores[frame, : len(row)] = np.log([share for _, share in row])
    count = len(times)
    track = DisplayTrack(
        mark=mark,
        times=times,
        texts=tuple(texts),
        scores=scores,
        change=change,
        contrast=np.full(count, 0.5, np.float32),
        trust=np.full(count, 0.95, np.float32),
        inside=np.ones(count, np.float32),
    )
    return Filmed(track, tuple(shown), tuple(map(_value, shown)))


def rewritten(seen: Filmed, frames: slice, *texts: tuple[str, float], **arrays: float) -> Filmed:
    """Replace what was read in ``frames`` (each text with its probability) and the arrays named
    (``contrast``, ``trust``, ``inside``)."""
    track = seen.track
    named = list(track.texts)
    scores = track.scores.copy()
    places = range(*frames.indices(len(named)))
    for place in places if texts else ():
        named[place] = tuple(text for text, _ in texts)
        scores[place] = -np.inf
        scores[place, : len(texts)] = np.log([share for _, share in texts])
    changed = {name: getattr(track, name).copy() for name in arrays}
    for name, value in arrays.items():
        changed[name][frames] = value
    return Filmed(
        replace(track, texts=tuple(named), scores=scores, **changed),
        tuple(None if n in places else text for n, text in enumerate(seen.shown)),
        tuple(None if n in places else value for n, value in enumerate(seen.values)),
    )


def without_frames(seen: Filmed, frames: slice) -> Filmed:
    """A film in which ``frames`` were never written."""
    track = seen.track
    keep = np.ones(len(track.times), bool)
    keep[frames] = False
    places = np.flatnonzero(keep).tolist()
    return Filmed(
        replace(
            track,
            times=track.times[keep],
            texts=tuple(track.texts[n] for n in places),
            scores=track.scores[keep],
            change=track.change[keep],
            contrast=track.contrast[keep],
            trust=track.trust[keep],
            inside=track.inside[keep],
        ),
        tuple(seen.shown[n] for n in places),
        tuple(seen.values[n] for n in places),
    )


def _text(value: float, screen: Screen) -> str:
    if screen.capacity is not None and value > screen.capacity:
        return "0L"
    steps = round(value / screen.step)
    return f"{steps * screen.step + 0.0:.{screen.decimals}f}"


def _value(text: str | None) -> float | None:
    try:
        return None if text is None else float(text)
    except ValueError:
        return None


def _noisy(text: str, generator: np.random.Generator, noise: float) -> list[tuple[str, float]]:
    if generator.random() >= noise:
        return [(text, 0.985)]
    kind = generator.integers(4)
    if kind == 0:
        return [("", 0.8), (text, 0.1)]
    places = [n for n, sign in enumerate(text) if sign.isdigit()]
    place = int(generator.choice(places)) if places else 0
    wrong = text[:place] + str(generator.integers(10)) + text[place + 1 :]
    if wrong == text:
        return [(text, 0.7)]
    if kind == 1:
        return [(wrong, 0.6), (text, 0.35)]
    if kind == 2:
        return [(text, 0.6), (wrong, 0.35)]
    return [(text.replace(".", ""), 0.6), (text, 0.38)]
