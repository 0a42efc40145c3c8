"""A small catalogue of invented kinds, so that the rig's own rules are tested by plain numbers.
Every number is invented.
"""

from dataclasses import replace

from breakwright.model.part import Part
from breakwright.model.study import Study
from breakwright.rig.look import Catalogue
from breakwright.strength.mechanism import Key, KeyUse, Kind, Mechanism
from breakwright.strength.predict import Resolved, predict
from breakwright.strength.trust import Trust

PEG = Kind(
    "peg",
    "a peg in a rail",
    keys=(
        Key("depth_mm", "depth of the hole", KeyUse.SIZE, 2.0, 80.0),
        Key("span_mm", "between the supports of the rail", KeyUse.SETTING, 20.0, 600.0),
        Key("height_mm", "height of the rail", KeyUse.SIZE, 5.0, 60.0, cv=0.02),
        Key("glue_MPa", "shear of the glue", KeyUse.PROPERTY, 0.1, 50.0, cv=0.2),
        Key("mor_MPa", "bending strength", KeyUse.PROPERTY, 1.0, 200.0, cv=0.15),
    ),
    mechanisms=(
        Mechanism(
            "pulls out",
            lambda v: v["glue_MPa"] * 40.0 * v["depth_mm"],
            ("glue_MPa", "depth_mm"),
            Trust.GOOD,
            "invented",
        ),
        Mechanism(
            "rail bends",
            lambda v: 40.0 * v["mor_MPa"] * v["height_mm"] ** 2 / v["span_mm"],
            ("mor_MPa", "height_mm", "span_mm"),
            Trust.GOOD,
            "invented",
        ),
    ),
    deflection=lambda v, load: load * v["span_mm"] / 1e6,
)
BAR = Kind(
    "bar",
    "a bar that pulls",
    keys=(
        Key("width_mm", "width", KeyUse.SIZE, 1.0, 100.0),
        Key("pull_MPa", "tensile strength", KeyUse.PROPERTY, 1.0, 900.0, cv=0.1),
    ),
    mechanisms=(
        Mechanism(
            "snaps",
            lambda v: v["pull_MPa"] * v["width_mm"],
            ("pull_MPa", "width_mm"),
            Trust.GOOD,
            "invented",
        ),
    ),
)
GUESS = replace(BAR, name="guess", mechanisms=(replace(BAR.mechanisms[0], trust=Trust.ORDER),))
RATED = Kind(
    "rated part",
    "a rated part",
    keys=(Key("rated_N", "rated load", KeyUse.SIZE, 1.0, 1e6),),
    mechanisms=(
        Mechanism("breaks", lambda v: 4.0 * v["rated_N"], ("rated_N",), Trust.GOOD, "invented"),
    ),
)
KINDS = {k.name: k for k in (PEG, BAR, GUESS, RATED)}


def resolve(part: Part, group: str | None) -> Resolved:
    kind = KINDS[part.kind]
    given = {**part.numbers, **(part.by_group.get(group, {}) if group else {})}
    numbers = {k: float(v) for k, v in given.items()}
    for key in kind.keys:
        if not key.low <= numbers[key.name] <= key.high:
            raise ValueError(f"{key.name} out of range")
    cv = {k.name: part.spread.get(k.name, k.cv) for k in kind.keys}
    return Resolved(part.name, numbers, cv, {}, part.words, part.largest_share)


def predictions(part: Part, group: str | None):
    resolved = resolve(part, group)
    return tuple(predict(m, resolved) for m in KINDS[part.kind].mechanisms)


CATALOGUE = Catalogue(KINDS, resolve, predictions, lambda part: part.count < 100)


def peg(**more) -> Part:
    """Pulls out at 4 kN (10 MPa x 40 x 10), the rail bends at 40 x 60 x 900/200 = 10.8 kN."""
    numbers = {"depth_mm": 10.0, "span_mm": 200.0, "height_mm": 30.0}
    numbers |= {"glue_MPa": 10.0, "mor_MPa": 60.0} | more.pop("numbers", {})
    made = Part("peg", "peg", numbers=numbers, tested=True, breaks="pulls out")
    return replace(made, **more)


def bar(width: float, **more) -> Part:
    """Snaps at 500 N for each mm of width."""
    made = Part("bar", "bar", numbers={"width_mm": width, "pull_MPa": 500.0})
    return replace(made, **more)


def study(*parts: Part, groups=("plain",), **more) -> Study:
    return Study((), groups, groups[0], parts=parts, **more)


def codes(result) -> set[str]:
    return {n.code for n in result.notices}
