"""Give, stroke and energy of an invented rig, by hand."""

import pytest
from invented_kinds import CATALOGUE, bar, codes, peg, study

from breakwright.model.foresight import Expected, Layout
from breakwright.rig.cautions import CAUTIONS, Moment
from breakwright.usecases.rig import check_rig

GIVEN = Expected(median=4000.0, cv=0.2)


def check(*parts, **more):
    return check_rig(study(*parts, expected=GIVEN, **more), seed=3, draws=5000, catalogue=CATALOGUE)


def test_give_energy_and_speed_at_the_median():
    """4 kN x 200 mm/1e6 = 0.8 mm; half of 4 kN x 0.8 mm = 1.6 J; 50 g at 8 m/s."""
    frame = check(peg(), bar(40.0), layout=Layout(loose_mass=0.05)).frame
    assert frame.usual.deflection == pytest.approx(0.8)
    assert frame.usual.energy == pytest.approx(1.6)
    assert frame.usual.speed == pytest.approx(8.0)
    assert frame.unknown == ("bar",)
    assert frame.stroke_needed == frame.strongest.deflection > 0.8


def test_a_jack_without_the_stroke_is_pointed_out():
    found = check(peg(), layout=Layout(stroke=1.0))
    assert "stroke-short" in codes(found)
    assert "stroke-short" not in codes(check(peg(), layout=Layout(stroke=2.0)))


def test_much_energy_is_pointed_out_and_unknown_give_is_named():
    found = check(peg(), bar(40.0), layout=Layout(loose_mass=0.005))  # 1.6 J: 25 m/s
    assert {"energy-high", "deflection-partly-unknown"} <= codes(found)
    assert "energy-high" not in codes(check(peg()))


def test_nothing_known_gives_no_energy():
    frame = check(bar(40.0)).frame
    assert frame.usual is frame.strongest is frame.stroke_needed is None
    assert frame.unknown == ("bar",)


def test_every_moment_has_its_cautions_and_every_result_carries_them():
    assert {c.moment for c in CAUTIONS} == set(Moment)
    assert len({c.code for c in CAUTIONS}) == len(CAUTIONS)
    assert check(peg()).cautions == CAUTIONS
    text = " ".join(c.text for c in CAUTIONS if c.moment is Moment.USE)
    assert "local rule" in text
    assert "licensed" in text
