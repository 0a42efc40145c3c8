"""What load cells say, in newtons."""

import math
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st
from reading import codes, problems_of, read_text, spans

from breakwright.files.options import Negative
from breakwright.files.source import Decimal, ReadOptions
from breakwright.model.trial import Ending, Sharing
from breakwright.model.units import ForceUnit

# NIST SP 811 (2008), appendix B.8: 1 kgf = 9.806 65 N, 1 lbf = 4.448 221 615 260 5 N, both exact.
NEWTONS = {"N": 1.0, "kN": 1000.0, "kgf": 9.80665, "lbf": 4.4482216152605}


@pytest.mark.parametrize(
    ("cell", "lower", "upper"),
    [
        ("412", 412.0, 412.0),
        ("412.50", 412.5, 412.5),
        ("4.12e2", 412.0, 412.0),
        (">440", 440.0, math.inf),
        ("> 440", 440.0, math.inf),
        (">=440", 440.0, math.inf),
        ("≥440", 440.0, math.inf),
        ("440+", 440.0, math.inf),
        ("<30", 0.0, 30.0),
        ("≤30", 0.0, 30.0),
        ("405..440", 405.0, 440.0),
        ("405 .. 440.5", 405.0, 440.5),
        ("0..30", 0.0, 30.0),
    ],
)
def test_every_way_of_writing_a_load(cell: str, lower: float, upper: float, tmp_path: Path) -> None:
    source = read_text(tmp_path, f"group,load_N\nplain,{cell}\nwedged,500\n")

    assert spans(source.study.trials)[0] == (lower, upper)
    assert source.study.trials[0].readings[0].text == cell


@given(
    hundredths=st.integers(1, 10**7),
    unit=st.sampled_from(list(NEWTONS)),
    decimal=st.sampled_from(Decimal),
    mark=st.sampled_from(["{}", ">{}", "{}+", "<{}", "{}..{}"]),
)
def test_loads_round_trip_in_any_unit_and_style(
    tmp_path_factory: pytest.TempPathFactory,
    hundredths: int,
    unit: str,
    decimal: Decimal,
    mark: str,
) -> None:
    number = f"{hundredths / 100:.2f}"
    cell = mark.format(*[number.replace(".", "," if decimal is Decimal.COMMA else ".")] * 2)
    folder = tmp_path_factory.mktemp("loads", numbered=True)

    source = read_text(folder, f"group;load_{unit}\nplain;{cell}\nwedged;{number[:-3] or 1}5\n")

    newtons = float(number) * NEWTONS[unit]
    shown = source.study.trials[0].readings[0].shown
    assert shown.holds(newtons)
    assert newtons in (shown.lower, shown.upper)
    assert source.study.unit == unit


@pytest.mark.parametrize(
    ("header", "options"),
    [
        ("load_kgf", ReadOptions()),
        ("Load (kgf)", ReadOptions()),
        ("LOAD-KGF", ReadOptions()),
        ("load", ReadOptions(unit=ForceUnit.KGF)),
        ("load_kg", ReadOptions(unit=ForceUnit.KGF)),
        ("load_kgf", ReadOptions(unit=ForceUnit.KGF)),
    ],
)
def test_the_unit_comes_from_header_or_option(
    header: str, options: ReadOptions, tmp_path: Path
) -> None:
    source = read_text(tmp_path, f"group,{header}\nplain,100\nwedged,120\n", options)

    assert spans(source.study.trials)[0] == (980.665, 980.665)
    assert source.study.unit is ForceUnit.KGF
    assert ("mass-unit-as-force" in codes(source)) == (header == "load_kg")


def test_negative_peaks_are_taken_by_size_when_told(tmp_path: Path) -> None:
    options = ReadOptions(pulls_negative=Negative.BY_SIZE)

    source = read_text(tmp_path, "group,load_N\nplain,-412\nwedged,−530\n", options)

    assert spans(source.study.trials) == [(412.0, 412.0), (530.0, 530.0)]
    assert "negative-by-size" in codes(source)


def test_mixed_signs_taken_by_size_are_warned_about(tmp_path: Path) -> None:
    options = ReadOptions(pulls_negative=Negative.BY_SIZE)

    source = read_text(tmp_path, "group,load_N\nplain,412\nwedged,-530\n", options)

    assert spans(source.study.trials)[1] == (530.0, 530.0)
    assert "mixed-signs-by-size" in codes(source)


def test_a_void_piece_keeps_its_load(tmp_path: Path) -> None:
    text = "group,load_N,void\nplain,412,split\nplain,,fell\nplain,400,\nwedged,530,\n"

    trials = read_text(tmp_path, text).study.trials

    assert (trials[0].void, trials[0].readings[0].shown.lower) == ("split", 412.0)
    assert (trials[1].void, trials[1].readings) == ("fell", ())


SHARED = ReadOptions(sharing=Sharing.SAME_MOMENT)


def test_numbered_loads_belong_to_displays_in_their_order(tmp_path: Path) -> None:
    text = "group,load_2_N,load_1_kgf\nplain,210,10\nwedged,310,20\n"

    study = read_text(tmp_path, text, SHARED).study

    assert [i.name for i in study.instruments] == ["display 1", "display 2"]
    assert [(r.instrument, r.shown.lower) for r in study.trials[0].readings] == [
        ("display 1", pytest.approx(98.0665)),
        ("display 2", 210.0),
    ]
    assert study.sharing is Sharing.SAME_MOMENT


def test_a_dark_display_has_no_reading_and_one_without_load_has(tmp_path: Path) -> None:
    text = (
        "group,load_1_N,load_2_N,ended\n"
        "plain,200,,screen-lost\nplain,200,0,\nplain,200,>0,\nwedged,300,310,\n"
    )

    trials = read_text(tmp_path, text, SHARED).study.trials

    assert len(trials[0].readings) == 1
    assert trials[0].ending is Ending.SCREEN_LOST
    assert trials[1].readings[1].shown.upper == 0.0
    assert trials[2].readings[1].shown.upper == math.inf


@pytest.mark.parametrize("ended", ["over-range", "stopped", "rig-failed", "broke"])
def test_only_a_lost_screen_explains_a_display_without_a_load(ended: str, tmp_path: Path) -> None:
    text = f"group,load_1_N,load_2_N,ended\nplain,200,,{ended}\nwedged,300,310,\n"

    assert [p.code for p in problems_of(tmp_path, text, SHARED)] == ["load-missing"]


def test_the_largest_sum_follows_the_unit_of_the_loads(tmp_path: Path) -> None:
    text = "group,load_1_kgf,load_2_kgf,together\nplain,20,21,40\nwedged,30,31,\n"
    options = ReadOptions(sharing=Sharing.SEPARATE_PEAKS)

    trials = read_text(tmp_path, text, options).study.trials

    assert trials[0].together == pytest.approx(392.266)
    assert trials[1].together is None


def test_a_sum_equal_to_the_peaks_in_decimals_is_not_too_large(tmp_path: Path) -> None:
    # In binary fractions 0.1 + 0.2 is a little less or more than 0.3.
    text = "group,load_1_N,load_2_N,together\nplain,0.1,0.2,0.3\nwedged,0.7,0.1,0.8\n"

    assert read_text(tmp_path, text, SHARED).study.trials[0].together == 0.3


def test_a_rate_is_read_in_its_own_unit(tmp_path: Path) -> None:
    text = "group,load_N,rate_kgf_s\nplain,412,2\nwedged,530,\n"

    trials = read_text(tmp_path, text).study.trials

    assert (trials[0].rate, trials[1].rate) == (19.6133, None)


def test_the_unit_typed_into_every_cell_is_told_once_with_a_count(tmp_path: Path) -> None:
    rows = "".join(f"plain,{i} kgf\n" for i in range(1, 100))

    problems = problems_of(tmp_path, f"group,load_N\n{rows}wedged,wet\n")

    assert [p.code for p in problems] == ["unit-in-cell"] * 6 + ["not-a-load"]
    assert problems[5].message.startswith("the same again in 94 more places (lines 7, 8, 9")
    assert problems[5].message.endswith("so on to line 100)")
