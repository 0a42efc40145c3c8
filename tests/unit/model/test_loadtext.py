"""Loads in words."""

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from breakwright.model.interval import Interval
from breakwright.model.loadtext import load_text, number_text, span_text
from breakwright.model.units import ForceUnit, to_newtons


@pytest.mark.parametrize(
    ("value", "text"),
    [
        (0.0, "0"),
        (3.25, "3.25"),
        (411.99999999999994, "412"),
        (1234.5, "1234.5"),
        (999999.6, "1000000"),
        (123456789.0, "123456789"),
        (0.000012, "0.000012"),
        (1e-15, "0"),
    ],
)
def test_numbers_without_exponents(value: float, text: str) -> None:
    assert number_text(value) == text


@pytest.mark.parametrize(
    ("interval", "unit", "text"),
    [
        (Interval.exact(412.0), ForceUnit.N, "412 N"),
        (Interval(411.0, 413.0), ForceUnit.N, "411 to 413 N"),
        (Interval.at_least(3200.0), ForceUnit.KN, "at least 3.2 kN"),
        (Interval.at_most(to_newtons(30.0, ForceUnit.LBF)), ForceUnit.LBF, "at most 30 lbf"),
        (Interval.exact(0.0), ForceUnit.KGF, "0 kgf"),
        (Interval.at_least(0.0), ForceUnit.N, "at least 0 N"),
    ],
)
def test_spans(interval: Interval, unit: ForceUnit, text: str) -> None:
    assert span_text(interval, unit) == text


@settings(derandomize=True, deadline=None)
@given(st.floats(1e-3, 1e7), st.sampled_from(list(ForceUnit)))
def test_what_is_written_is_the_load(value: float, unit: ForceUnit) -> None:
    text = load_text(to_newtons(value, unit), unit)
    number, symbol = text.split(" ")
    assert symbol == unit.value
    assert "e" not in number
    assert float(number) == pytest.approx(value, rel=1e-5)
