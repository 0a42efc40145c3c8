"""What was read of a film held against what it truly shows."""

from dataclasses import dataclass

import numpy as np
from training.clips.clip import Clip
from training.clips.truth import Truth

from benchmarks.film_suite_fault import Fault
from benchmarks.film_suite_frames import COUNTED, counts_of
from benchmarks.film_suite_peaks import MISSED, fall_of, judged
from breakwright.model.film import FilmReading

__all__ = ["ClipScore", "score"]


@dataclass(frozen=True, slots=True)
class ClipScore:
    """``frames`` is the number of frames in which a display surely shows a value and a person
    could read it, ``right`` of those read rightly, ``wrong`` how many frames are claimed to show
    what they do not, of ``claimed``. ``spans`` and ``exact_spans`` count the same by values shown
    for at least two frames. ``states`` and ``states_right``: frames of over range and of nothing.
    ``ghosts`` are claimed values that were never shown there. ``peaks`` how many breaks there
    are, ``held`` in how many the interval holds the truth, ``narrow`` in how many it is no wider
    than it must be; ``widths`` (found, allowed) in N. ``told`` of ``must_tell`` doubts were
    there; ``codes`` are all that were."""

    name: str
    frames: int
    right: int
    claimed: int
    wrong: int
    spans: int
    exact_spans: int
    states: int
    states_right: int
    ghosts: int
    peaks: int
    held: int
    narrow: int
    widths: tuple[tuple[float | None, float], ...]
    must_tell: int
    told: int
    codes: tuple[str, ...]
    faults: tuple[Fault, ...]
    seconds: float = 0.0


def score(clip: Clip, reading: FilmReading, truth: Truth) -> ClipScore:
    """Return how well ``reading`` of the film of ``clip`` tells ``truth``."""
    counts = np.zeros(len(COUNTED), int)
    faults: list[Fault] = []
    for trace, display in zip(reading.displays, truth.displays, strict=True):
        found, wrongs = counts_of(trace, display, truth.times)
        counts += found
        faults += wrongs
    held, narrow, widths = 0, 0, []
    for peak in truth.peaks if clip.peaks else ():
        one, wrongs = judged(clip, reading.breaks, peak, fell=fall_of(truth, peak))
        faults += wrongs
        held += not any(fault.kind in MISSED for fault in wrongs)
        narrow += not wrongs
        widths.append((one, peak.width))
    surplus = len(reading.breaks) - len(truth.peaks)
    if clip.peaks and surplus > 0:
        faults.append(Fault("breaks", 0.0, "sum", f"{len(reading.breaks)}", f"{len(truth.peaks)}"))
    codes = {doubt.code for doubt in reading.doubts}
    told = [bool(codes & set(one_of)) for one_of in clip.doubts]
    faults += [
        Fault("doubt not told", 0.0, "film", ", ".join(sorted(codes)) or "none", " or ".join(one))
        for one, was in zip(clip.doubts, told, strict=True)
        if not was
    ]
    return ClipScore(
        clip.scene.name,
        **dict(zip(COUNTED, counts.tolist(), strict=True)),
        peaks=len(truth.peaks) if clip.peaks else 0,
        held=held,
        narrow=narrow,
        widths=tuple(widths),
        must_tell=len(told),
        told=sum(told),
        codes=tuple(sorted(codes)),
        faults=tuple(faults),
    )
