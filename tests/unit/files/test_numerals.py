"""Numbers as people write them, both ways round."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from breakwright.files.numerals import Decimal, gather_evidence, is_number, parse_number

MARKS = {Decimal.POINT: (".", ","), Decimal.COMMA: (",", ".")}


def written(value: str, decimal: Decimal, thousands: str) -> str:
    """Write a plain Python number text in another style."""
    mark, _ = MARKS[decimal]
    whole, dot, fraction = value.partition(".")
    groups = []
    while len(whole) > 3 and thousands:
        groups.insert(0, whole[-3:])
        whole = whole[:-3]
    return thousands.join([whole, *groups]) + (mark + fraction if dot else "")


@given(
    hundredths=st.integers(1, 10**11),
    places=st.integers(0, 4),
    decimal=st.sampled_from(Decimal),
    parting=st.sampled_from(["", "mark", "'", "\u00a0", "\u202f"]),
)
def test_what_is_written_in_a_style_is_read_in_it(
    hundredths: int, places: int, decimal: Decimal, parting: str
) -> None:
    plain = f"{hundredths / 100:.{places}f}"
    thousands = MARKS[decimal][1] if parting == "mark" else parting
    text = written(plain, decimal, thousands)

    assert parse_number(text, decimal) == float(plain)
    assert is_number(text)


@given(
    thousandths=st.integers(1, 10**12), decimal=st.sampled_from(Decimal), places=st.integers(0, 3)
)
def test_the_other_style_reads_a_text_differently_only_where_it_is_called_unclear(
    thousandths: int, decimal: Decimal, places: int
) -> None:
    text = written(f"{thousandths / 1000:.{places}f}", decimal, MARKS[decimal][1])
    found = gather_evidence([(0, text)])

    if found.decimal is None:
        same = parse_number(text, Decimal.POINT) == parse_number(text, Decimal.COMMA)
        assert same == (found.unclear is None)
    else:
        assert found.decimal is decimal
        assert parse_number(text, decimal.other) is None


# Common practice, no source: how decimal and thousands marks are used.
@pytest.mark.parametrize(
    ("text", "decimal"),
    [
        ("1,234.5", Decimal.POINT),
        ("1.234,5", Decimal.COMMA),
        ("1,234,567", Decimal.POINT),
        ("1.234.567", Decimal.COMMA),
        ("0.123", Decimal.POINT),
        ("0,123", Decimal.COMMA),
        ("12.5", Decimal.POINT),
        ("12,5", Decimal.COMMA),
        ("1234.567", Decimal.POINT),
        (",5", Decimal.COMMA),
        ("1.234e3", Decimal.POINT),
    ],
)
def test_these_settle_the_mark(text: str, decimal: Decimal) -> None:
    assert gather_evidence([(0, "7"), (1, text)]).decimal is decimal


@pytest.mark.parametrize("text", ["1,234", "1.234", "-12,345", "999.000"])
def test_these_leave_it_open(text: str) -> None:
    found = gather_evidence([(0, "7"), (1, text)])

    assert (found.decimal, found.unclear) == (None, 1)


@pytest.mark.parametrize(
    "text",
    [
        *("", "-", ".", ",", "1 234", "1,23,4", "1.2.3", "12 mm", "nan", "inf", "1e", "e5"),
        *("1_000", "0x10", "--5", "٣", "１２", "1,234,56", "01.234.5x"),
    ],
)
def test_these_are_no_numbers(text: str) -> None:
    assert not is_number(text)


def test_a_number_too_large_is_infinite_for_the_caller_to_refuse() -> None:
    assert parse_number("1e400", Decimal.POINT) == math.inf


def test_a_typographic_minus_is_a_minus() -> None:
    assert parse_number("−4.5", Decimal.POINT) == -4.5
