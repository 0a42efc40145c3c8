"""From what was seen of each display to the whole reading of a film."""

from collections.abc import Sequence

from breakwright.model.film import DisplayTrace, FilmFacts, FilmReading
from breakwright.reading.film_breaks import breaks_of, pulls_in
from breakwright.reading.film_doubts import doubts_of
from breakwright.reading.film_frozen import with_frozen
from breakwright.reading.film_spans import trace_of
from breakwright.reading.film_sum import all_samples, total_of_samples
from breakwright.reading.film_track import DisplayTrack

__all__ = ["read_tracks", "reading_of"]


def read_tracks(tracks: Sequence[DisplayTrack], facts: FilmFacts) -> FilmReading:
    """Return what the displays showed, their sum, the breaks and the doubts.

    Displays whose unit is not known are taken to show N. A film without a frame has no spans.
    """
    return reading_of(facts, [trace_of(track) for track in tracks])


def reading_of(facts: FilmFacts, displays: Sequence[DisplayTrace]) -> FilmReading:
    """Return the reading that follows from the traces alone: the same after a correction."""
    displays = with_frozen(displays)
    samples = all_samples(displays)
    pulls = pulls_in(displays, samples)
    breaks = breaks_of(displays)
    return FilmReading(
        facts=facts,
        displays=tuple(displays),
        total=total_of_samples(samples),
        breaks=breaks,
        doubts=doubts_of(facts, displays, samples, pulls, breaks),
    )
