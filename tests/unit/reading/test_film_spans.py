"""What one display showed, from noisy readings of each frame, where the truth is known."""

from itertools import pairwise

import numpy as np
import pytest
from film_tracks import Filmed, Screen, filmed, mark, pull, rewritten, without_frames
from hypothesis import given, settings
from hypothesis import strategies as st

from breakwright.model.film import DisplayTrace, Shown
from breakwright.reading.film_refresh import refined, refresh_of
from breakwright.reading.film_segments import lies_between, union
from breakwright.reading.film_spans import settled_until, trace_of
from breakwright.reading.film_texts import Kind, Rules


def settled(seen: Filmed, trace: DisplayTrace) -> list[tuple[int, float]]:
    """Frames that the trace claims, with the value that it claims for them."""
    claimed = []
    place = 0
    for frame, time in enumerate(seen.track.times.tolist()):
        while time >= trace.spans[place].end:
            place += 1
        span = trace.spans[place]
        if span.value is not None and time <= settled_until(trace.spans, place):
            claimed.append((frame, span.value))
    return claimed


def wrong_in(seen: Filmed, claimed: list[tuple[int, float]]) -> list[int]:
    """Claimed frames whose value is neither the truth nor, in a mixture, the old or new one."""
    wrong = []
    for frame, value in claimed:
        ahead = (v for v in seen.values[frame:] if v is not None)
        behind = (v for v in reversed(seen.values[: frame + 1]) if v is not None)
        if value not in (next(ahead, None), next(behind, None)):
            wrong.append(frame)
    return wrong


@settings(max_examples=25)
@given(
    seed=st.integers(0, 10_000),
    rate=st.floats(3.0, 60.0),
    screen=st.sampled_from(
        [
            Screen(refresh=0.25, ghost=2, noise=0.03),
            Screen(refresh=0.1, ghost=1, noise=0.02),
            Screen(refresh=0.1, ghost=0, noise=0.05),
            Screen(refresh=0.5, ghost=3, noise=0.05),
            Screen(refresh=0.1, ghost=3, fps=60.0, noise=0.03),
        ]
    ),
)
def test_no_mixture_and_no_misreading_is_ever_settled(
    seed: int, rate: float, screen: Screen
) -> None:
    seen = filmed(pull(rate, rate * 3.0), until=5.5, screen=screen, seed=seed)
    trace = trace_of(seen.track)
    claimed = settled(seen, trace)
    assert wrong_in(seen, claimed) == []
    known = sum(value is not None for value in seen.values)
    # Of the fastest and noisiest of these films, too.
    assert len(claimed) > 0.75 * known


@pytest.mark.parametrize(
    "screen",
    [
        Screen(refresh=0.25, ghost=1),
        Screen(refresh=0.1),
        Screen(refresh=0.125, ghost=1),
        Screen(refresh=0.5, fps=60.0),
        Screen(refresh=1.0),
        Screen(refresh=0.1, ghost=6, fps=240.0),
    ],
)
def test_the_refresh_is_seen(screen: Screen) -> None:
    seen = filmed(pull(17.3, 200.0), until=13.0, screen=screen)
    assert trace_of(seen.track).refresh == pytest.approx(screen.refresh, rel=0.01)


def test_a_still_film_has_no_refresh() -> None:
    assert refresh_of(filmed(lambda _: 5.0, until=3.0).track) is None


def test_a_refresh_found_too_short_is_put_right() -> None:
    times = [0.5 * n for n in range(20)]
    assert refined(0.25, times) == pytest.approx(0.5)
    assert refined(0.51, times) == pytest.approx(0.5)
    assert refined(0.25, [0.0, 0.26, 0.5, 1.0]) == 0.25


def test_spans_have_no_holes_and_know_when_they_came() -> None:
    seen = filmed(pull(20.0, 90.0), until=7.0, screen=Screen(ghost=2, noise=0.05))
    spans = trace_of(seen.track).spans
    assert spans[0].start == 0.0
    for before, after in pairwise(spans):
        assert before.end == after.start
        assert after.since < after.start


def test_a_bad_frame_is_bridged_and_a_run_of_them_is_not() -> None:
    seen = filmed(lambda _: 42.0, until=4.0)
    one = rewritten(seen, slice(50, 51), ("12.0", 0.9))
    assert [span.text for span in trace_of(one.track).spans] == ["42.0"]
    many = rewritten(seen, slice(50, 70), ("", 0.5), ("1", 0.2))
    shown = [span.shown for span in trace_of(many.track).spans]
    assert shown == [Shown.VALUE, Shown.UNREADABLE, Shown.VALUE]


def test_dark_lost_and_over_range_are_told_apart() -> None:
    seen = filmed(lambda _: 42.0, until=6.0)
    seen = rewritten(seen, slice(30, 60), ("", 0.95), contrast=0.02)
    seen = rewritten(seen, slice(90, 120), trust=0.0)
    seen = rewritten(seen, slice(150, None), ("0L", 0.95))
    spans = trace_of(seen.track).spans
    assert [span.shown for span in spans] == [
        Shown.VALUE,
        Shown.BLANK,
        Shown.VALUE,
        Shown.OUT_OF_SIGHT,
        Shown.VALUE,
        Shown.OVER_RANGE,
    ]
    assert spans[-1].text == "0L"
    assert spans[1].start == pytest.approx(1.0)


def test_a_row_cut_by_the_edge_is_out_of_sight() -> None:
    seen = rewritten(filmed(lambda _: 42.0, until=3.0), slice(45, None), inside=0.8)
    assert trace_of(seen.track).spans[-1].shown is Shown.OUT_OF_SIGHT


def test_an_unsure_value_is_unreadable_and_keeps_what_was_read() -> None:
    seen = filmed(lambda _: 42.0, until=2.0)
    seen = rewritten(seen, slice(0, None), ("42.0", 0.5), ("47.0", 0.45))
    (span,) = trace_of(seen.track).spans
    assert (span.shown, span.value, span.text) == (Shown.UNREADABLE, None, "42.0")
    assert span.confidence < 0.97


def test_a_point_that_is_lost_is_put_back() -> None:
    seen = filmed(pull(20.0, 90.0), until=7.0)
    seen = rewritten(seen, slice(70, 74), ("", 0.5))
    texts = tuple((row[0].replace(".", ""), *row[1:]) for row in seen.track.texts[100:130])
    whole = (*seen.track.texts[:100], *texts, *seen.track.texts[130:])
    track = type(seen.track)(
        **{
            name: getattr(seen.track, name)
            for name in ("mark", "times", "scores", "change", "contrast", "trust", "inside")
        },
        texts=whole,
    )
    lost = Filmed(track, seen.shown, seen.values)
    assert wrong_in(lost, settled(lost, trace_of(track))) == []


def test_a_range_change_is_followed() -> None:
    # 98.00, 99.00 and then 100.0: the display has four places.
    def text(value: float) -> str:
        return f"{value:.2f}" if value < 100.0 else f"{value:.1f}"

    seen = filmed(lambda t: 90.0 + 4.0 * np.floor(t), until=8.0, screen=Screen(refresh=1.0))
    rows = tuple((text(float(row[0])),) for row in seen.track.texts)
    known = {"decimals": 2, "resolution": None}
    track = type(seen.track)(
        mark=mark(**known),
        texts=rows,
        **{
            name: getattr(seen.track, name)
            for name in ("times", "scores", "change", "contrast", "trust", "inside")
        },
    )
    values = [span.value for span in trace_of(track).spans]
    assert values == [90.0, 94.0, 98.0, 102.0, 106.0, 110.0, 114.0, 118.0]


def test_a_hole_in_the_film_is_unknown() -> None:
    seen = without_frames(filmed(pull(20.0, 100.0), until=8.0), slice(90, 120))
    gaps = [span for span in trace_of(seen.track).spans if span.agreeing == 0]
    assert [(g.shown, g.start, g.end) for g in gaps] == [
        (Shown.UNREADABLE, pytest.approx(3.0), pytest.approx(4.0))
    ]


def test_copies_of_a_frame_do_not_agree_with_it() -> None:
    seen = filmed(pull(20.0, 100.0), until=8.0)
    change = seen.track.change.copy()
    change[4::5] = 0.0
    seen.track.change[:] = change
    spans = trace_of(seen.track).spans
    flat = max(spans, key=lambda span: span.agreeing)
    frames = round((flat.end - flat.start) * 30)
    assert flat.agreeing <= 0.85 * frames


def test_no_frames_are_no_spans() -> None:
    seen = without_frames(filmed(lambda _: 1.0, until=1.0), slice(0, None))
    assert trace_of(seen.track).spans == ()


def test_texts_are_read_by_what_is_known_of_the_display() -> None:
    rules = Rules(decimals=1, resolution=0.5, capacity=100.0, digits=4)
    assert rules.meanings("23.5")[0].cost == 0.0
    assert rules.meanings("23.4")[0].cost > 0.0
    assert rules.meanings("350.0")[0].cost > 0.0
    assert rules.meanings("12345.0")[0].cost > rules.meanings("350.0")[0].cost
    assert [rules.meanings(t)[0].kind for t in ("0L", "----", "Err", "EEEE", "", "Lo", "-")] == [
        *[Kind.OVER_RANGE] * 4,
        Kind.BLANK,
        Kind.NONSENSE,
        Kind.NONSENSE,
    ]
    assert rules.meanings("-0.0")[0].text == "0.0"


def test_what_a_display_shows_between_two_numbers() -> None:
    # The measured case: 239.9 was read for 234.9 going on to 235.1 (segments of 4 and 5 are 9).
    assert union("234.9", "235.1") == "239.9"
    assert lies_between("239.9", "234.9", "235.1")
    assert lies_between("0", "8", "")
    assert not lies_between("8", "0", "")
    assert not lies_between("234.7", "234.9", "234.9")
