"""Displays as asked for, made whole with what the study says of their instruments."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from pathlib import Path

from breakwright.files.display_asked import CORNERS_ALLOWED, DisplayAsked
from breakwright.files.findings import Findings
from breakwright.files.instruments import described_instruments
from breakwright.files.locate import locate_study
from breakwright.files.nearest import listed, near_words
from breakwright.files.study_file import StudyFile, read_study_file, read_study_text
from breakwright.files.unit_words import UNITS_ALLOWED, read_unit
from breakwright.model.errors import ImpossibleValue, Problem
from breakwright.model.film import DisplayMark, Quad
from breakwright.model.units import ForceUnit

__all__ = [
    "InstrumentFacts",
    "display_marks",
    "instrument_facts",
    "instrument_facts_text",
    "with_defaults",
]


@dataclass(frozen=True, slots=True)
class InstrumentFacts:
    """What ``study.toml`` says of a display, loads in its own ``unit``, ``capacity`` after what
    was zeroed away; None where it says nothing."""

    name: str
    unit: ForceUnit | None
    capacity: float | None
    resolution: float | None
    refresh: float | None


def instrument_facts(study: Path) -> tuple[InstrumentFacts, ...]:
    """Return the instruments of the study at ``study``, a folder or its ``study.toml``.

    Raises InputRefused with every problem found.
    """
    findings = Findings(str(study))
    place = locate_study(study, findings)
    findings.refuse_if_any()
    findings.file = str(place)
    return _instrument_facts(read_study_file(place, findings), findings)


def instrument_facts_text(toml: str, *, file: str = "study.toml") -> tuple[InstrumentFacts, ...]:
    """Return the instruments of the study that ``toml`` describes, as ``instrument_facts`` does;
    ``file`` names it in messages."""
    findings = Findings(file)
    return _instrument_facts(read_study_text(toml, findings), findings)


def _instrument_facts(file: StudyFile | None, findings: Findings) -> tuple[InstrumentFacts, ...]:
    if file is not None:
        # Says what is wrong with an instrument as every reader of the study would say it.
        described_instruments(file, file.unit or ForceUnit.N, findings)
    findings.refuse_if_any()
    assert file is not None
    found = []
    for table in file.table.instrument:
        own = None if table.unit is None else read_unit(table.unit, file=file.file)
        assert not isinstance(own, Problem)
        found.append(
            InstrumentFacts(
                name=table.name.strip(),
                unit=own or file.unit,
                capacity=None if table.capacity is None else table.capacity - table.tare,
                resolution=table.resolution or None,
                refresh=table.refresh_s,
            )
        )
    return tuple(found)


def display_marks(
    displays: Sequence[DisplayAsked],
    instruments: Sequence[InstrumentFacts],
    findings: Findings,
    *,
    study: str | None = None,
) -> tuple[DisplayMark, ...]:
    """Return the displays as they are to be read, noting each that cannot be.

    A display is the instrument that it names, and is then called as that one, or the one of its
    own name. Where the decimals are not said, they are as many as the resolution has. ``study``
    names the study in messages.
    """
    by_name = {one.name: one for one in instruments}
    marks = []
    names: set[str] = set()
    for asked in displays:
        known = _instrument(asked, by_name, findings, study=study)
        name = asked.name.strip() if known is None else known.name
        if name in names:
            _refuse(
                asked,
                findings,
                "display-twice",
                "two displays have this name",
                allowed="a name of its own for each display",
                do="Give one of them another name.",
            )
        names.add(name)
        unit = _unit(asked, known, findings)
        quad = _quad(asked, findings)
        if quad is None or unit is None:
            continue
        of_unit = known if known is not None and known.unit in (None, unit) else None
        resolution = asked.resolution or (of_unit.resolution if of_unit else None)
        marks.append(
            DisplayMark(
                name=name,
                quad=quad,
                time=asked.time,
                unit=unit.value,
                decimals=_decimals(resolution) if asked.decimals is None else asked.decimals,
                resolution=resolution,
                capacity=asked.capacity or (of_unit.capacity if of_unit else None),
                refresh=asked.refresh_s or (known.refresh if known else None),
                digits=asked.digits,
            )
        )
    return tuple(marks)


def _instrument(
    asked: DisplayAsked,
    known: Mapping[str, InstrumentFacts],
    findings: Findings,
    *,
    study: str | None,
) -> InstrumentFacts | None:
    if asked.instrument is None:
        return known.get(asked.name)
    if asked.instrument in known:
        return known[asked.instrument]
    near = near_words(asked.instrument, known)
    _refuse(
        asked,
        findings,
        "unknown-scale",
        "this display names an instrument, and no study that describes it was given"
        if study is None
        else f"this is not one of the instruments in {study}",
        read=asked.instrument,
        allowed="an instrument of the study given with --study"
        if study is None
        else listed(tuple(known)),
        do=f"Did you mean '{near[0]}'?" if near else "Give --study DIR, or take 'instrument' out.",
    )
    return None


def _unit(
    asked: DisplayAsked, known: InstrumentFacts | None, findings: Findings
) -> ForceUnit | None:
    if asked.unit is None:
        if known is not None and known.unit is not None:
            return known.unit
        if asked.instrument is not None and known is None:
            return None  # that the instrument is not known has been said
        _refuse(
            asked,
            findings,
            "unit-missing",
            "in which unit does this display show its loads? Nothing says it",
            allowed=UNITS_ALLOWED,
            do='Give --unit kgf, write unit=kgf behind the corners or unit = "kgf" into '
            "displays.toml, or give --study DIR.",
        )
        return None
    unit = read_unit(asked.unit, file=asked.file)
    if isinstance(unit, Problem):
        _refuse(
            asked,
            findings,
            unit.code,
            unit.message,
            read=unit.read,
            allowed=unit.allowed,
            do=unit.do,
        )
        return None
    return unit


def _quad(asked: DisplayAsked, findings: Findings) -> Quad | None:
    try:
        return Quad(*asked.corners)
    except ImpossibleValue as wrong:
        _refuse(
            asked,
            findings,
            "corners-cross",
            str(wrong).partition(";")[0],
            read=" ".join(f"{x:g},{y:g}" for x, y in asked.corners),
            allowed=CORNERS_ALLOWED,
            do="Go round the digit row in this order.",
        )
        return None


def _decimals(resolution: float | None) -> int | None:
    """Return how many decimals a display of this resolution shows.

    >>> _decimals(0.05), _decimals(5.0), _decimals(None)
    (2, 0, None)
    """
    if resolution is None:
        return None
    steps = ((n, resolution * 10**n) for n in range(7))
    return next((n for n, step in steps if abs(step - round(step)) < 1e-6), 6)


def _refuse(
    asked: DisplayAsked,
    findings: Findings,
    code: str,
    message: str,
    *,
    read: str | None = None,
    allowed: str | None = None,
    do: str | None = None,
) -> None:
    findings.problem(
        code,
        f"«{asked.name}»: {message}",
        file=asked.file,
        line=asked.line,
        read=read,
        allowed=allowed,
        do=do,
    )


def with_defaults(displays: Sequence[DisplayAsked], said: DisplayAsked) -> tuple[DisplayAsked, ...]:
    """Return the displays with what ``said`` knows where they themselves say nothing."""
    keys = ("unit", "decimals", "resolution", "capacity", "refresh_s", "digits")
    return tuple(
        replace(
            one,
            **{
                key: getattr(said, key)
                for key in keys
                if getattr(one, key) is None and getattr(said, key) is not None
            },
        )
        for one in displays
    )
