"""The wood under a washer."""

from collections.abc import Mapping
from types import MappingProxyType

from breakwright.strength.kind_words import thread_numbers, thread_sentences
from breakwright.strength.mechanism import Key, KeyUse, Kind, Mechanism
from breakwright.strength.trust import Trust
from breakwright.strength.washers import washer_rule_load, washer_settling_load

__all__ = ["WASHER"]


def _complete_washer(numbers: Mapping[str, float], words: Mapping[str, str]) -> Mapping[str, float]:
    thread = thread_numbers(words)
    found = {"bolt_mm": thread["diameter_mm"]} if thread else {}
    every = {**found, **numbers}
    if "bolt_mm" in every:
        found["hole_mm"] = every["bolt_mm"] + 1.0
    return found


def _check_washer(numbers: Mapping[str, float], words: Mapping[str, str]) -> tuple[str, ...]:
    found = list(thread_sentences({}, words))
    washer = numbers.get("washer_mm")
    for key in ("hole_mm", "bolt_mm"):
        if washer is not None and numbers.get(key, 0.0) + (key == "bolt_mm") >= washer:
            found.append(
                f"washer_mm is {washer:.4g}, no larger than {key} ({numbers[key]:.4g}): nothing "
                "is left to bear; give the washer's outer diameter."
            )
    return tuple(found)


WASHER = Kind(
    name="washer",
    meaning="side grain of wood under a round washer",
    keys=(
        Key("washer_mm", "outer diameter of the washer", KeyUse.SIZE, 3.0, 500.0),
        Key("hole_mm", "hole in the wood; 1 mm over the bolt if left out", KeyUse.SIZE, 1.0, 200.0),
        Key("bolt_mm", 'diameter of the bolt; or say thread = "M8"', KeyUse.SIZE, 1.0, 100.0),
        Key(
            "comp_perp_MPa",
            "compression strength across the grain",
            KeyUse.PROPERTY,
            0.2,
            60.0,
            cv=0.28,
        ),
        Key(
            "char_comp_perp_MPa",
            "characteristic compression strength across the grain (f_c,90,k)",
            KeyUse.PROPERTY,
            0.2,
            60.0,
        ),
    ),
    words=MappingProxyType({"material": None, "thread": None, "rule": ("handbook", "european")}),
    mechanisms=(
        Mechanism(
            "washer sinks in",
            lambda v: washer_settling_load(
                v["comp_perp_MPa"], washer_mm=v["washer_mm"], hole_mm=v["hole_mm"]
            ),
            ("washer_mm", "hole_mm", "comp_perp_MPa"),
            Trust.FAIR,
            "Wood Handbook (2010) Table 5-3a, compression across the grain",
            notes=("it settles and goes on bearing; nothing ruptures at this load",),
            when=lambda w: w.get("rule") != "european",
        ),
        Mechanism(
            "wood crushes under the washer",
            lambda v: washer_rule_load(
                v["char_comp_perp_MPa"], washer_mm=v["washer_mm"], bolt_mm=v["bolt_mm"]
            ),
            ("washer_mm", "bolt_mm", "char_comp_perp_MPa"),
            Trust.FAIR,
            "EN 1995-1-1 section 8.5.2, as taught in textbooks",
            characteristic=True,
            cv_if_characteristic=0.28,
            when=lambda w: w.get("rule") == "european",
        ),
    ),
    complete=_complete_washer,
    check=_check_washer,
)
