"""What one frame says is no value, and is not lost either; a range without room for its point."""

from itertools import pairwise

import numpy as np
from film_tracks import Screen, film_facts, filmed, mark, pull, rewritten

from breakwright.model.film import Shown
from breakwright.reading.film_read import read_tracks

FAST = Screen(refresh=1 / 30)


def held_then_gone(time: float) -> float:
    return 30.0 if 1.0 <= time < 3.0 else 0.0


def test_the_interval_reaches_the_number_of_a_lone_frame_at_the_peak() -> None:
    known = mark(refresh=1 / 30, decimals=1, resolution=0.1)
    seen = filmed(held_then_gone, until=4.5, screen=FAST, mark=known)
    last = int(np.flatnonzero([text == "30.0" for text in seen.shown])[-1])
    seen = rewritten(seen, slice(last, last + 1), ("37.0", 0.9999))
    seen = rewritten(seen, slice(last + 1, last + 2), ("6.2", 0.99))
    reading = read_tracks((seen.track,), film_facts(4.5))
    (found,) = reading.breaks
    assert found.upper is None or found.upper >= 37.0 + 0.1
    assert "lone-peak" in {doubt.code for doubt in reading.doubts}


def test_without_room_for_the_point_the_number_is_not_divided_by_ten() -> None:
    known = mark(refresh=0.25, decimals=1, resolution=0.1, digits=3)
    seen = filmed(pull(30.0, 150.0), until=8.0, mark=known)
    for frame, text in enumerate(seen.shown):
        if text is not None and float(text) >= 100.0:
            seen = rewritten(seen, slice(frame, frame + 1), (str(int(float(text))), 0.9999))
    (trace,) = read_tracks((seen.track,), film_facts(8.0)).displays
    values = [span.value for span in trace.spans if span.shown is Shown.VALUE and span.value]
    assert max(values) >= 140.0
    assert not [b for a, b in pairwise(values) if b < 0.2 * a and b > 5.0]
