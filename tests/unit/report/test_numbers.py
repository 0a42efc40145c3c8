"""How numbers are written. Expected texts: the project's own rules (plain rounding by hand)."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from breakwright.model.units import ForceUnit
from breakwright.report.numbers import (
    NBSP,
    chance_text,
    count_text,
    level_text,
    load_format,
    p_text,
    percent_change,
    percent_text,
    ratio_limits,
    ratio_text,
)


def plain(text: str) -> str:
    return text.replace(NBSP, " ").replace("\u202f", " ")


def test_a_table_of_loads_has_one_number_of_decimals() -> None:
    form = load_format([980.665, 4903.325, 9806.65], ForceUnit.KGF)
    assert [plain(form.load(v)) for v in (980.665, 4903.325, 9806.65)] == [
        "100 kgf",
        "500 kgf",
        "1 000 kgf",
    ]


def test_small_loads_do_not_become_nought() -> None:
    form = load_format([5.0, 900000.0, 900000.0], ForceUnit.KN)
    assert plain(form.load(5.0)) == "0.005 kN"


def test_the_unit_stays_on_its_line() -> None:
    form = load_format([412.0], ForceUnit.N)
    assert form.load(412.0) == f"412{NBSP}N"


def test_missing_limits_are_said_in_words() -> None:
    form = load_format([412.0], ForceUnit.N)
    assert plain(form.between(400.0, None)) == "at least 400 N, no upper limit"
    assert plain(form.between(None, 400.0)) == "at most 400 N, no lower limit"
    assert form.between(None, None) == "no limits"
    assert ratio_limits(1.2, None) == "at least 1.20, no upper limit"
    assert ratio_limits(None, 0.8) == "no lower limit, at most 0.80"
    assert ratio_limits(None, None) == "no limits"


@pytest.mark.parametrize(
    ("share", "text"),
    [
        (1.0, "more than 99.9 %"),
        (0.0, "less than 0.1 %"),
        (0.9942, "99.4 %"),
        (0.5, "50 %"),
        (0.004, "0.4 %"),
        (None, "–"),
    ],
)
def test_no_chance_is_ever_certain(share: float | None, text: str) -> None:
    assert plain(chance_text(share)) == text


@given(st.floats(0.0, 1.0))
def test_a_chance_never_reads_0_or_100(share: float) -> None:
    assert plain(chance_text(share)) not in {"0 %", "100 %", "0.0 %", "100.0 %"}


@given(st.floats(0.01, 90.0), st.sampled_from([1.05, 1.2, 1.5, 3.0]))
def test_a_rounded_limit_stays_on_its_side_of_what_matters(ratio: float, worth: float) -> None:
    marks = (1.0, worth)
    text = float(ratio_text(ratio, apart_from=marks))
    for mark in marks:
        if abs(ratio - mark) > 1e-6:
            assert (text > mark) == (ratio > mark)
            assert text != mark


@pytest.mark.parametrize(
    ("ratio", "text"), [(1.441342, "+44 %"), (0.5, "−50 %"), (1.003, "+0.3 %"), (1.0, "±0 %")]
)
def test_a_ratio_as_a_change(ratio: float, text: str) -> None:
    assert plain(percent_change(ratio)) == text


def test_levels_and_p_values() -> None:
    assert plain(level_text(0.95)) == "95 %"
    assert plain(level_text(1 - 2**-6)) == "98.4 %"
    assert plain(level_text(0.99999)) == "more than 99.9 %"
    assert p_text(0.00004) == "below 0.001"
    assert p_text(0.34) == "0.34"


def test_shares_and_counts() -> None:
    assert plain(percent_text(0.0893)) == "8.9 %"
    assert plain(percent_text(0.153)) == "15 %"
    assert plain(count_text(1, "piece", "pieces")) == "1 piece"
    assert plain(count_text(12000, "piece", "pieces")) == "12 000 pieces"
