"""The kinds of part and what each is asked for, from the file that a script makes of the
catalogue."""

import json
from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache
from importlib.resources import files
from types import MappingProxyType

__all__ = ["KindForm", "NumberForm", "kind_forms", "suggested"]


@dataclass(frozen=True, slots=True)
class NumberForm:
    """``use`` is 'size', 'property' or 'setting'; ``low``..``high`` what is allowed."""

    name: str
    meaning: str
    use: str
    low: float
    high: float
    default: float | None


@dataclass(frozen=True, slots=True)
class KindForm:
    """``words`` maps a word's name to what it may be, None where a table decides."""

    name: str
    meaning: str
    numbers: tuple[NumberForm, ...]
    words: Mapping[str, tuple[str, ...] | None]
    breaks: tuple[str, ...]


@cache
def _file() -> dict[str, object]:
    text = files("breakwright.web.preparing").joinpath("kinds.json").read_text("utf-8")
    read: dict[str, object] = json.loads(text)
    return read


@cache
def kind_forms() -> Mapping[str, KindForm]:
    """Return every kind of part by its name, in the catalogue's order."""
    kinds = _file()["kinds"]
    assert isinstance(kinds, list)
    return MappingProxyType(
        {
            kind["name"]: KindForm(
                kind["name"],
                kind["meaning"],
                tuple(NumberForm(**number) for number in kind["numbers"]),
                MappingProxyType(
                    {k: None if v is None else tuple(v) for k, v in kind["words"].items()}
                ),
                tuple(kind["breaks"]),
            )
            for kind in kinds
        }
    )


@cache
def suggested() -> Mapping[str, tuple[str, ...]]:
    """Return what may be chosen for words that a table decides; other spellings are taken too."""
    found = _file()["suggested"]
    assert isinstance(found, dict)
    return MappingProxyType({name: tuple(words) for name, words in found.items()})
