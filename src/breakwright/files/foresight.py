"""``[expected]``, ``[wish]`` and ``[layout]`` of ``study.toml`` into what the model holds."""

import math
from collections.abc import Callable, Sequence
from types import MappingProxyType

from breakwright.files.findings import Findings
from breakwright.files.nearest import listed, near_words
from breakwright.files.study_file import StudyFile
from breakwright.model.foresight import Expected, Layout, Wish
from breakwright.model.units import NEWTONS_PER, ForceUnit

__all__ = ["expected_of", "layout_of", "wish_of"]

_LARGEST_LOAD = 1e9


class _Section:
    """One table of the file and where to say what is wrong with its keys."""

    def __init__(self, name: str, study: StudyFile, findings: Findings) -> None:
        self._name = name
        self._study = study
        self._findings = findings
        self._before = len(findings)

    @property
    def is_whole(self) -> bool:
        return len(self._findings) == self._before

    def refuse(
        self,
        key: str,
        message: str,
        read: object,
        allowed: str,
        *,
        code: str | None = None,
        do: str = "Correct the value, or take the key out if it is not known.",
    ) -> None:
        self._findings.problem(
            code or f"bad-{self._name}",
            message,
            file=self._study.file,
            line=self._study.line(self._name, *key.split(".")),
            name=f"{self._name}.{key}",
            read=f"{read:g}" if isinstance(read, float) else str(read),
            allowed=allowed,
            do=do,
        )

    def demand(
        self, key: str, value: float | None, fits: Callable[[float], bool], allowed: str
    ) -> None:
        if value is not None and not (math.isfinite(value) and fits(value)):
            self.refuse(key, f"'{self._name}.{key}' cannot have this value", value, allowed)

    def demand_known(self, key: str, names: Sequence[str], known: Sequence[str], what: str) -> None:
        for name in names:
            if name not in known:
                near = near_words(name, known)
                self.refuse(
                    f"{key}.{name}",
                    f"'{name}' is not {what} of this study",
                    name,
                    listed(known),
                    code="unknown-name",
                    do=f"Did you mean '{near[0]}'?" if near else "Name one of these.",
                )


def expected_of(
    study: StudyFile, unit: ForceUnit, groups: Sequence[str], findings: Findings
) -> Expected:
    """Return what is expected, loads in N; a plain ``Expected`` where a value cannot be."""
    table, section = study.table.expected, _Section("expected", study, findings)
    section.demand("median", table.median, _is_load, "a load above 0, in the study's unit")
    section.demand(
        "cv", table.cv, lambda v: 0.0 < v <= 2.0, "above 0 and at most 2; 0.2 means 20 %"
    )
    section.demand(
        "wrong_way",
        table.wrong_way,
        lambda v: 0.0 <= v < 1.0,
        "a share from 0 to below 1; 0.1 for one in ten",
    )
    section.demand_known("ratio", tuple(table.ratio), groups, "a group")
    for group, ratio in table.ratio.items():
        section.demand(
            f"ratio.{group}", ratio, lambda v: 0.01 < v < 100.0, "such as 1.2: a fifth stronger"
        )
    for load in table.pilots:
        section.demand("pilots", load, _is_load, "loads above 0, in the study's unit")
    if not section.is_whole:
        return Expected()
    newtons = NEWTONS_PER[unit]
    return Expected(
        median=None if table.median is None else table.median * newtons,
        cv=table.cv,
        ratio=MappingProxyType(dict(table.ratio)),
        wrong_way=table.wrong_way,
        pilots=tuple(load * newtons for load in table.pilots),
    )


def wish_of(study: StudyFile, findings: Findings) -> Wish:
    """Return what is wished for; a plain ``Wish`` where a value cannot be."""
    table, section = study.table.wish, _Section("wish", study, findings)
    section.demand(
        "pieces", table.pieces, lambda v: 2 <= v <= 10_000, "pieces of one group, 2 or more"
    )
    section.demand(
        "chance", table.chance, lambda v: 0.0 < v < 1.0, "between 0 and 1; 0.8: four times in five"
    )
    section.demand(
        "width", table.width, lambda v: v > 1.0, "upper over lower limit, above 1, such as 1.3"
    )
    section.demand("days", table.days, lambda v: 1 <= v <= 1000, "whole days, 1 or more")
    section.demand("longest_run", table.longest_run, lambda v: v >= 1, "a whole number, 1 or more")
    section.demand("seed", table.seed, lambda v: 0 <= v < 2**63, "a whole number, 0 or more")
    for key in ("blocks", "operators"):
        names = [name.strip() for name in getattr(table, key)]
        if not all(names) or len(set(names)) < len(names):
            section.refuse(
                key,
                f"'{key}' names one thing twice, or not at all",
                names,
                'names that differ, such as ["A", "B"]',
            )
    if not section.is_whole:
        return Wish()
    plain = Wish()
    return Wish(
        pieces=table.pieces,
        chance=table.chance,
        width=table.width,
        blocks=tuple(name.strip() for name in table.blocks),
        days=table.days,
        operators=tuple(name.strip() for name in table.operators),
        pairs=table.pairs,
        longest_run=table.longest_run,
        seed=plain.seed if table.seed is None else table.seed,
    )


def layout_of(
    study: StudyFile, unit: ForceUnit, scales: Sequence[str], findings: Findings
) -> Layout:
    """Return how the rig is laid out; a plain ``Layout`` where a value cannot be."""
    table, section = study.table.layout, _Section("layout", study, findings)
    section.demand_known("scale_at_mm", tuple(table.scale_at_mm), scales, "an instrument")
    above = "above 0"
    section.demand("wander_mm", table.wander_mm, lambda v: v >= 0.0, "mm, 0 or more")
    section.demand("rate", table.rate, lambda v: v > 0.0, "load a second, above 0")
    section.demand("loose_mass_kg", table.loose_mass_kg, lambda v: v > 0.0, f"kg, {above}")
    section.demand("stroke_mm", table.stroke_mm, lambda v: v > 0.0, f"mm, {above}")
    places = sorted(table.scale_at_mm.values())
    if len(set(places)) < len(places):
        section.refuse(
            "scale_at_mm",
            "two scales stand at the same place",
            places,
            "a place of its own for each scale along the beam, in mm from one end",
        )
    elif len(places) > 1 and table.load_at_mm is not None:
        section.demand(
            "load_at_mm",
            table.load_at_mm,
            lambda v: places[0] < v < places[-1],
            f"between the outermost scales: {places[0]:g} to {places[-1]:g} mm",
        )
    if not section.is_whole:
        return Layout()
    return Layout(
        scale_at=MappingProxyType(dict(table.scale_at_mm)),
        load_at=table.load_at_mm,
        wander=table.wander_mm,
        rate=None if table.rate is None else table.rate * NEWTONS_PER[unit],
        loose_mass=table.loose_mass_kg,
        stroke=table.stroke_mm,
    )


def _is_load(value: float) -> bool:
    return 0.0 < value < _LARGEST_LOAD
