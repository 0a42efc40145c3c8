"""A peak as an entry: outward rounding, and who does the widening."""

import math

import pytest
from bench_double import STUDY
from hypothesis import given
from hypothesis import strategies as st

from breakwright.model.interval import Interval
from breakwright.model.trial import Ending
from breakwright.model.units import ForceUnit, to_newtons
from breakwright.reading.stream_peak import Doubt, Peak
from breakwright.wire.entry import entry_of, load_typed, place_of
from breakwright.wire.server import Display, NotTaken, StudySeen


def peak(lower: float, upper: float, **more: object) -> Peak:
    given: dict[str, object] = {
        "interval": Interval(lower, upper),
        "shown": lower,
        "time": 3.0,
        "ending": Ending.BROKE,
        "rate": 100.0,
        "missed": upper - lower,
        "apart": 0.1,
        "rest": 0.0,
        "slips": 0,
        "doubts": (),
    }
    return Peak(**{**given, **more})  # type: ignore[arg-type]


def study(*displays: Display, shared: bool = False, unit: ForceUnit = ForceUnit.N) -> StudySeen:
    return StudySeen(STUDY, "pegs", "Pegs", unit, shared, displays, ())


@given(
    st.floats(0.001, 1e8),
    st.one_of(st.just(math.inf), st.floats(0.0, 1e6)),
    st.sampled_from(list(ForceUnit)),
)
def test_what_is_typed_holds_the_interval(lower: float, more: float, unit: ForceUnit) -> None:
    typed = load_typed(lower, lower + more, unit)
    slack = 1.0 + 1e-11
    if typed.startswith(">"):
        assert math.isinf(more)
        low, high = float(typed[1:]), math.inf
    else:
        low_text, _, high_text = typed.partition("..")
        low, high = float(low_text), float(high_text or low_text)
    assert to_newtons(low, unit) <= lower * slack
    assert to_newtons(low, unit) >= lower * (1 - 1e-5)
    if high_text_matters := not math.isinf(more) and low != high:
        assert to_newtons(high, unit) * slack >= lower + more
    assert high_text_matters or math.isinf(more) or more <= lower * 1e-5


def test_a_plain_study_gets_the_range() -> None:
    entry = entry_of(peak(1000.0, 1010.0), study(), place=0, day="2026-01-31", failure="shank")
    assert (entry.loads, entry.unit, entry.rate) == (("1000..1010",), "N", None)
    assert (entry.failure, entry.date, entry.ended) == ("shank", "2026-01-31", Ending.BROKE)
    assert entry.scale is None


def test_a_study_that_reckons_with_the_refresh_gets_peak_and_rate() -> None:
    display = Display("cell", None, 5000.0, refresh=0.1)
    entry = entry_of(peak(1000.0, 1010.0), study(display), place=0, day="2026-01-31")
    assert (entry.loads, entry.rate) == (("1000",), "100")


@pytest.mark.parametrize(
    "found",
    [
        # The hole after the peak was longer than the refresh that the study reckons with.
        peak(1000.0, 1025.0, apart=0.25),
        peak(1000.0, 1010.0, doubts=(Doubt.LONE_SAMPLE,)),
        peak(1000.0, 1010.0, rate=None),
    ],
)
def test_where_the_study_would_reckon_too_little_it_gets_the_range(found: Peak) -> None:
    display = Display("cell", None, 5000.0, refresh=0.1)
    entry = entry_of(found, study(display), place=0, day="2026-01-31")
    assert entry.rate is None
    assert ".." in entry.loads[0]


def test_the_step_is_put_on_once() -> None:
    wide = peak(999.5, 1010.5, shown=1000.0)
    plain = entry_of(wide, study(), place=0, day="2026-01-31")
    stated = entry_of(wide, study(Display("c", 1.0, None, None)), place=0, day="2026-01-31")
    assert (plain.loads, stated.loads) == (("999.5..1010.5",), ("1000..1010",))


def test_open_above_is_at_least() -> None:
    found = peak(1000.0, math.inf, ending=Ending.OVER_RANGE, missed=math.inf)
    entry = entry_of(found, study(Display("c", None, None, 0.1)), place=0, day="2026-01-31")
    assert (entry.loads, entry.ended) == ((">1000",), Ending.OVER_RANGE)


def test_several_displays() -> None:
    left, right = Display("left", None, None, None), Display("right", None, None, None)
    found = peak(1000.0, 1000.0)
    shared = entry_of(found, study(left, right, shared=True), place=1, day="2026-01-31")
    single = entry_of(found, study(left, right), place=1, day="2026-01-31")
    assert (shared.loads, shared.scale) == (("", "1000"), None)
    assert (single.loads, single.scale) == (("1000",), "right")
    assert place_of(study(left, right), "right") == 1
    for name in (None, "middle"):
        with pytest.raises(NotTaken, match="'left', 'right'"):
            place_of(study(left, right), name)
