"""Every kind that holds by wood: reachable from a part, vectorised, growing the right way."""

from collections.abc import Mapping

import numpy as np
import pytest

from breakwright.model.part import Part
from breakwright.strength.catalogue import kinds
from breakwright.strength.kinds_wood import KINDS
from breakwright.strength.mechanism import Mechanism
from breakwright.strength.resolve import (
    mechanisms_of,
    part_problems,
    predictions,
    resolve,
)

_JOINT = {"diameter_mm": 4.83, "side_thickness_mm": 38.0, "penetration_mm": 42.0}
_WOODS = {"material": "douglas fir", "side_material": "douglas fir"}
_NAIL = {"diameter_mm": 4.0, "penetration_mm": 50.0}
_SCREW = {"diameter_mm": 5.0, "thread_length_mm": 30.0}
_STRUCTURAL = {"diameter_mm": 8.0, "thread_length_mm": 60.0}

PARTS: dict[str, tuple[str, dict[str, float], dict[str, str]]] = {
    "nail": ("nail", _NAIL, {"material": "ash"}),
    "annular nail": ("annular nail", _NAIL, {"material": "ash"}),
    "drift bolt": ("drift bolt", {"diameter_mm": 9.5, "penetration_mm": 38.0}, {"material": "ash"}),
    "wood screw": ("wood screw", _SCREW, {"material": "ash"}),
    "lag screw": ("lag screw", _SCREW, {"material": "ash"}),
    "structural, softwood": ("structural screw", _STRUCTURAL, {"material": "douglas fir"}),
    "structural, hardwood": ("structural screw", _STRUCTURAL, {"material": "beech"}),
    "structural, board": ("structural screw", _STRUCTURAL, {"material": "birch plywood"}),
    "screwed across": ("screwed joint", _JOINT, _WOODS),
    "screwed, drilled": ("screwed joint", _JOINT, {**_WOODS, "predrilled": "yes"}),
    "screwed, nds": ("screwed joint", _JOINT, {**_WOODS, "rules": "nds"}),
    "screwed along": ("screwed joint", _JOINT, {**_WOODS, "load": "along"}),
    "screwed slanting": ("screwed joint", _JOINT, {**_WOODS, "load": "slanting"}),
    "nailed across": ("nailed joint", _JOINT, _WOODS),
    "nailed, nds": ("nailed joint", _JOINT, {**_WOODS, "rules": "nds"}),
    "nailed along": ("nailed joint", _JOINT, {**_WOODS, "load": "along"}),
    "head": ("head pull-through", {"head_mm": 15.0}, {"material": "birch plywood"}),
    "pin": (
        "bearing under a pin",
        {"diameter_mm": 10.0, "thickness_mm": 30.0},
        {"material": "ash"},
    ),
    "thin pin": (
        "bearing under a pin",
        {"diameter_mm": 4, "thickness_mm": 30},
        {"material": "ash"},
    ),
}


# The same fastener in end grain and in a board, where the kind knows of it.
for _name in ("nail", "annular nail", "drift bolt", "wood screw", "lag screw"):
    _kind, _numbers, _words = PARTS[_name]
    if _name != "drift bolt":
        PARTS[f"{_name}, end"] = (_kind, _numbers, {**_words, "grain": "end"})
    PARTS[f"{_name}, board"] = (_kind, _numbers, {**_words, "material": "birch plywood"})
for _name in ("screwed along", "nailed along"):
    _kind, _numbers, _words = PARTS[_name]
    PARTS[f"{_name}, end"] = (_kind, _numbers, {**_words, "grain": "end"})
    PARTS[f"{_name}, board"] = (_kind, _numbers, {**_words, "material": "birch plywood"})
PARTS["nailed, drilled"] = ("nailed joint", _JOINT, {**_WOODS, "predrilled": "yes"})


def _part(name: str, **more: float) -> Part:
    kind, numbers, words = PARTS[name]
    return Part(name, kind, {**numbers, **more}, words)


CASES = [(name, way) for name in PARTS for way in mechanisms_of(_part(name), None)]
IDS = [f"{name}: {way.name}" for name, way in CASES]


@pytest.mark.parametrize("name", PARTS)
def test_every_part_is_accepted_and_predicted(name: str) -> None:
    assert part_problems(_part(name)) == ()
    for found in predictions(_part(name), None):
        assert 0.0 < found.p5 < found.median < found.p95 < np.inf
        assert found.source


def test_every_mechanism_is_reached() -> None:
    reached = {id(way) for _, way in CASES}
    missed = [(k.name, m.name) for k in KINDS for m in k.mechanisms if id(m) not in reached]
    assert missed == []


@pytest.mark.parametrize(("name", "way"), CASES, ids=IDS)
def test_arrays_give_what_single_numbers_give(name: str, way: Mechanism) -> None:
    numbers = resolve(_part(name), None).numbers
    factors = np.linspace(0.9, 1.1, 5)
    key = next(k for k in way.needs if k.endswith(("specific_gravity", "density_kg_m3", "_MPa")))
    many = {k: np.full(5, v) for k, v in _needed(way, numbers).items()}
    many[key] = numbers[key] * factors
    loads = way.load(many)
    assert loads.shape == (5,)
    for factor, load in zip(factors, loads, strict=True):
        one = {k: np.asarray(v) for k, v in _needed(way, numbers).items()}
        one[key] = np.asarray(numbers[key] * factor)
        assert float(way.load(one)) == pytest.approx(float(load), rel=1e-12)


def _needed(way: Mechanism, numbers: Mapping[str, float]) -> dict[str, float]:
    return {k: float(numbers[k]) for k in way.needs}


@pytest.mark.parametrize(("name", "way"), CASES, ids=IDS)
def test_a_mechanism_needs_what_it_names_and_nothing_else(name: str, way: Mechanism) -> None:
    numbers = _needed(way, resolve(_part(name), None).numbers)
    way.load({k: np.asarray(v) for k, v in numbers.items()})
    idle = []
    for key in way.needs:
        moved = {k: np.asarray(v) for k, v in numbers.items()}
        base = float(way.load(moved))
        moves = []
        for factor in (0.05, 0.3, 0.7, 1.4, 5.0):
            moved[key] = np.asarray(numbers[key] * factor)
            moves.append(float(way.load(moved)) != base)
        if not any(moves):
            idle.append(key)
    # The angle does not count at 0 and below 1/4 inch the grain does not.
    assert [k for k in idle if k not in ("angle_deg", "count")] == []


@pytest.mark.parametrize(("name", "way"), CASES, ids=IDS)
def test_stronger_wood_steel_and_larger_sizes_never_weaken(name: str, way: Mechanism) -> None:
    numbers = _needed(way, resolve(_part(name), None).numbers)
    base = float(way.load({k: np.asarray(v) for k, v in numbers.items()}))
    for key in way.needs:
        if key in ("angle_deg", "moisture_pct", "count"):
            continue
        more = {k: np.asarray(v * (1.05 if k == key else 1.0)) for k, v in numbers.items()}
        assert float(way.load(more)) >= base * (1.0 - 1e-12), key


def test_the_weakest_mode_is_told() -> None:
    thin = predictions(_part("screwed across", side_thickness_mm=4.0), None)[0]
    thick = predictions(_part("screwed across"), None)[0]
    assert thick.notes[0] == ("the weakest way to give: the fastener bends in both pieces (mode f)")
    assert "mode f" not in thin.notes[0]
    nds = predictions(_part("screwed, nds"), None)[0]
    assert "mode IV" in nds.notes[0]


def test_a_slanting_joint_lies_between_pull_and_shear() -> None:
    def load(angle: float) -> float:
        return predictions(_part("screwed slanting", angle_deg=angle), None)[0].median

    across = predictions(_part("screwed across"), None)[0].median
    assert load(90.0) == pytest.approx(across, rel=1e-9)
    assert min(load(0.0), across) <= load(45.0) <= max(load(0.0), across) * 2**0.5


def test_hankinson_turns_the_pin_towards_the_weaker_direction() -> None:
    loads = [predictions(_part("pin", angle_deg=a), None)[0].median for a in (0, 30, 60, 90)]
    assert loads == sorted(loads, reverse=True)
    flat = [predictions(_part("thin pin", angle_deg=a), None)[0].median for a in (0, 90)]
    assert flat[0] == flat[1]


def test_end_grain_holds_less() -> None:
    side = predictions(_part("wood screw"), None)[0].median
    end = predictions(_part("wood screw, end"), None)[0].median
    assert end == pytest.approx(0.75 * side, rel=1e-12)


def test_the_catalogue_has_the_wood_kinds() -> None:
    assert {k.name for k in KINDS} <= set(kinds())
    for name, kind in kinds().items():
        assert kind.name == name
        assert kind.meaning
        keys = [k.name for k in kind.keys]
        assert len(keys) == len(set(keys)), name
        for key in kind.keys:
            assert key.low < key.high, key
        for way in kind.mechanisms:
            assert set(way.needs) <= {*keys, "count"}, (name, way.name)
