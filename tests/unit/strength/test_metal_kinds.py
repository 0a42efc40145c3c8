"""Each kind of part that is no fastener in wood, from its words to its loads."""

import math

import numpy as np
import pytest

from breakwright.model.part import Part
from breakwright.strength.kinds_metal import KINDS
from breakwright.strength.mechanism import KeyUse
from breakwright.strength.part_problems import part_problems
from breakwright.strength.prediction import Prediction
from breakwright.strength.resolve import predictions, resolve
from breakwright.strength.trust import Trust

KIND = {kind.name: kind for kind in KINDS}
# From a guaranteed minimum up to a median: exp(1.645 sqrt(ln(1 + 0.05^2))).
UP = math.exp(1.6448536269514722 * math.sqrt(math.log1p(0.05**2)))


def found(part: Part) -> dict[str, Prediction]:
    assert part_problems(part) == ()
    return {p.mechanism: p for p in predictions(part, None)}


def give(part: Part, load: float) -> float:
    values = {k: np.asarray(v) for k, v in resolve(part, None).numbers.items()}
    deflection = KIND[part.kind].deflection
    assert deflection is not None
    return float(deflection(values, np.asarray(load)))


def messages(part: Part) -> str:
    return " ".join(problem.message for problem in part_problems(part))


def test_the_kinds_asked_for_are_there() -> None:
    asked = {"bolt", "tapped plate", "beam", "plate with hole", "washer", "glued lap"}
    assert asked | {"dowel joint", "post", "rated part", "own tests"} <= set(KIND)


@pytest.mark.parametrize("kind", KINDS, ids=lambda kind: kind.name)
def test_a_kind_is_whole(kind) -> None:  # type: ignore[no-untyped-def]
    keys = {key.name: key for key in kind.keys}
    assert len(keys) == len(kind.keys)
    assert len(kind.mechanisms) > 0 or kind.name == "own tests"
    for mechanism in kind.mechanisms:
        assert set(mechanism.needs) <= set(keys), mechanism.name
        assert mechanism.source
    for key in kind.keys:
        assert key.low < key.high
        assert key.default is None or key.low <= key.default <= key.high
        assert key.meaning


@pytest.mark.parametrize("kind", [k for k in KINDS if k.mechanisms], ids=lambda kind: kind.name)
def test_every_load_is_a_number_in_one_shape_for_many_pieces(kind) -> None:  # type: ignore[no-untyped-def]
    """Numbers from within each key's range, 50 sets at once as in a Monte Carlo."""
    rng = np.random.default_rng(1)
    usual = {
        key.name: key.default
        if key.default is not None
        else math.sqrt(max(key.low, 1e-3) * key.high)
        for key in kind.keys
    }
    usual |= {k: v for k, v in {"hole_mm": 6.8, "diameter_mm": 8.0, "pitch_mm": 1.25}.items()
              if k in usual}  # fmt: skip
    usual |= {"washer_mm": 30.0, "bolt_mm": 8.0} if kind.name == "washer" else {}
    for mechanism in kind.mechanisms:
        scattered = {k: usual[k] * np.exp(rng.normal(0.0, 0.01, 50)) for k in mechanism.needs}
        load = mechanism.load(scattered)
        assert load.shape == (50,)
        assert (load > 0.0).all()
        assert np.isfinite(load).all()


def test_a_bolt() -> None:
    rod = Part("rod", "bolt", words={"thread": "M8", "grade": "8.8"}, numbers={"length_mm": 120.0})
    loads = found(rod)
    assert loads["snaps"].median == pytest.approx(36.609 * 800.0 * UP, rel=1e-4)
    assert loads["stretches for good"].median == pytest.approx(36.609 * 580.0 * UP, rel=1e-4)
    # A standard nut is made so that the bolt snaps first.
    assert loads["bolt thread strips"].median > loads["snaps"].median
    assert loads["nut thread strips"].median > loads["bolt thread strips"].median
    assert {p.trust for p in loads.values()} == {Trust.GOOD, Trust.FAIR}
    assert give(rod, 5000.0) == pytest.approx(5000.0 * 120.0 / (205_000.0 * 36.609), rel=1e-4)


def test_a_bolt_to_be_snapped_and_one_in_a_thin_nut() -> None:
    words = {"thread": "5/16-18", "grade": "grade 5", "until": "it snaps"}
    loads = found(Part("rod", "bolt", words=words, numbers={"engagement_mm": 3.0}))
    assert "stretches for good" not in loads
    assert loads["bolt thread strips"].median < loads["snaps"].median


def test_a_bolt_off_its_axis_bends_early() -> None:
    words = {"thread": "M8", "grade": "8.8"}
    straight = found(Part("rod", "bolt", words=words))
    aside = found(Part("rod", "bolt", words=words, numbers={"offset_mm": 1.0}))
    # sigma/F: 1/36.6 against 1/36.6 + 32/(pi 6.827^3), as 137 to 137 + 160.
    ratio = straight["stretches for good"].median / aside["stretches for good"].median
    assert ratio == pytest.approx(297.0 / 137.0, rel=0.005)
    assert straight["snaps"].median == aside["snaps"].median


PLATE = {"thickness_mm": 18.0, "width_mm": 100.0, "span_mm": 100.0}


def test_a_tapped_plate_of_plywood() -> None:
    plate = Part(
        "jaw",
        "tapped plate",
        numbers={**PLATE, "strip_MPa": 9.5},
        words={"thread": "M8", "material": "birch plywood"},
    )
    loads = found(plate)
    strip = loads["thread strips"]
    # 7/8 pi 8 18 9.5 = 3760 N.
    assert strip.median == pytest.approx(3760.0, abs=5.0)
    assert strip.trust is Trust.ORDER
    assert any("break three first" in note for note in strip.notes)
    # 4 * 55 * 92 * 18^2/6/100, the hole as wide as the thread.
    assert loads["plate bends and cracks"].median == pytest.approx(10_930.0, abs=1.0)
    inputs = {x.name: x for x in strip.inputs}
    # Three quarters of a thread where no hole is given: D - 0.75 * 1.299 P.
    assert inputs["hole_mm"].value == pytest.approx(8.0 - 0.75 * 1.29904 * 1.25, rel=1e-4)
    assert inputs["engagement_mm"].value == 18.0
    rolling = next(x for x in loads["plate shears"].inputs if x.name == "rolling_shear_MPa")
    assert rolling.value == pytest.approx(2.5 / (1 - 1.645 * 0.15), rel=1e-3)


def test_a_plate_that_lies_all_round_neither_bends_nor_sags() -> None:
    words = {"thread": "M8", "material": "birch plywood", "supports": "all round"}
    plate = Part("jaw", "tapped plate", numbers={"thickness_mm": 18.0}, words=words)
    assert set(found(plate)) == {"thread strips"}
    assert give(plate, 5000.0) == 0.0


def test_a_tapped_steel_plate() -> None:
    words = {"thread": "M8", "metal": "mild steel"}
    loads = found(Part("jaw", "tapped plate", numbers=PLATE | {"thickness_mm": 6.0}, words=words))
    assert set(loads) == {"thread strips", "plate bends for good"}
    # 4 * 235 * 92 * 36/6/100.
    assert loads["plate bends for good"].median == pytest.approx(5188.8 * UP, rel=1e-6)


def test_a_plate_with_a_hole() -> None:
    plate = Part(
        "bridge", "plate with hole", numbers={**PLATE, "hole_mm": 9.0}, words={"material": "ash"}
    )
    loads = found(plate)
    assert loads["plate bends and cracks"].median == pytest.approx(
        4.0 * 103.0 * 91.0 * 54.0 / 100.0, rel=1e-6
    )
    assert loads["plate shears"].median == pytest.approx(4 / 3 * 13.2 * 91.0 * 18.0, rel=1e-6)
    assert 0.0 < give(plate, 1000.0) < 1.0


def test_washers() -> None:
    words = {"thread": "M8", "material": "douglas fir"}
    loads = found(Part("washer", "washer", numbers={"washer_mm": 38.0}, words=words))
    assert loads["washer sinks in"].median == pytest.approx(5888.0, abs=1.0)
    words = {"thread": "M8", "rule": "european"}
    numbers = {"washer_mm": 30.0, "char_comp_perp_MPa": 2.5}
    (only,) = found(Part("washer", "washer", numbers=numbers, words=words)).values()
    up = math.exp(1.6448536269514722 * math.sqrt(math.log1p(0.28**2)))
    assert only.median == pytest.approx(4824.0 * up, rel=1e-4)


def test_beams() -> None:
    size = {"width_mm": 38.0, "depth_mm": 89.0, "span_mm": 400.0}
    clear = Part("beam", "beam", numbers=size, words={"material": "douglas fir"})
    lumber = Part("beam", "beam", numbers=size, words={"material": "douglas fir", "knots": "yes"})
    loads, knotty = found(clear), found(lumber)
    assert loads["beam bends and breaks"].median == pytest.approx(42_676.0, abs=1.0)
    assert knotty["beam bends and breaks"].median == pytest.approx(21_338.0, abs=1.0)
    assert knotty["beam bends and breaks"].trust is Trust.ORDER
    assert loads["beam shears along the grain"].median == pytest.approx(35_173.0, abs=1.0)
    assert give(clear, 6000.0) == pytest.approx(0.267 + 0.254, abs=0.001)


def test_a_metal_beam() -> None:
    numbers = {"width_mm": 40.0, "depth_mm": 10.0, "span_mm": 200.0}
    bar = Part("bar", "metal beam", numbers=numbers, words={"metal": "steel"})
    (only,) = found(bar).values()
    assert only.median == pytest.approx(3133.3 * UP, rel=1e-4)
    assert give(bar, 1000.0) == pytest.approx(0.244, abs=0.0005)


def test_posts_share_the_load() -> None:
    size = {"width_mm": 38.0, "depth_mm": 89.0, "length_mm": 600.0}
    post = Part("post", "post", numbers=size, words={"material": "douglas fir"}, count=2)
    (only,) = found(post).values()
    assert only.median == pytest.approx(2.0 * 109_310.0, rel=1e-4)


def test_glued_laps() -> None:
    size = {"width_mm": 25.0, "overlap_mm": 25.0, "glue_shear_MPa": 12.0}
    along = found(Part("lap", "glued lap", numbers=size, words={"material": "hard maple"}))
    assert along["glue line shears"].median == pytest.approx(7500.0)
    assert along["wood shears beside the glue"].median == pytest.approx(16.1 * 625.0)
    words = {"material": "hard maple", "grain": "crossed", "ends": "peak"}
    numbers = {**size, "thickness_mm": 10.0, "moe_MPa": 12_600.0}
    across = found(Part("lap", "glued lap", numbers=numbers, words=words))
    assert across["wood shears beside the glue"].median == pytest.approx(16.1 * 625.0 / 3.0)
    assert across["glue line fails from its ends"].median == pytest.approx(7500.0 / 4.98, rel=1e-3)


def test_a_dowel_joint() -> None:
    numbers = {"dowel_mm": 9.525, "depth_mm": 31.75, "shear_MPa": 2330 * 0.00689476}
    numbers["dowel_shear_MPa"] = numbers["shear_MPa"]
    loads = found(Part("dowel", "dowel joint", numbers=numbers))
    assert loads["dowel pulls out"].median == pytest.approx(1733 * 4.44822, rel=3e-4)
    assert loads["dowel pulls out"].trust is Trust.FAIR
    assert loads["dowel snaps"].median == pytest.approx(7339.0, abs=1.0)


def test_rated_parts() -> None:
    (jack,) = found(Part("jack", "rated part", {"rated_N": 20e3}, {"what": "jack"})).values()
    assert (jack.mechanism, jack.median) == ("jack stops", pytest.approx(20e3))
    up = math.exp(1.6448536269514722 * math.sqrt(math.log1p(0.1**2)))
    (hook,) = found(Part("eye", "rated part", {"rated_N": 2e3}, {"what": "eye bolt"})).values()
    assert hook.median == pytest.approx(10e3 * up)
    (own,) = found(Part("eye", "rated part", {"rated_N": 2e3, "factor": 3.0})).values()
    assert own.median == pytest.approx(6e3 * up)


def test_own_tests_only() -> None:
    hinge = Part("hinge", "own tests", own_tests=(4000.0, 4400.0, 4100.0), breaks="pin shears")
    (only,) = found(hinge).values()
    assert only.mechanism == "pin shears"
    assert "at least three" in messages(Part("hinge", "own tests", own_tests=(4000.0,)))


def test_a_property_of_a_metal_part_has_scatter_where_it_moves_the_load() -> None:
    for kind in KINDS:
        for key in kind.keys:
            if key.use is KeyUse.PROPERTY and key.name.endswith("tensile_MPa"):
                assert key.cv > 0.0, (kind.name, key.name)
