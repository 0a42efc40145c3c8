"""A part with every number known: what wins over what, and what its origin says."""

import numpy as np
import pytest

from breakwright.model.part import Part
from breakwright.strength.resolve import PartRefused, mechanisms_of, predictions, resolve
from breakwright.strength.trust import Trust

SCREW = Part(
    "screw",
    "wood screw",
    numbers={"thread_length_mm": 25.0},
    words={"material": "hard maple", "gauge": "#10"},
)


def _screw(**numbers: float) -> Part:
    return Part("screw", "wood screw", {"thread_length_mm": 25.0} | numbers, SCREW.words)


def test_table_and_gauge_fill_what_is_missing() -> None:
    known = resolve(SCREW, None)
    assert known.numbers["specific_gravity"] == 0.63
    assert known.numbers["diameter_mm"] == 4.83
    assert known.cv["specific_gravity"] == 0.10
    assert "sugar maple" in known.origin["specific_gravity"]
    assert known.origin["thread_length_mm"] == "given"
    assert known.origin["fastener_tensile_MPa"] == "taken where nothing is given"
    assert known.words["material_class"] == "hardwood"


@pytest.mark.parametrize("said", ["#10", "10", "no 10", "No. 10", "NO10"])
def test_a_gauge_however_it_is_written(said: str) -> None:
    part = Part("s", "wood screw", {"thread_length_mm": 25.0}, {"material": "ash", "gauge": said})
    assert resolve(part, None).numbers["diameter_mm"] == 4.83


def test_weighed_density_replaces_the_tables_and_says_so() -> None:
    known = resolve(_screw(density_kg_m3=680.0), None)
    assert round(known.numbers["specific_gravity"], 3) == 0.607
    assert known.cv["specific_gravity"] == 0.03
    assert known.origin["specific_gravity"].startswith("weighed: 680 kg/m³ at 12 % moisture")


def test_weighed_density_at_its_own_moisture() -> None:
    known = resolve(_screw(density_kg_m3=680.0, moisture_pct=8.0), None)
    assert known.numbers["specific_gravity"] == pytest.approx(0.680 / 1.08, rel=1e-12)
    structural = Part(
        "s",
        "structural screw",
        {"diameter_mm": 8.0, "thread_length_mm": 60.0, "density_kg_m3": 500.0, "moisture_pct": 8.0},
    )
    # The equations want the density at 12 %: 500/1.08 x 1.12.
    assert resolve(structural, None).numbers["density_kg_m3"] == pytest.approx(518.5, abs=0.05)
    assert "taken to 12 %" in resolve(structural, None).origin["density_kg_m3"]


def test_a_weighed_and_measured_piece() -> None:
    part = _screw(
        piece_mass_g=76.16, piece_length_mm=100.0, piece_width_mm=40.0, piece_thickness_mm=28.0
    )
    assert round(resolve(part, None).numbers["specific_gravity"], 3) == 0.607


def test_weighing_scales_nothing_else_and_says_so() -> None:
    assert resolve(_screw(density_kg_m3=680.0), None).notes == ()  # the density was all
    sizes = {"width_mm": 38.0, "depth_mm": 89.0, "span_mm": 400.0}
    light = Part("beam", "beam", {**sizes, "density_kg_m3": 500.0}, {"material": "ash"})
    known = resolve(light, None)
    assert known.numbers["mor_MPa"] == 103.0
    assert len(known.notes) == 1
    assert "only the density of white ash is the weighed one" in known.notes[0]
    assert known.notes[0] in predictions(light, None)[0].notes


def test_specific_gravity_given_gives_the_density_too() -> None:
    part = Part(
        "s",
        "structural screw",
        {"diameter_mm": 8.0, "thread_length_mm": 60.0, "specific_gravity": 0.5},
    )
    assert resolve(part, None).numbers["density_kg_m3"] == pytest.approx(560.0, rel=1e-12)


def test_own_scatter_wins() -> None:
    part = Part("s", "wood screw", SCREW.numbers, SCREW.words, spread={"specific_gravity": 0.05})
    assert resolve(part, None).cv["specific_gravity"] == 0.05


def test_a_group_overrides_numbers_words_and_count() -> None:
    part = Part(
        "s",
        "wood screw",
        SCREW.numbers,
        SCREW.words,
        count=2,
        by_group={
            "long": {"thread_length_mm": 40.0},
            "soft": {"material": "white pine"},
            "six": {"count": 6.0},
        },
    )
    base = predictions(part, None)[0].median
    assert predictions(part, "other")[0].median == base
    assert predictions(part, "long")[0].median == pytest.approx(base * 1.6, rel=1e-12)
    assert resolve(part, "soft").numbers["specific_gravity"] == 0.35
    assert predictions(part, "six")[0].median == pytest.approx(base * 3.0, rel=1e-12)
    assert resolve(part, "long").origin["thread_length_mm"] == "given for the group «long»"


def test_count_and_share_turn_one_pieces_load_into_the_whole() -> None:
    one = predictions(SCREW, None)[0].median
    four = Part("s", "wood screw", SCREW.numbers, SCREW.words, count=4)
    assert predictions(four, None)[0].median == pytest.approx(4.0 * one, rel=1e-12)
    uneven = Part("s", "wood screw", SCREW.numbers, SCREW.words, count=4, share=(0.2, 0.4))
    assert predictions(uneven, None)[0].median == pytest.approx(one / 0.4, rel=1e-12)


def test_eurocode_group_of_screws_loses_a_little() -> None:
    def pulled(count: int) -> float:
        part = Part(
            "s",
            "structural screw",
            {"diameter_mm": 8.0, "thread_length_mm": 60.0, "density_kg_m3": 420.0},
            count=count,
        )
        return predictions(part, None)[0].median

    assert pulled(4) / pulled(1) == pytest.approx(4.0**0.9, rel=1e-12)


def test_moisture_adjusts_strengths_that_have_a_green_value() -> None:
    beam = Part(
        "beam",
        "beam",
        {"width_mm": 38.0, "depth_mm": 89.0, "span_mm": 400.0, "moisture_pct": 8.0},
        {"material": "ash"},
    )
    known = resolve(beam, None)
    # Wood Handbook example: white ash at 8 %, 119,500 kPa.
    assert known.numbers["mor_MPa"] == pytest.approx(119.5, abs=0.05)
    assert "adjusted to 8 %" in known.origin["mor_MPa"]
    assert known.numbers["moe_MPa"] == 12000.0
    assert "not adjusted to 8 %" in known.origin["moe_MPa"]
    dry = Part("beam", "beam", {**beam.numbers, "moisture_pct": 12.0}, beam.words)
    assert resolve(dry, None).numbers["mor_MPa"] == 103.0


def test_own_tests_move_the_prediction_and_shift_the_class() -> None:
    own = (4000.0, 4200.0, 4400.0)
    tested = Part(
        "screw", "wood screw", SCREW.numbers, SCREW.words, own_tests=own, breaks="withdrawal"
    )
    before, after = predictions(SCREW, None)[0], predictions(tested, None)[0]
    assert after.calibrated_on == 3
    assert 4200.0 < after.median < before.median
    assert after.sigma < before.sigma
    # The other way of breaking was not tested.
    assert predictions(tested, None)[1] == predictions(SCREW, None)[1]
    two = Part(
        "s", "wood screw", SCREW.numbers, SCREW.words, own_tests=own[:2], breaks="withdrawal"
    )
    assert predictions(two, None)[0].calibrated_on == 0


def test_own_tests_by_hand() -> None:
    # A weighed piece: inputs scatter by 6.4 %, less than the 12 % that pieces of known density
    # have, so the prior is the equation's own error, ln(1.25)/1.645 = 0.1357, whole.
    weighed = {"density_kg_m3": 700.0, "diameter_mm": 4.83, "thread_length_mm": 25.0}
    before = predictions(Part("s", "wood screw", weighed), None)[0]
    own = (4000.0, 4400.0)
    part = Part("s", "wood screw", weighed, own_tests=own, breaks="withdrawal")
    after = predictions(part, None)[0]
    prior, within = 1.0 / (np.log(1.25) / 1.6448536269514722) ** 2, 2.0 / 0.12**2
    mean = (prior * np.log(before.median) + within * np.mean(np.log(own))) / (prior + within)
    assert after.median == pytest.approx(np.exp(mean), rel=1e-9)
    assert after.sigma == pytest.approx(np.sqrt(1.0 / (prior + within) + 0.12**2), rel=1e-9)


def test_many_own_tests_win_over_the_equation() -> None:
    tested = Part(
        "s",
        "wood screw",
        SCREW.numbers,
        SCREW.words,
        own_tests=tuple(3000.0 * f for f in (0.9, 1.0, 1.1) * 20),
        breaks="withdrawal",
    )
    assert predictions(tested, None)[0].median == pytest.approx(3000.0, rel=0.03)


def test_own_tests_are_taken_over_to_another_group_by_the_equation() -> None:
    part = Part(
        "s",
        "wood screw",
        SCREW.numbers,
        SCREW.words,
        own_tests=(4000.0, 4200.0, 4400.0),
        breaks="withdrawal",
        by_group={"long": {"thread_length_mm": 40.0}},
    )
    base, long = predictions(part, None)[0], predictions(part, "long")[0]
    assert long.median == pytest.approx(1.6 * base.median, rel=1e-9)
    assert any("taken over" in note for note in long.notes)


def test_own_tests_of_the_only_mechanism_need_no_name() -> None:
    part = Part(
        "b",
        "bearing under a pin",
        {"diameter_mm": 8.0, "thickness_mm": 18.0},
        {"material": "ash"},
        own_tests=(7000.0, 7100.0, 7300.0),
    )
    assert predictions(part, None)[0].calibrated_on == 3


def test_own_tests_alone() -> None:
    part = Part("odd", "own tests", own_tests=(4000.0, 4200.0, 4400.0), breaks="splits")
    (found,) = predictions(part, None)
    assert found.mechanism == "splits"
    assert found.median == pytest.approx((4000.0 * 4200.0 * 4400.0) ** (1 / 3), rel=1e-9)


def test_refuses_what_it_cannot_compute_with_the_reasons() -> None:
    with pytest.raises(PartRefused) as refused:
        resolve(Part("s", "wood screw", {}, {"material": "ash"}), None)
    assert {p.key for p in refused.value.problems} == {"diameter_mm", "thread_length_mm"}
    with pytest.raises(PartRefused):
        predictions(Part("s", "no such kind"), None)


def test_sizes_that_give_no_load_are_refused() -> None:
    part = Part(
        "n", "nail", {"penetration_mm": 40.0, "diameter_mm": 4.0}, {"material": "ash"}, count=1
    )
    assert mechanisms_of(part, None)[0].name == "withdrawal"
    broken = Part("n", "nail", {"penetration_mm": 0.0, "diameter_mm": 4.0}, {"material": "ash"})
    with pytest.raises(PartRefused, match="gives no load"):
        predictions(broken, None)


def test_scatter_of_the_screw_equation() -> None:
    # G enters squared: a scatter of 10 % of G is 20 % of the load (sqrt(exp(4 ln 1.01) - 1) =
    # 20.15 % exactly, 20.0 % to first order, as the uncertainties package has it).
    (gravity,) = (i for i in predictions(SCREW, None)[0].inputs if i.name == "specific_gravity")
    assert gravity.exponent == pytest.approx(2.0, abs=1e-6)
    log_sigma = abs(gravity.exponent) * np.sqrt(np.log1p(gravity.cv**2))
    assert log_sigma == pytest.approx(0.1995, abs=5e-5)


def test_shares_of_the_scatter_add_up_and_name_the_worst() -> None:
    for prediction in predictions(SCREW, None):
        total = sum(i.share for i in prediction.inputs) + prediction.model_share
        assert total == pytest.approx(1.0, abs=1e-9)
    first = predictions(SCREW, None)[0]
    assert max(first.inputs, key=lambda i: i.share).name == "specific_gravity"


def test_end_grain_and_boards_are_trusted_less() -> None:
    def trust(**words: str) -> Trust:
        part = Part("s", "wood screw", SCREW.numbers, {"gauge": "#10"} | words)
        return predictions(part, None)[0].trust

    assert trust(material="ash") is Trust.GOOD
    assert trust(material="ash", grain="end") is Trust.ORDER
    assert trust(material="birch plywood") is Trust.ORDER
