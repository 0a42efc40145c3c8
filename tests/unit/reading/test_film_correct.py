"""A person's corrections, and what follows from them."""

import pytest
from film_tracks import film_facts, filmed, mark, pull, rewritten

from breakwright.model.errors import ImpossibleValue
from breakwright.model.film import FilmReading, Shown, SpanCorrection
from breakwright.model.trial import Ending
from breakwright.reading.film_correct import corrected
from breakwright.reading.film_read import read_tracks


@pytest.fixture(scope="module")
def dark() -> FilmReading:
    """A scale that went dark for a second around the break at 6 s."""
    known = mark("left", decimals=1, resolution=0.1)
    seen = filmed(pull(20.0, 100.0), until=9.0, mark=known)
    seen = rewritten(seen, slice(150, 195), ("", 0.9), contrast=0.01)
    return read_tracks([seen.track], film_facts(9.0))


def word(start: float, end: float, value: float | None = None, **other: str) -> SpanCorrection:
    shown = Shown.VALUE if value is not None else Shown(other.pop("shown", "blank"))
    return SpanCorrection(
        **{"display": "left", "reason": "seen by eye", **other},
        start=start,
        end=end,
        shown=shown,
        value=value,
    )


def test_a_correction_changes_the_break(dark: FilmReading) -> None:
    assert dark.breaks[0].upper is None
    better = corrected(dark, [word(5.0, 5.8, 95.0), word(5.8, 6.05, 100.0), word(6.05, 6.5, 0.0)])
    (found,) = better.breaks
    assert found.ending is Ending.BROKE
    assert found.lower == pytest.approx(99.95)
    assert found.upper is not None
    assert "screen-lost" not in {doubt.code for doubt in better.doubts}
    assert sum(span.corrected for span in better.displays[0].spans) == 3


def test_what_it_overlaps_is_split_at_its_ends(dark: FilmReading) -> None:
    better = corrected(dark, [word(0.2, 0.4, 7.0)])
    first, new, rest = better.displays[0].spans[:3]
    assert (first.start, first.end, first.value) == (0.0, 0.2, 0.0)
    assert (new.start, new.end, new.value, new.text, new.confidence) == (0.2, 0.4, 7.0, "7.0", 1.0)
    assert (rest.start, rest.value, rest.since) == (0.4, 0.0, 0.4)
    ends = [span.end for span in better.displays[0].spans]
    assert ends[:-1] == [span.start for span in better.displays[0].spans[1:]]
    assert ends[-1] == dark.displays[0].spans[-1].end


def test_the_machines_reading_is_untouched_and_a_later_word_wins(dark: FilmReading) -> None:
    before = dark.displays[0].spans
    better = corrected(dark, [word(0.2, 0.4, 7.0), word(0.2, 0.4, 8.0)])
    assert [span.value for span in better.displays[0].spans if span.corrected] == [8.0]
    assert dark.displays[0].spans == before
    assert corrected(dark, []) == dark


@pytest.mark.parametrize(
    ("wrong", "words"),
    [
        (word(0.2, 0.4, 1.0, display="middle"), "no display 'middle'"),
        (word(0.4, 0.2, 1.0), "the end comes after the start"),
        (word(2.0, 99.0, 1.0), "the film shows it"),
        (word(0.2, 0.4, None, shown="value"), "a value needs a number"),
        (word(0.2, 0.4, float("inf")), "no number"),
        (word(0.2, 0.4, 1.0, reason="  "), "no reason"),
    ],
)
def test_an_impossible_correction_is_refused(
    dark: FilmReading, wrong: SpanCorrection, words: str
) -> None:
    with pytest.raises(ImpossibleValue, match=words):
        corrected(dark, [wrong])
