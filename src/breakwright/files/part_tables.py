"""``[[part]]`` tables into parts: their shape. What a kind's numbers may be is checked later,
by the use case that knows the kinds."""

import math
from collections.abc import Mapping, Sequence
from types import MappingProxyType
from typing import Any

from breakwright.files.findings import Findings
from breakwright.files.nearest import listed, near_words
from breakwright.files.part_units import house_key
from breakwright.files.part_values import OwnKeys
from breakwright.files.study_file import StudyFile
from breakwright.model.part import Part
from breakwright.model.units import NEWTONS_PER, ForceUnit

__all__ = ["OWN_KEYS", "described_parts"]

OWN_KEYS = ("name", "kind", "count", "share", "tested", "breaks", "own_tests", "group")


def described_parts(
    study: StudyFile, unit: ForceUnit, groups: Sequence[str], findings: Findings
) -> tuple[Part, ...]:
    """Return the parts of ``study.toml``, as many of them as are possible.

    ``unit`` is the study's, for ``own_tests``; ``groups`` are those that overrides may name.
    """
    parts = []
    names: dict[str, int | None] = {}
    for number, raw in enumerate(study.table.part):
        table = _Table(study, number, raw, findings)
        part = table.part(unit, groups)
        name = str(raw.get("name", "")).strip()
        if name and name in names:
            table.refuse("name", "two parts have this name", name, "a name of its own for each")
        names.setdefault(name, table.line("name"))
        if part is not None:
            parts.append(part)
    tested = [part for part in parts if part.tested]
    for part in tested[1:]:
        findings.problem(
            "two-tested-parts",
            f"'{tested[0].name}' is marked as the piece under test already",
            file=study.file,
            line=part.lines.get("tested"),
            name="tested",
            read=part.name,
            allowed="tested = true in one part only",
            do="Take 'tested' out of the parts that only hold the load.",
        )
    return tuple(parts)


class _Table:
    """One ``[[part]]`` table, its overrides, and where to say what is wrong with it."""

    def __init__(
        self, study: StudyFile, number: int, raw: Mapping[str, Any], findings: Findings
    ) -> None:
        self._study = study
        self._number = number
        self._raw = raw
        self._findings = findings
        self._own = OwnKeys(raw, self.refuse)

    def line(self, *path: str) -> int | None:
        return self._study.line("part", self._number, *path)

    def refuse(
        self,
        key: str,
        message: str,
        read: object,
        allowed: str,
        *,
        code: str = "bad-part",
        do: str = "Correct the value.",
        within: tuple[str, ...] = (),
    ) -> None:
        dotted = ".".join((f"part[{self._number + 1}]", *within, key))
        self._findings.problem(
            code,
            message,
            file=self._study.file,
            line=self.line(*within, key),
            name=dotted,
            read=_shown(read),
            allowed=allowed,
            do=do,
        )

    def part(self, unit: ForceUnit, groups: Sequence[str]) -> Part | None:
        before = len(self._findings)
        name = self._own.word("name")
        kind = self._own.word("kind")
        for key, value in (("name", name), ("kind", kind)):
            if value is None and key not in self._raw:
                self._missing(key)
        count = self._own.count()
        share = self._own.share(count)
        tested = self._own.flag("tested")
        breaks = self._own.word("breaks")
        own = self._own.loads("own_tests", NEWTONS_PER[unit])
        numbers, words, spread, lines = self._open_keys()
        by_group = self._groups(groups)
        if breaks is not None and not tested and "tested" not in self._raw and not own:
            self.refuse(
                "breaks",
                "'breaks' says how the piece under test should break, or by which way own_tests "
                "broke; this part has neither",
                breaks,
                "breaks together with tested = true or own_tests",
                do="Add tested = true if this is the piece under test; otherwise take it out.",
            )
        if len(self._findings) > before or name is None or kind is None:
            return None
        for key in OWN_KEYS:
            if key in self._raw:
                lines[key] = self.line(key) or 0
        lines[""] = self.line() or 0
        return Part(
            name=name,
            kind=kind,
            numbers=MappingProxyType(numbers),
            words=MappingProxyType(words),
            spread=MappingProxyType(spread),
            count=count,
            share=share,
            tested=tested,
            breaks=breaks,
            by_group=MappingProxyType(by_group),
            own_tests=own,
            lines=MappingProxyType(lines),
        )

    def _missing(self, key: str) -> None:
        near = near_words(key, self._raw)
        self.refuse(
            key,
            f"this part has no '{key}'",
            ", ".join(self._raw),
            f'{key} = "…"',
            code="missing-key",
            do=f"Did you write '{near[0]}' for it?" if near else f"Add {key} to this table.",
        )

    def _open_keys(
        self,
    ) -> tuple[dict[str, float], dict[str, str], dict[str, float], dict[str, int]]:
        numbers: dict[str, float] = {}
        words: dict[str, str] = {}
        spread: dict[str, float] = {}
        lines: dict[str, int] = {}
        for key, value in self._raw.items():
            if key in OWN_KEYS:
                continue
            house, factor = house_key(key)
            if isinstance(value, str):
                house = key
                words[key] = value.strip()
                if not value.strip():
                    self.refuse(key, "this is empty", value, "a word, or leave the key out")
            elif house in numbers:
                self._twice(key, house, value)
            else:
                number, cv = self._own.number(key, value)
                if number is not None:
                    numbers[house] = number * factor
                if cv is not None:
                    spread[house] = cv
            lines[house] = self.line(key) or 0
        return numbers, words, spread, lines

    def _twice(self, key: str, house: str, value: object) -> None:
        self.refuse(
            key,
            f"this size is given twice: as {house} and in another unit",
            value,
            "each size once",
            do="Take one of them out.",
        )

    def _groups(self, groups: Sequence[str]) -> dict[str, dict[str, float | str]]:
        raw = self._raw.get("group", {})
        if not isinstance(raw, Mapping) or not all(isinstance(t, Mapping) for t in raw.values()):
            self.refuse(
                "group",
                "'group' holds a table for each group whose pieces differ",
                raw,
                "[part.group.wedged] on a line, and below it the keys that differ",
                code="wrong-type",
            )
            return {}
        found: dict[str, dict[str, float | str]] = {}
        for name, table in raw.items():
            if name not in groups:
                near = near_words(name, groups)
                self.refuse(
                    name,
                    "this is not one of the study's groups",
                    name,
                    listed(groups),
                    code="unknown-group",
                    do=f"Did you mean '{near[0]}'?"
                    if near
                    else "Name one of these, or add the group to 'groups'.",
                    within=("group",),
                )
            found[name] = self._overrides(name, table)
        return found

    def _overrides(self, group: str, table: Mapping[str, Any]) -> dict[str, float | str]:
        found: dict[str, float | str] = {}
        for key, value in table.items():
            within = ("group", group)
            house, factor = house_key(key)
            if key in OWN_KEYS:
                self.refuse(
                    key,
                    f"'{key}' belongs to the whole part and cannot differ by group",
                    value,
                    "sizes and words of the pieces",
                    code="unknown-key",
                    do="Move it up into the part.",
                    within=within,
                )
            elif isinstance(value, str) and value.strip():
                found[key] = value.strip()
            elif isinstance(value, bool) or not isinstance(value, int | float):
                self.refuse(
                    key,
                    "a group's own value is a number or a word; its spread is that of the part",
                    value,
                    "a number such as 18, or a word in quotes",
                    code="wrong-type",
                    within=within,
                )
            elif not math.isfinite(value):
                self.refuse(key, "this is not a number", value, "a finite number", within=within)
            else:
                found[house] = float(value) * factor
        return found


def _shown(value: object) -> str:
    if isinstance(value, float):
        return f"{value:g}"
    return str(value)
