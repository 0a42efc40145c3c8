"""Charts as data and as pictures. Plotting positions against Benard's formula (i - 0.3)/(n + 0.4),
common practice in life-data work, and against lifelines' Kaplan-Meier under censoring."""

import dataclasses
import functools
import itertools
import json
import re
import struct

import pytest
from hypothesis import given
from hypothesis import strategies as st

from breakwright.report.charts.drawing import svg
from breakwright.report.charts.every import every_figure
from breakwright.report.charts.figure import Figure
from breakwright.report.charts.plotting import median_ranks
from breakwright.report.charts.readings_rows import readings_rows
from breakwright.report.charts.swarm import spread, thinned
from breakwright.report.charts.theme import DARK, LIGHT, PAGE, PHONE, PICTURE, Theme
from breakwright.report.charts.ticks import log_ticks, nice_ticks
from breakwright.report.pictures import pictures

from . import samples


@functools.cache
def figures(name: str, theme: Theme) -> dict[str, Figure]:
    answer = samples.ALL.get(name) or samples.full()
    return {figure.name: figure for figure in every_figure(answer, theme)}


def drawn_text(picture: str) -> list[str]:
    return [re.sub(r"<[^>]+>", "", t) for t in re.findall(r"<text.*?</text>", picture)]


def test_every_group_has_its_n_and_capped_pieces_have_arrows() -> None:
    answer = samples.full()
    rows = readings_rows(answer, Theme(LIGHT, PAGE))
    assert len(rows.dots) == 21  # 20 used and one left-out piece with a load
    assert sum(dot["hollow"] for dot in rows.dots) == 1
    assert [head["shape"] for head in rows.heads] == ["triangle-right"] * 4
    picture = svg(figures("", Theme(LIGHT, PAGE))["readings"])
    words = drawn_text(picture)
    assert any("n = 10, 1 left out" in text for text in words)
    assert any("n = 10, 4 'at least'" in text.replace("&#x27;", "'") for text in words)


def test_at_most_and_between_are_drawn_as_what_they_are() -> None:
    rows = readings_rows(samples.three_groups(), Theme(LIGHT, PAGE))
    assert sum(head["shape"] == "triangle-left" for head in rows.heads) == 1
    assert {"x": 0.47, "x2": 0.53}.items() <= next(
        bar for bar in rows.bars if bar["x"] == 0.47
    ).items()


@pytest.mark.parametrize("size", [PAGE, PHONE, PICTURE], ids=lambda s: s.name)
@pytest.mark.parametrize("name", sorted(samples.ALL))
def test_every_answer_has_its_charts(name: str, size: object) -> None:
    for figure in figures(name, Theme(DARK, size)).values():  # type: ignore[arg-type]
        assert figure.alt
        assert "NaN" not in json.dumps(figure.spec, allow_nan=False)


def test_without_a_break_there_is_no_probability_plot() -> None:
    assert "probability" not in figures("no-answer", Theme(LIGHT, PAGE))


def test_no_upper_limit_is_an_arrow_to_the_edge() -> None:
    figure = figures("unlimited", Theme(LIGHT, PAGE))["ratio"]
    assert "triangle-right" in json.dumps(figure.spec)
    assert "no upper limit" in figure.alt
    closed = figures("stronger", Theme(LIGHT, PAGE))["ratio"]
    assert "triangle-right" not in json.dumps(closed.spec)


def test_a_picture_is_1920_by_1080_and_always_the_same() -> None:
    first, again = pictures(samples.all_capped()), pictures(samples.all_capped())
    assert first == again
    pngs = [data for name, data in first.items() if name.endswith(".png")]
    assert len(pngs) == 8
    for data in pngs:
        # PNG (RFC 2083, 4.1.1): width and height stand in bytes 16 to 24, big-endian.
        assert data[:8] == b"\x89PNG\r\n\x1a\n"
        assert struct.unpack(">II", data[16:24]) == (1920, 1080)


def test_text_is_large_enough_for_a_video() -> None:
    for name in ("full", "many groups"):
        for figure in figures(name, Theme(LIGHT, PICTURE)).values():
            sizes = [float(s) for s in re.findall(r'font-size="([\d.]+)px"', svg(figure))]
            # In a picture of 1080 lines every letter is at least 22 px high (ours, no source).
            assert min(sizes) * 2.0 >= 22.0, figure.name


def test_svg_tells_screen_readers_what_it_shows() -> None:
    picture = svg(figures("awkward names", Theme(LIGHT, PAGE))["readings"])
    assert 'role="img"' in picture
    assert "<title>" in picture
    assert "<b>" not in picture


def test_thinning_keeps_extremes_and_says_so() -> None:
    answer = samples.large()
    figure = every_figure(answer, Theme(LIGHT, PAGE))[0]
    assert "At most 400 dots of a group are drawn" in figure.note
    rows = readings_rows(answer, Theme(LIGHT, PAGE))
    loads = [p.lower for p in answer.pieces if p.lower is not None]
    at = [dot["x"] for dot in rows.dots]
    assert (min(at), max(at)) == (min(loads), max(loads))
    assert len(at) == 800


@given(st.lists(st.floats(1.0, 1e6), min_size=1, max_size=300), st.integers(16, 80))
def test_thinned_is_an_ordered_selection(values: list[float], most: int) -> None:
    kept = thinned(values, most)
    assert len(kept) == len(set(kept)) == min(len(values), most)
    picked = [values[i] for i in kept]
    assert picked == sorted(picked)
    assert {min(values), max(values)} <= set(picked)


@given(
    st.lists(
        st.tuples(st.floats(0.0, 500.0), st.floats(0.0, 40.0)).map(lambda p: (p[0], p[0] + p[1])),
        max_size=40,
    )
)
def test_marks_of_a_row_do_not_overlap_while_there_is_room(
    spans: list[tuple[float, float]],
) -> None:
    offsets = spread(spans, apart=10.0, half=400.0)
    for i, (left, right) in enumerate(spans):
        for j, (other_left, other_right) in enumerate(spans[:i]):
            beside = left - other_right >= 10.0 or other_left - right >= 10.0
            assert beside or abs(offsets[i] - offsets[j]) >= 10.0


def test_median_ranks_without_capping_are_benards() -> None:
    n = 7
    ranks = median_ranks([float(i) for i in range(1, n + 1)], [False] * n)
    assert ranks == pytest.approx([(i - 0.3) / (n + 0.4) for i in range(1, n + 1)])


def test_median_ranks_with_capping_follow_kaplan_meier() -> None:
    """Midpoints of lifelines' Kaplan-Meier steps are within 0.02 at n = 40, whatever c is."""
    from lifelines import KaplanMeierFitter

    loads = [float(i) for i in range(1, 41)]
    capped = [i % 3 == 0 for i in range(1, 41)]
    fitter = KaplanMeierFitter().fit(loads, [not c for c in capped])
    after = fitter.survival_function_at_times(loads).to_numpy()
    before = fitter.survival_function_at_times([load - 0.5 for load in loads]).to_numpy()
    for rank, high, low in zip(median_ranks(loads, capped), before, after, strict=True):
        if rank is not None:
            assert rank == pytest.approx(1.0 - (high + low) / 2.0, abs=0.02)


@given(st.floats(0.1, 1e5), st.floats(1.05, 50.0))
def test_log_ticks_are_apart_and_inside(low: float, times: float) -> None:
    ticks = log_ticks(low, low * times, 7)
    assert all(low <= t <= low * times for t in ticks)
    apart = times ** (0.79 / 7)
    assert all(b / a >= apart for a, b in itertools.pairwise(ticks))
    assert len(ticks) >= 2


@given(st.floats(0.01, 1e6), st.integers(2, 12))
def test_linear_ticks_begin_at_nought(top: float, most: int) -> None:
    ticks = nice_ticks(0.0, top, most)
    assert ticks[0] == 0.0
    assert len(ticks) <= most + 1
    assert ticks[-1] <= top * (1 + 1e-9)


def test_a_group_without_a_median_limit_reaches_the_edge() -> None:
    answer = samples.full()
    open_ended = tuple(
        dataclasses.replace(g, median=dataclasses.replace(g.median, upper=None))
        for g in answer.groups
    )
    rows = readings_rows(dataclasses.replace(answer, groups=open_ended), Theme(LIGHT, PAGE))
    assert sum(mark["part"] == "open" for mark in rows.medians) == 2


@pytest.mark.parametrize("name", ["full", "three groups", "unlimited"])
def test_specifications_are_valid_vega_lite(name: str) -> None:
    """Against the Vega-Lite schema that ships with Altair; it raises where they are not."""
    import altair

    for figure in figures(name, Theme(LIGHT, PICTURE)).values():
        altair.Chart.from_dict(dict(figure.spec), validate=True)


def test_the_axis_holds_every_reading_whatever_the_limits() -> None:
    answer = samples.full()
    wild = tuple(
        dataclasses.replace(g, median=dataclasses.replace(g.median, upper=1e9))
        for g in answer.groups
    )
    rows = readings_rows(dataclasses.replace(answer, groups=wild), Theme(LIGHT, PAGE))
    assert 700.0 < rows.top < 2.0 * 700.0
