"""Materials by plain name."""

import pytest

from breakwright.strength.materials import UnknownMaterial, find_material, known_materials


@pytest.mark.parametrize(
    ("said", "meant"),
    [
        ("hard maple", "sugar maple"),
        ("Sugar Maple", "sugar maple"),
        ("HARD-MAPLES", "sugar maple"),
        ("soft maple", "red maple"),
        ("ash", "white ash"),
        ("Ashes", "white ash"),
        ("beech", "american beech"),
        ("poplar", "yellow poplar"),
        ("Douglas fir", "douglas fir"),
        ("douglas-fir", "douglas fir"),
        ("Douglas fir (coast)", "douglas fir"),
        ("red oaks", "northern red oak"),
        ("baltic birch", "birch plywood"),
        ("Birch ply", "birch plywood"),
        ("MDF", "mdf"),
        ("pla", "pla"),
    ],
)
def test_what_people_say(said: str, meant: str) -> None:
    assert find_material(said).name == meant


@pytest.mark.parametrize(
    ("said", "nearest"),
    [
        ("mapel", "sugar maple"),
        ("hard mapel", "sugar maple"),
        ("oak", "northern red oak"),
        ("birch", "yellow birch"),
        ("pine", "loblolly pine"),
        ("duglas fir", "douglas fir"),
        ("plywod", "plywood"),
    ],
)
def test_unknown_or_ambiguous_names_offer_the_nearest(said: str, nearest: str) -> None:
    with pytest.raises(UnknownMaterial) as refused:
        find_material(said)
    assert nearest in refused.value.nearest
    assert refused.value.name == said


def test_nothing_is_near_to_nonsense() -> None:
    with pytest.raises(UnknownMaterial) as refused:
        find_material("xyzzy")
    assert refused.value.nearest == ()
    with pytest.raises(UnknownMaterial):
        find_material("")


def test_every_known_name_is_found() -> None:
    assert [find_material(n).name for n in known_materials()] == list(known_materials())


def test_wood_has_scatter_source_and_status() -> None:
    maple = find_material("hard maple")
    assert maple.category == "hardwood"
    assert maple.properties["specific_gravity"].value == 0.63
    # Wood Handbook Table 5-6 (table from memory, values recomputed): 10, 16, 22, 14, 28 %.
    cvs = {k: maple.properties[k].cv for k in ("specific_gravity", "mor_MPa", "moe_MPa")}
    assert cvs == {"specific_gravity": 0.10, "mor_MPa": 0.16, "moe_MPa": 0.22}
    assert maple.properties["shear_MPa"].cv == 0.14
    assert maple.properties["comp_perp_MPa"].cv == 0.28
    assert maple.properties["mor_MPa"].green == 65.0
    assert "Table 5-3a" in maple.properties["mor_MPa"].source
    assert maple.properties["mor_MPa"].status == "verified"


def test_density_and_specific_gravity_go_together() -> None:
    birch = find_material("birch plywood").properties
    assert birch["density_kg_m3"].value == 680.0
    assert round(birch["specific_gravity"].value, 3) == 0.607
    ash = find_material("ash").properties
    assert ash["density_kg_m3"].value == pytest.approx(0.60 * 1120.0, rel=1e-12)


def test_a_range_is_read_as_its_middle_nine_tenths() -> None:
    strip = find_material("birch plywood").properties["strip_MPa"]
    # sqrt(6 x 13) = 8.83; ln(13/6)/3.290 = 0.235.
    assert strip.value == pytest.approx(8.83, abs=0.005)
    assert strip.cv == pytest.approx(0.238, abs=0.0005)
    assert "6-13" in strip.source
    assert strip.status == "memory"


def test_a_lower_value_is_taken_up_to_a_mean() -> None:
    mor = find_material("mdf").properties["mor_MPa"]
    assert mor.value == pytest.approx(20.0 / (1.0 - 1.645 * 0.15), rel=1e-12)
    assert "lower value 20" in mor.source


def test_solid_wood_holds_a_thread_by_its_sort() -> None:
    hard, soft = find_material("ash"), find_material("white spruce")
    assert hard.properties["strip_MPa"].value == pytest.approx((10.0 * 18.0) ** 0.5, rel=1e-12)
    assert soft.properties["strip_MPa"].value == pytest.approx((5.0 * 9.0) ** 0.5, rel=1e-12)
    # The range's own width, not the scatter of clear wood.
    assert hard.properties["strip_MPa"].cv == pytest.approx(0.180, abs=0.001)


def test_moisture_meeting_point_by_species() -> None:
    # Wood Handbook FPL-GTR-282, Table 5-13: white ash 24, yellow birch 27, loblolly 21, others 25.
    found = {n: find_material(n).intersection_moisture_pct for n in ("ash", "walnut", "mdf")}
    assert found == {"ash": 24.0, "walnut": 25.0, "mdf": None}
    assert find_material("yellow birch").intersection_moisture_pct == 27.0
    assert find_material("loblolly pine").intersection_moisture_pct == 21.0
