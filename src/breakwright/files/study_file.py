"""``study.toml`` from bytes to checked values: the question, the groups, the instruments."""

import json
import re
import tomllib
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, fields
from pathlib import Path
from types import MappingProxyType
from typing import Any

from breakwright.files.findings import Findings
from breakwright.files.nearest import near_words
from breakwright.files.raw import read_text
from breakwright.files.study_checks import check_study
from breakwright.files.study_shape import (
    ExpectedTable,
    InstrumentTable,
    LayoutTable,
    StudyTable,
    WeightTable,
    WishTable,
)
from breakwright.files.toml_lines import key_line
from breakwright.model.trial import Sharing
from breakwright.model.units import ForceUnit

__all__ = ["StudyFile", "read_study_file", "read_study_text"]

_TYPES = {
    "string_type": ("text", 'text in quotes, such as "wedged"'),
    "bool_type": ("true or false", "true or false, without quotes"),
    "float_type": ("a number", "a number without quotes and with a decimal point, such as 1.2"),
    "finite_number": ("a number", "a finite number"),
    "list_type": ("a list", 'a list in square brackets, such as ["plain", "wedged"]'),
    "int_type": ("a whole number", "a whole number, such as 12"),
    "int_from_float": ("a whole number", "a whole number, such as 12"),
    "dict_type": ("a table", "a table: its name in square brackets on a line, its keys below"),
    "dataclass_type": ("a table", "a table: its name in square brackets, its keys below"),
}


_SHAPES: Mapping[tuple[str, ...], type] = MappingProxyType(
    {
        (): StudyTable,
        ("instrument",): InstrumentTable,
        ("expected",): ExpectedTable,
        ("wish",): WishTable,
        ("layout",): LayoutTable,
    }
)


@dataclass(frozen=True, slots=True)
class StudyFile:
    """``table`` as written; ``unit`` and ``sharing`` understood; ``file`` and ``text`` for
    messages about keys that only the sheet proves wrong."""

    table: StudyTable
    unit: ForceUnit | None
    sharing: Sharing | None
    file: str
    text: str

    @property
    def lacks_unit(self) -> bool:
        """Was a unit given that could not be understood?"""
        return self.table.unit is not None and self.unit is None

    def line(self, *path: str | int) -> int | None:
        return key_line(self.text, path)


def read_study_file(path: Path, findings: Findings) -> StudyFile | None:
    """Return the checked file; None where its shape could not be read (noted why)."""
    text = read_text(path, findings)
    return None if text is None else read_study_text(text, findings)


def read_study_text(text: str, findings: Findings) -> StudyFile | None:
    """Return what ``text`` says, as ``read_study_file`` does; it is called ``findings.file``."""
    data = _parsed(text, findings)
    if data is None:
        return None
    table = _shaped(data, text, findings)
    if table is None:
        return None
    unit, sharing = check_study(table, text, findings)
    return StudyFile(table, unit, sharing, findings.file, text)


def _parsed(text: str, findings: Findings) -> dict[str, Any] | None:
    try:
        return tomllib.loads(text)
    except tomllib.TOMLDecodeError as error:
        words = str(error)
        place = re.search(r"\(at line (\d+), column (\d+)\)", words)
        line = int(place[1]) if place else text.count("\n") + 1
        lines = text.splitlines()
        findings.problem(
            "toml-syntax",
            "this is not valid TOML: " + re.sub(r"\s*\(at .*\)$", "", words),
            line=line,
            column=int(place[2]) if place else None,
            read=lines[line - 1] if 0 < line <= len(lines) else "",
            allowed='key = value, text in quotes: worth = 1.2, reference = "plain"',
            do="Correct this line (or the one above it).",
        )
    except RecursionError:
        findings.problem(
            "toml-syntax",
            "lists or tables are nested too deeply to be read",
            allowed='key = value, text in quotes: worth = 1.2, reference = "plain"',
            do="Take the nesting out.",
        )
    return None


def _shaped(data: dict[str, Any], text: str, findings: Findings) -> StudyTable | None:
    from pydantic import TypeAdapter, ValidationError

    try:
        # Strict checking builds these plain dataclasses from JSON only. Dates become text on the
        # way, which is what they are wanted as.
        return TypeAdapter(StudyTable).validate_json(json.dumps(data, default=str))
    except ValidationError as error:
        for item in error.errors(include_url=False, include_context=False):
            _refuse_shape(item["type"], item["loc"], item["input"], text, findings)
        return None


def _refuse_shape(
    kind: str,
    path: tuple[str | int, ...],
    value: object,
    text: str,
    findings: Findings,
) -> None:
    key = str(path[-1])
    name = _dotted(path)
    line = key_line(text, path)
    if kind in ("unexpected_keyword_argument", "extra_forbidden"):
        known = _keys_at(path)
        near = near_words(key, known)
        findings.problem(
            "unknown-key",
            f"'{name}' is not a key that is known here",
            line=line,
            name=name,
            read=key,
            allowed=", ".join(known),
            do=f"Did you mean '{near[0]}'?" if near else "Take it out or correct its name.",
        )
    elif kind in ("missing", "missing_keyword_only_argument", "missing_argument"):
        findings.problem(
            "missing-key",
            f"'{name}' is missing",
            line=line,
            name=name,
            allowed=f"{key} = …",
            do=f"Add {key} to this table.",
        )
    else:
        what, allowed = _TYPES.get(kind, ("another kind of value", "see docs/sheet.md"))
        findings.problem(
            "wrong-type",
            f"'{name}' must be {what}",
            line=line,
            name=name,
            read=str(value),
            allowed=allowed,
            do="Correct the value.",
        )


def _dotted(path: Sequence[str | int]) -> str:
    """Return a path as people write it: instrument 2, tare.

    >>> _dotted(("instrument", 1, "tare"))
    'instrument[2].tare'
    """
    return "".join(
        f"[{part + 1}]" if isinstance(part, int) else f".{part}" for part in path
    ).lstrip(".")


def _keys_at(path: Sequence[str | int]) -> list[str]:
    parents = tuple(part for part in path[:-1] if isinstance(part, str))
    shape = _SHAPES.get(parents, WeightTable)
    return [f.name for f in fields(shape)]
