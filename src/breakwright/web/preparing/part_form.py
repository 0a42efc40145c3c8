"""The form of one part of the rig: made from its kind, filled from ``[[part]]``, read back."""

import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from breakwright.bootstrap.editing import house_key
from breakwright.web.preparing.forms import Form, number_text, read_number
from breakwright.web.preparing.kinds import KindForm, NumberForm, suggested

__all__ = [
    "NumberField",
    "WordField",
    "group_rows",
    "number_fields",
    "part_of",
    "typed_part",
    "word_fields",
]

_BLANK_ROWS = 2
# What the ending of a number's name means to a person; the longest ending that fits is taken.
_UNITS = {
    "_mm": "mm",
    "_N": "N",
    "_MPa": "MPa",
    "_N_mm3": "N/mm³",
    "_kg_m3": "kg/m³",
    "_pct": "%",
    "_deg": "°",
    "_in": "in",
    "_cm": "cm",
    "_m": "m",
    "_kN": "kN",
    "_kgf": "kgf",
    "_lbf": "lbf",
    "_GPa": "GPa",
    "_psi": "psi",
    "_ksi": "ksi",
    "_g_cm3": "g/cm³",
    "_lb_ft3": "lb/ft³",
}
_TYPED_UNIT = re.compile(r"([+\-−]?[\d.,]+)\s*([a-zA-Z/³²%°][\w/³²]*)?")


@dataclass(frozen=True, slots=True)
class NumberField:
    """``key`` is the name in ``study.toml``, which may have another unit than the house's;
    ``low`` and ``high`` are in that unit."""

    key: str
    number: NumberForm
    label: str
    unit: str
    low: float
    high: float

    @property
    def hint(self) -> str:
        ends = f"{self.number.meaning}; {number_text(self.low)} to {number_text(self.high)}"
        unit = f" {self.unit}" if self.unit else ""
        default = self.number.default
        return f"{ends}{unit}" + ("" if default is None else f"; {default:g} if left out")


@dataclass(frozen=True, slots=True)
class WordField:
    """``choices`` is None where a table decides; ``offers`` are then some that it knows."""

    key: str
    label: str
    choices: tuple[str, ...] | None
    offers: tuple[str, ...]


def number_fields(kind: KindForm, part: Mapping[str, Any]) -> list[NumberField]:
    """Return a field for each number of the kind, in the unit that the part has it in."""
    written = {house_key(key)[0]: key for key in part}
    return [_number_field(number, written.get(number.name, number.name)) for number in kind.numbers]


def _number_field(number: NumberForm, key: str) -> NumberField:
    factor = house_key(key)[1]
    ending = _ending(key)
    label = number.name.removesuffix(_ending(number.name)).replace("_", " ")
    return NumberField(
        key,
        number,
        label[:1].upper() + label[1:],
        _UNITS.get(ending, ""),
        number.low / factor,
        number.high / factor,
    )


def _ending(key: str) -> str:
    fits = [ending for ending in _UNITS if key.endswith(ending) and len(key) > len(ending)]
    return max(fits, key=len, default="")


def word_fields(kind: KindForm) -> list[WordField]:
    """Return a field for each word of the kind."""
    fields = []
    for key, choices in kind.words.items():
        label = key.replace("_", " ")
        offers = suggested().get(key, ())
        fields.append(WordField(key, label[:1].upper() + label[1:], choices, offers))
    return fields


def part_of(kind: KindForm, part: Mapping[str, Any]) -> dict[str, object]:
    """Return what the form shows of a ``[[part]]``."""
    share = part.get("share")
    ends = share if isinstance(share, list) else [share, None]
    values: dict[str, object] = {
        "name": part.get("name"),
        "kind": kind.name,
        "count": part.get("count"),
        "share_least": ends[0],
        "share_most": ends[1] if len(ends) > 1 else None,
        "tested": "yes" if part.get("tested") is True else "",
        "breaks": part.get("breaks"),
        "own_tests": " ".join(number_text(load) for load in part.get("own_tests", [])),
    }
    for field in number_fields(kind, part):
        value = part.get(field.key)
        if isinstance(value, Mapping):
            values[f"spread:{field.number.name}"] = _percent(value.get("cv"))
            value = value.get("value")
        values[f"number:{field.number.name}"] = value
    for word in kind.words:
        values[f"word:{word}"] = part.get(word)
    for row, (group, key, text) in enumerate(group_rows(part)):
        values |= {f"group{row}": group, f"key{row}": key, f"value{row}": text}
    return values


def _percent(cv: object) -> object:
    return round(cv * 100, 6) if isinstance(cv, int | float) else None


def group_rows(part: Mapping[str, Any]) -> list[tuple[str, str, str]]:
    """Return what differs in the pieces of one group: group, key, value."""
    groups = part.get("group", {})
    return [
        (group, key, number_text(value))
        for group, box in groups.items()
        if isinstance(box, Mapping)
        for key, value in box.items()
    ]


def typed_part(
    form: Form, kind: KindForm, part: Mapping[str, Any], groups: Sequence[str]
) -> dict[str, Any]:
    """Return the ``[[part]]`` that the form says; what the form does not ask for stays as it is
    in ``part``, except where another kind has no use for it."""
    made: dict[str, Any] = dict(part) if part.get("kind") == kind.name else _of_all(part)
    made["name"] = form.needed("name", "Give the part a name of its own.", most=80)
    made["kind"] = kind.name
    _put(made, "count", form.whole("count", low=1, high=1000))
    least = form.number("share_least", low=0, high=1)
    most = form.number("share_most", low=0, high=1)
    share = [least if least is not None else most, most if most is not None else least]
    _put(made, "share", None if share[0] is None else share)
    _put(made, "tested", True if form.typed.get("tested") else None)
    _put(made, "breaks", form.choice("breaks", kind.breaks) if kind.breaks else None)
    _put(made, "own_tests", form.numbers("own_tests") or None)
    for field in number_fields(kind, part):
        key, value = _typed_number(form, field)
        if key != field.key:
            made.pop(field.key, None)
        _put(made, key, value)
    for word in word_fields(kind):
        name = f"word:{word.key}"
        _put(made, word.key, form.choice(name, word.choices) if word.choices else form.text(name))
    _put(made, "group", _groups(form, kind, part, groups))
    return made


def _of_all(part: Mapping[str, Any]) -> dict[str, Any]:
    kept = ("name", "count", "share", "tested", "own_tests")
    return {key: part[key] for key in kept if key in part}


def _put(made: dict[str, Any], key: str, value: object) -> None:
    if value is None or value == "" or value == {}:
        made.pop(key, None)
    else:
        made[key] = value


def _typed_number(form: Form, field: NumberField) -> tuple[str, object]:
    """Return key and value; '1.5 in' in a field of millimetres gives another key."""
    name = f"number:{field.number.name}"
    key, low, high = field.key, field.low, field.high
    typed = form.typed.get(name, "").strip()
    value: float | int | None = None
    match = _TYPED_UNIT.fullmatch(typed)
    if match and match[2] and match[2] != field.unit:
        found = _in_unit(field.number, match[2])
        if found is None:
            form.refuse(name, f"'{match[2]}' is not a unit that fits here.")
            return key, None
        key, low, high = found.key, found.low, found.high
    number = read_number(match[1]) if match else read_number(typed) if typed else None
    if isinstance(number, str):
        form.refuse(name, number)
    elif number is not None:
        value = number
        if not low * (1 - 1e-9) <= value <= high * (1 + 1e-9):
            unit = _UNITS.get(_ending(key), "")
            ends = f"{number_text(low)} to {number_text(high)} {unit}".strip()
            form.refuse(name, f"{number_text(value)} is outside what is possible: {ends}.")
    spread = form.number(f"spread:{field.number.name}", low=0, high=200)
    if value is not None and spread:
        return key, {"value": value, "cv": round(spread / 100, 9)}
    return key, value


def _in_unit(number: NumberForm, unit: str) -> NumberField | None:
    stem = number.name.removesuffix(_ending(number.name))
    for ending, words in _UNITS.items():
        if unit in (words, ending.lstrip("_")) and house_key(stem + ending)[0] == number.name:
            return _number_field(number, stem + ending)
    return None


def _groups(
    form: Form, kind: KindForm, part: Mapping[str, Any], groups: Sequence[str]
) -> dict[str, dict[str, Any]]:
    numbers = {field.key: field for field in number_fields(kind, part)}
    made: dict[str, dict[str, Any]] = {}
    for row in range(100):
        if f"key{row}" not in form.typed:
            break
        group, key = form.text(f"group{row}"), form.text(f"key{row}")
        typed = form.text(f"value{row}")
        if not typed:
            continue
        if group not in groups:
            form.refuse(f"group{row}", "Choose the group whose pieces differ in this.")
            continue
        if key in kind.words:
            made.setdefault(group, {})[key] = typed
            continue
        value = read_number(typed)
        if isinstance(value, str):
            form.refuse(f"value{row}", value)
        elif key in numbers and not numbers[key].low <= value <= numbers[key].high:
            form.refuse(f"value{row}", f"Outside what is possible: {numbers[key].hint}.")
        elif not key:
            form.refuse(f"key{row}", "Choose in what they differ.")
        else:
            made.setdefault(group, {})[key] = value
    return made
