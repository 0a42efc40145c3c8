"""What was typed at the bench, read by the reader of sheets: numbers, units, what is asked."""

import pytest
from bench_study import ONE, SHARED, TURNS, added, event, id_of, made, state

from breakwright.bootstrap.bench import understand_entry
from breakwright.files.bench.defined import defined
from breakwright.files.bench.entry_row import canonical_entry, read_entry
from breakwright.model.errors import ImpossibleValue, InputRefused
from breakwright.model.event import Entry, PieceVoided
from breakwright.model.trial import Ending


def shown(toml: str, entry: Entry) -> list[tuple[float, float]]:
    trial = read_entry(defined(toml), entry, piece="A1", group="plain")
    return [(r.shown.lower, r.shown.upper) for r in trial.readings]


@pytest.mark.parametrize(
    ("text", "decimal", "newtons"),
    [
        ("412", None, 412.0),
        ("412,5", None, 412.5),
        ("412.5", None, 412.5),
        ("1.234,5", None, 1234.5),
        ("1,234", "point", 1234.0),
        ("1,234", "comma", 1.234),
        ("1.234", "comma", 1234.0),
        (" 412 ", None, 412.0),
        ("1'234.5", None, 1234.5),
        ("1.234.567", None, 1234567.0),
        ("1e3", None, 1000.0),
    ],
)
def test_a_number_as_typed(text: str, decimal: str | None, newtons: float) -> None:
    entry = Entry((text,), "N", decimal=decimal)

    assert shown(ONE, entry) == [(newtons, newtons)]
    # The canonical text says the same to a reader who knows nothing of this entry.
    (plain,) = canonical_entry(defined(ONE), entry).loads
    assert shown(ONE, Entry((plain,), "N", decimal="point")) == [(newtons, newtons)]


def test_units_and_limits() -> None:
    # kgf: 9.80665 N exactly (BIPM, The International System of Units, 9th edition).
    assert shown(ONE, Entry((">50",), "kgf")) == [(490.3325, float("inf"))]
    assert shown(ONE, Entry(("4,05..4,10",), "kN")) == [(4050.0, 4100.0)]


@pytest.mark.parametrize(
    ("toml", "entry", "codes"),
    [
        (ONE, Entry(("1,234",), "N"), {"decimal-unclear"}),
        (ONE, Entry(("1.234",), "N"), {"decimal-unclear"}),
        (ONE, Entry(("412,5",), "N", decimal="point"), {"mixed-decimal"}),
        (SHARED, Entry(("1,5", "2.5"), "N"), {"mixed-decimal"}),
        (ONE, Entry(("",), "N"), {"load-missing"}),
        (ONE, Entry(("",), "N", ended=Ending.OVER_RANGE), {"load-missing"}),
        (ONE, Entry(("",), "N", ended=Ending.SCREEN_LOST), {"load-missing"}),
        (ONE, Entry(("0",), "N"), {"zero-load"}),
        (ONE, Entry(("-412",), "N"), {"negative-load"}),
        (ONE, Entry(("412 kg",), "kgf"), {"unit-in-cell"}),
        (ONE, Entry(("1e12",), "N"), {"load-absurd"}),
        (ONE, Entry(("412", "3"), "N"), {"display-count"}),
        (ONE, Entry((), "N"), {"display-count"}),
        (SHARED, Entry(("412",), "N"), {"display-count"}),
        (SHARED, Entry(("41", ""), "N"), {"load-missing"}),
        (SHARED, Entry(("41", "3"), "kgf", together="90"), {"bad-sum"}),
        (SHARED, Entry(("41", "3"), "kgf", rate="0"), {"bad-rate"}),
        (TURNS, Entry(("41",), "kgf"), {"unknown-scale"}),
        (TURNS, Entry(("41",), "kgf", scale="crone"), {"unknown-scale"}),
        (ONE, Entry(("41",), "kgf", date="2026-02-30"), {"bad-date"}),
        (ONE, Entry(("41",), "kgf", order=0), {"bad-order"}),
    ],
)
def test_what_is_asked_or_refused(toml: str, entry: Entry, codes: set[str]) -> None:
    with pytest.raises(InputRefused) as refused:
        read_entry(defined(toml), entry, piece="A1", group="plain")

    assert {p.code for p in refused.value.problems} == codes
    for problem in refused.value.problems:
        assert (problem.file, problem.line) == ("reading", None)
        assert problem.do
        assert "--" not in problem.do


def test_an_empty_display_that_ran_out_is_at_its_end() -> None:
    entry = Entry(("", "45,5"), "kgf", ended=Ending.OVER_RANGE)

    # 50 kgf less 1 kgf zeroed away: the last load that the left display shows is 49 kgf.
    assert canonical_entry(defined(SHARED), entry).loads == (">49", "45.5")
    # A capacity of 49 kgf in lbf has a fraction, which must not settle what '1,234' means.
    unclear = Entry(("", "1,234"), "lbf", ended=Ending.OVER_RANGE)
    with pytest.raises(InputRefused) as refused:
        read_entry(defined(SHARED), unclear, piece="A1", group="plain")
    assert [p.code for p in refused.value.problems] == ["decimal-unclear"]


def test_the_echo_of_a_display_left_empty() -> None:
    study = state(made(SHARED), added("A1"))

    understood = understand_entry(
        study, id_of("A1"), Entry(("", "45"), "kgf", ended=Ending.OVER_RANGE)
    )

    assert [(load.scale, load.typed) for load in understood.loads] == [
        ("left", ""),
        ("right", "45"),
    ]
    assert understood.loads[0].lower == pytest.approx(49 * 9.80665, rel=1e-12)
    assert (understood.loads[0].upper, understood.upper) == (None, None)
    assert understood.cause == "over-range"
    # Each lower end is half a step of 0.05 kgf below what was shown: 49 + 45 - 0.05.
    assert understood.lower == pytest.approx(93.95 * 9.80665, rel=1e-12)
    assert any("«left» was left empty" in remark for remark in understood.remarks)


def test_the_echo_of_a_dark_display() -> None:
    study = state(made(SHARED), added("A1"))

    understood = understand_entry(
        study, id_of("A1"), Entry(("40", ""), "kgf", ended=Ending.SCREEN_LOST)
    )

    assert (understood.loads[1].scale, understood.loads[1].typed) == ("right", "")
    assert (understood.loads[1].lower, understood.loads[1].upper) == (0.0, None)
    assert (understood.cause, understood.upper) == ("screen-lost", None)
    assert understood.remarks == ()


def test_the_echo_names_the_scale_and_what_is_left_out() -> None:
    study = state(made(TURNS), added("A1"), event("v", PieceVoided(id_of("A1"), "pilot")))

    understood = understand_entry(study, id_of("A1"), Entry(("12",), "kgf", scale="spring"))

    assert understood.loads[0].scale == "spring"
    assert understood.cause == "measured"
    assert "pilot" in understood.remarks[0]
    with pytest.raises(ImpossibleValue):
        understand_entry(study, id_of("Z9"), Entry(("12",), "kgf", scale="spring"))
