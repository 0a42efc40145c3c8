"""From what was seen of one display to what it showed: spans without gaps, each with its evidence.

A frame at time t is settled in a value's span if ``span.start <= t <= next.since``, ``next``
being the span after it. The frames after that and before ``next.start`` belong to the old span
only so that no hole is left: the picture was changing, and no value is claimed there.
"""

from collections import Counter
from collections.abc import Sequence
from dataclasses import replace
from itertools import pairwise

import numpy as np

from breakwright.model.film import DisplayTrace, Shown, Span
from breakwright.reading.film_confidence import ACCEPTED, distinct_frames, sureness_of
from breakwright.reading.film_dwell import dwells_of, not_longer, usual_dwell
from breakwright.reading.film_evidence import (
    FAINT,
    LOST,
    Piece,
    decimals_in,
    evidence_of,
    pieces_of,
)
from breakwright.reading.film_refresh import frame_time, refined, refresh_of
from breakwright.reading.film_track import DisplayTrack
from breakwright.reading.film_viterbi import Pace, Stretch, likeliest_story

__all__ = ["settled_until", "trace_of"]

# A seen rhythm this much off the stated refresh is some other rhythm.
_OTHER_RHYTHM = 0.3
_FEW_VALUES = 12
# States in which the old value may have been gone, or not.
_UNSURE = (Shown.UNREADABLE, Shown.OUT_OF_SIGHT)


def trace_of(track: DisplayTrack) -> DisplayTrace:
    """Return what the display of ``track`` showed, from its first frame to its last."""
    if len(track.times) == 0:
        step = track.mark.resolution or 10.0 ** -(track.mark.decimals or 0)
        return DisplayTrace(
            track.mark, (), track.mark.refresh, track.mark.decimals or 0, step, 0.0, 0.0
        )
    apart = frame_time(track.times)
    refresh = _refresh(track)
    decimals = decimals_in(track)
    evidence = evidence_of(track, decimals)
    pieces = pieces_of(evidence)
    step = track.mark.resolution or 10.0 ** -(decimals or 0)
    pace = Pace(apart, refresh, jump=_jump(pieces, step), zero=2.5 * step)
    if track.mark.refresh is None:
        rough = likeliest_story(pieces, track.times, pace=replace(pace, refresh=None))
        dwells = dwells_of(rough, track.times.tolist())
        refresh = None if refresh is None else not_longer(refresh, dwells)
        pace = replace(pace, refresh=usual_dwell(dwells) if refresh is None else refresh)
    story = likeliest_story(pieces, track.times, pace=pace)
    distinct = distinct_frames(track.change).tolist()
    clock = track.times.tolist()
    spans: list[Span] = []
    for place, stretch in enumerate(story):
        label = stretch.label
        start, end = _times(story, place, clock, apart)
        if label.value is None:
            sure, agreeing = 1.0, stretch.stop - stretch.first
            shown = label.shown
        else:
            found = sureness_of(
                story, place, evidence=evidence, distinct=distinct, times=track.times, pace=pace
            )
            sure, agreeing = found.confidence, found.agreeing
            shown = Shown.VALUE if sure >= ACCEPTED else Shown.UNREADABLE
        text = label.text if shown is not Shown.UNREADABLE else _as_read(track, stretch)
        spans.append(
            Span(
                start=start,
                end=end,
                shown=shown,
                value=label.value if shown is Shown.VALUE else None,
                text=text,
                confidence=sure,
                agreeing=agreeing,
                since=_since(story, place, spans, clock),
            )
        )
    if refresh is not None:
        refresh = refined(refresh, _changes(story, clock))
    whole = _with_gaps(spans, track, apart=apart, refresh=refresh)
    count = max(len(track.times), 1)
    return DisplayTrace(
        mark=track.mark,
        spans=tuple(whole),
        refresh=refresh,
        decimals=decimals or 0,
        step=step if track.mark.resolution else _step(whole, step),
        lost=float(np.count_nonzero(track.trust < LOST) / count),
        dim=float(np.count_nonzero(track.contrast < FAINT) / count),
    )


def settled_until(spans: Sequence[Span], place: int) -> float:
    """Return the last time (s) at which ``spans[place]`` surely still stood there."""
    if place + 1 == len(spans):
        return spans[place].end
    return max(spans[place].start, min(spans[place + 1].since, spans[place].end))


def _as_read(track: DisplayTrack, stretch: Stretch) -> str:
    """What most frames of ``stretch`` read like, whatever it means."""
    frames = track.texts[stretch.first : stretch.stop]
    return Counter(texts[0] if texts else "" for texts in frames).most_common(1)[0][0]


def _refresh(track: DisplayTrack) -> float | None:
    stated, seen = track.mark.refresh, refresh_of(track)
    if stated is None or seen is None:
        return seen if stated is None else stated
    return seen if abs(seen / stated - 1.0) < _OTHER_RHYTHM else stated


def _changes(story: Sequence[Stretch], times: Sequence[float]) -> list[float]:
    """When one value began to give way to another."""
    return [
        times[new.began]
        for old, new in pairwise(story)
        if old.label.value is not None and new.label.value is not None
    ]


def _jump(pieces: Sequence[Piece], step: float) -> float:
    """Twice the usual difference of two values that follow each other, at least two steps."""
    values = []
    for piece in pieces:
        best = max(piece.gains, key=lambda label: piece.gains[label], default=None)
        if best is not None and best.value is not None:
            values.append(best.value)
    moves = [abs(b - a) for a, b in pairwise(values) if b != a]
    return max(2.0 * step, 2.0 * float(np.median(moves)) if moves else 0.0)


def _times(
    story: Sequence[Stretch], place: int, times: Sequence[float], apart: float
) -> tuple[float, float]:
    last = place + 1 == len(story)
    end = times[-1] + apart if last else times[story[place + 1].first]
    return times[story[place].first], end


def _since(
    story: Sequence[Stretch], place: int, spans: Sequence[Span], times: Sequence[float]
) -> float:
    """The last frame that still surely showed something else."""
    if place == 0:
        return times[0]
    if spans[-1].shown in _UNSURE:
        return spans[-1].since if len(spans) > 1 else spans[-1].start
    return times[max(story[place].began - 1, story[place - 1].first)]


def _with_gaps(
    spans: Sequence[Span], track: DisplayTrack, *, apart: float, refresh: float | None
) -> list[Span]:
    """Put a span of its own where no frames are for longer than a refresh: what was shown there
    is not known."""
    times = track.times
    longest = max(1.5 * (refresh or 0.2), (refresh or 0.2) + 1.5 * apart, 2.5 * apart)
    whole = list(spans)
    for frame in np.flatnonzero(np.diff(times) > longest).tolist():
        begins, ends = float(times[frame]) + apart, float(times[frame + 1])
        place = next(n for n, span in enumerate(whole) if span.start < ends <= span.end + 1e-12)
        place = place if whole[place].start < begins else place - 1
        old = whole[place]
        gap = Span(begins, ends, Shown.UNREADABLE, None, "", 1.0, 0, float(times[frame]))
        after = [replace(old, start=ends, since=float(times[frame]))] if old.end > ends else []
        whole[place : place + 1] = [replace(old, end=begins), gap, *after]
        if not after and place + 2 < len(whole):
            follower = whole[place + 2]
            whole[place + 2] = replace(follower, since=min(follower.since, float(times[frame])))
    return _joined(whole)


def _joined(spans: Sequence[Span]) -> list[Span]:
    """One span for neighbours that are unreadable alike."""
    joined: list[Span] = []
    for span in spans:
        same = joined and joined[-1].shown is span.shown is Shown.UNREADABLE
        if same:
            before = joined[-1]
            joined[-1] = replace(
                before,
                end=span.end,
                text=before.text or span.text,
                confidence=min(before.confidence, span.confidence),
                agreeing=before.agreeing + span.agreeing,
            )
        else:
            joined.append(span)
    return joined


def _step(spans: Sequence[Span], finest: float) -> float:
    """The step between two values: where many values are all multiples of 2 or 5 of the last
    place, that."""
    values = {span.value for span in spans if span.value is not None}
    counts = {round(value / finest) for value in values}
    for times in (5, 2):
        if len(counts) >= _FEW_VALUES and all(count % times == 0 for count in counts):
            return times * finest
    return finest
