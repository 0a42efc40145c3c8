"""Lines of load cells: what is understood, what is asked, and that every line is accounted for."""

import math
from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from breakwright.model.units import ForceUnit
from breakwright.reading.stream_clock import Clock
from breakwright.reading.stream_line import Format, LineKind, read_line
from breakwright.reading.stream_lines import LONGEST_LINE, LineReader, Sample
from breakwright.reading.stream_words import Fault, Stamps

N = Format(ForceUnit.N)
KGF = 9.80665  # exact: standard gravity, see model.units


def heard(data: bytes, form: Format = N, **more: object) -> tuple[list[Sample], LineReader]:
    reader = LineReader(form, **more)  # type: ignore[arg-type]
    samples = reader.feed(data, 0.0)
    return [*samples, *reader.finish(0.0)], reader


@pytest.mark.parametrize(
    ("line", "form", "newtons"),
    [
        ("412", N, 412.0),
        ("412.5", N, 412.5),
        ("-412.5", N, -412.5),
        ("+  42.5", N, 42.5),
        (".5", N, 0.5),
        ("4.125e2", N, 412.5),
        ("0.4125 kN", Format(), 412.5),
        ("412.5N", Format(), 412.5),
        ("42kgf", Format(), 42 * KGF),
        ("42 KGF", Format(), 42 * KGF),
        ("100 lbf", Format(), 444.82216152605),
        ("42.0 kg", Format(ForceUnit.KGF), 42 * KGF),
        ("ST,GS,+0042.0kg", Format(ForceUnit.KGF), 42 * KGF),
        ("US,NT,-  3.5 kgf", Format(), -3.5 * KGF),
        ("412.5 N ST", Format(), 412.5),
        ("412,5", Format(ForceUnit.N, "comma"), 412.5),
        ("412,5 N", Format(None, "comma"), 412.5),
        ("Load: 412.5 N", Format(), 412.5),
        ("t=12.5; F=412.5", N, 412.5),
        ("\x0212.5\x03", N, 12.5),
    ],
)
def test_loads_as_devices_write_them(line: str, form: Format, newtons: float) -> None:
    samples, reader = heard(line.encode() + b"\r\n", form)
    assert [s.load for s in samples] == [pytest.approx(newtons, rel=1e-14)], reader.passed


@pytest.mark.parametrize(
    ("line", "stamps", "time"),
    [
        ("12.5, 412.5", Stamps.S, 12.5),
        ("12500\t412.5", Stamps.MS, 12.5),
        ("12500000 412.5", Stamps.US, 12.5),
        ("12.5 s, 412.5 N", None, 12.5),
        ("12500ms;412.5", None, 12.5),
        ("00:00:12.500 412.5", None, 12.5),
        ("2026-01-31T01:00:00.5Z,412.5", None, 3600.5),
        ("12.5, 412.5", Stamps.NONE, None),
        ("12.5, 412.5", None, None),
        ("412.5", Stamps.S, None),
    ],
)
def test_times_as_devices_write_them(line: str, stamps: Stamps | None, time: float | None) -> None:
    found = read_line(line, Format(ForceUnit.N, "point", stamps))
    assert (found.load, found.stamp) == (412.5, time)


@pytest.mark.parametrize(
    "line",
    [
        *("OL", "O.L", "-OL", "OVER", "OVERLOAD", "OFL", "ERR", "Error", "E1", "-----"),
        *(
            "------kg",
            "nan",
            "NaN",
            "inf",
            "OL,GS,+0099.9kg",
            "12.5, OL",
            "12.5 OL",
            "9 nan",
            "9 E1",
            "ST,GS,-----",
            "=====",
        ),
    ],
)
def test_a_display_without_a_number_is_beyond_its_range(line: str) -> None:
    form = Format(ForceUnit.KGF, "point", Stamps.S)
    assert read_line(line, form).kind is LineKind.OVER


@pytest.mark.parametrize("line", ["# scale 3, 80 Hz", "ST,TR,+0000.5kg", "time_s,load_N", "ST,GS"])
def test_lines_that_speak_of_something_else(line: str) -> None:
    samples, reader = heard(line.encode() + b"\n")
    assert (samples, reader.passed["talk"]) == ([], 1)


@pytest.mark.parametrize(
    ("line", "form", "fault"),
    [
        ("412.5", Format(), Fault.UNIT_MISSING),
        ("42 kg", Format(), Fault.FORCE_OR_MASS),
        ("42 lb", Format(), Fault.FORCE_OR_MASS),
        ("42 lb", Format(ForceUnit.KGF), Fault.UNIT_DISAGREES),
        ("42 kgf", N, Fault.UNIT_DISAGREES),
        ("412,5", N, Fault.DECIMAL_UNCLEAR),
        ("1,234", N, Fault.DECIMAL_UNCLEAR),
        ("1 2 3", N, Fault.COLUMNS_UNCLEAR),
        ("412.5.3", N, Fault.GARBAGE),
        ("412.5 mV", N, Fault.GARBAGE),
        ("4l2", N, Fault.GARBAGE),
        ("hello", N, Fault.GARBAGE),
        ("1e300", N, Fault.GARBAGE),
        ("1" * (LONGEST_LINE + 1), N, Fault.TOO_LONG),
    ],
)
def test_what_is_asked_and_what_is_garbage(line: str, form: Format, fault: Fault) -> None:
    samples, reader = heard(line.encode() + b"\n", form)
    assert samples == []
    assert reader.faults == {fault: 1}
    assert reader.first_of[fault.value] == line[:80]


def test_one_line_that_shows_the_decimal_mark_settles_the_others() -> None:
    samples, reader = heard(b"0,10;412,5\n0,200;413,250\n1;414\n", Format(ForceUnit.N, None))
    assert [s.load for s in samples] == [412.5, 413.25, 414.0]
    assert reader.form.decimal == "comma"


def test_a_header_names_unit_time_and_column() -> None:
    samples, reader = heard(b"time_ms;load_kgf;state\n0;42.0;0\n100;43.0;0\n", Format())
    assert [(s.time, s.load) for s in samples] == [
        (0.0, pytest.approx(42 * KGF)),
        (pytest.approx(0.1), pytest.approx(43 * KGF)),
    ]
    assert reader.stamped


def test_our_own_trace_can_be_listened_to_again() -> None:
    from breakwright.wire.trace_file import trace_text

    trace = [Sample(0.0, 1.0), Sample(0.1, 412.0), Sample(0.2, None), Sample(0.3, 5.0)]
    samples, _ = heard(trace_text(trace).encode(), Format())
    assert [(s.time, s.load) for s in samples if s.load is not None] == [
        (s.time, s.load) for s in trace if s.load is not None
    ]


def test_the_first_line_on_a_port_may_be_half_of_one() -> None:
    samples, reader = heard(b"2.5\r\n413.0\r\n", mid_line=True)
    assert [s.load for s in samples] == [413.0]
    assert reader.faults == {Fault.HALF: 1}


def test_a_lost_line_costs_its_half_lines_and_marks_the_gap() -> None:
    reader = LineReader(N)
    before = reader.feed(b"410\n411\n41", 0.0)
    reader.lost()
    after = reader.feed(b"9\n413\n414\n", 5.0)
    assert [s.load for s in (*before, *after)] == [410.0, 411.0, 413.0, 414.0]
    assert [s.after_gap for s in after] == [True, False]
    assert reader.faults == {Fault.HALF: 2}


def test_a_frame_sent_twice_counts_once_but_a_steady_load_does_not() -> None:
    stamped = Format(ForceUnit.N, None, Stamps.S)
    samples, reader = heard(b"1.0,412\n1.0,412\n1.1,412\n", stamped)
    assert (len(samples), reader.passed["duplicate"]) == (2, 1)
    samples, _ = heard(b"412\n412\n412\n")
    assert len(samples) == 3


def test_a_line_with_another_number_of_columns_is_not_believed_at_once() -> None:
    samples, reader = heard(b"1 400\n2 401\n402\n3 403\n", Format(ForceUnit.N, None, Stamps.S))
    assert [s.load for s in samples] == [400.0, 401.0, 403.0]
    assert reader.faults == {Fault.COLUMNS_CHANGED: 1}
    samples, _ = heard(b"1 400\n" + b"410\n" * 6)
    assert [s.load for s in samples] == [400.0, 410.0, 410.0]


def test_stamps_that_jump_back_go_on_by_the_arrivals() -> None:
    clock = Clock()
    times = [clock.time_of(s, a) for s, a in [(100.0, 0.0), (100.5, 0.6), (2.0, 1.0), (2.5, 1.4)]]
    assert times == pytest.approx([0.0, 0.5, 0.9, 1.4])
    assert clock.jumps == 1


def test_a_damaged_stamp_far_ahead_is_not_believed_on_a_live_wire() -> None:
    clock = Clock(ahead=5.0)
    stamps = [(1.0, 0.0), (1.1, 0.1), (99911.2, 0.2), (1.3, 0.3)]
    times = [clock.time_of(s, a) for s, a in stamps]
    assert times == pytest.approx([0.0, 0.1, 0.2, 0.3])


def test_lines_of_a_stated_spacing() -> None:
    clock = Clock(every=0.1)
    assert [clock.time_of(None, 0.0) for _ in range(3)] == pytest.approx([0.0, 0.1, 0.2])


PIECES = st.sampled_from(
    [
        *(b"412.5", b"-3", b"OL", b"-----", b" N", b"kg", b",", b";", b".", b"\t", b"ST,", b"\n"),
        *(b"\r", b"\r\n", b"12:30:00 ", b"e9", b"nan", b"time_s,load_N\n", b"1" * 300, b"\xff"),
        *(b"\0", b"="),
    ]
)
NOISE = st.lists(st.one_of(PIECES, st.binary(max_size=12)), max_size=40).map(b"".join)
FORMS = st.builds(
    Format,
    st.sampled_from([None, *ForceUnit]),
    st.sampled_from([None, "point", "comma"]),
    st.sampled_from([None, *Stamps]),
    st.sampled_from([None, 1, 2]),
)


@given(NOISE, FORMS, st.booleans(), st.lists(st.integers(0, 400), max_size=6))
def test_any_bytes_are_counted_and_cutting_them_changes_nothing(
    data: bytes, form: Format, mid_line: bool, cuts: list[int]
) -> None:
    whole, reader = heard(data, form, mid_line=mid_line)
    assert reader.lines == len(whole) + sum(reader.passed.values())
    assert all(s.load is None or math.isfinite(s.load) for s in whole)
    times = [s.time for s in whole]
    assert times == sorted(times)

    other = LineReader(form, mid_line=mid_line)
    places = sorted({min(cut, len(data)) for cut in cuts} | {0, len(data)})
    cut = [data[a:b] for a, b in pairwise(places)]
    pieces = [s for part in cut for s in other.feed(part, 0.0)]
    assert [*pieces, *other.finish(0.0)] == whole
    assert (other.lines, other.passed) == (reader.lines, reader.passed)
