"""The ``study.toml`` of a study that is taken in: as written, with what was given beside it."""

import tomllib
from collections.abc import Mapping
from typing import TYPE_CHECKING

from breakwright.files.options import ReadOptions
from breakwright.files.source import Source
from breakwright.model.study import Study
from breakwright.model.units import NEWTONS_PER

if TYPE_CHECKING:
    from tomlkit.items import AoT

__all__ = ["described_toml", "without_sheet_key"]


def described_toml(
    written: str | None, source: Source | None, options: ReadOptions, *, title: str
) -> str:
    """Return ``written`` with the answers given as options, or a new text for a lone sheet."""
    if written is not None:
        given = _given(options, source, tomllib.loads(written))
        if not given:
            return written
    import tomlkit

    if written is not None:
        document = tomlkit.parse(written)
        for key, value in given.items():
            document[key] = value
        return tomlkit.dumps(document)
    assert source is not None
    study = source.study
    document = tomlkit.document()
    document["title"] = title
    document["groups"] = list(study.groups)
    document["reference"] = study.reference
    facts = {
        "counts": study.counts,
        "worth": study.worth,
        "unit": study.unit.value,
        "sharing": None if study.sharing is None else study.sharing.value,
    }
    for key, value in facts.items():
        if value is not None:
            document[key] = value
    if study.instruments:
        document["instrument"] = _instruments(study)
    return tomlkit.dumps(document)


def _given(
    options: ReadOptions, source: Source | None, written: Mapping[str, object]
) -> Mapping[str, object]:
    """Return the keys that the text lacks and the readings need, and those given as options."""
    given: dict[str, object | None] = {
        "reference": options.reference,
        "counts": options.counts,
        "worth": options.worth,
        "unit": None if options.unit is None else options.unit.value,
        "sharing": None if options.sharing is None else options.sharing.value,
    }
    if source is not None:
        if "unit" not in written:
            given["unit"] = source.study.unit.value
        if "instrument" not in written and source.study.instruments:
            given["instrument"] = _instruments(source.study)
    return {key: value for key, value in given.items() if value is not None}


def _instruments(study: Study) -> "AoT":
    import tomlkit

    per = NEWTONS_PER[study.unit]
    tables = tomlkit.aot()
    for instrument in study.instruments:
        table = tomlkit.table()
        table["name"] = instrument.name
        if instrument.capacity is not None:
            table["capacity"] = float(f"{instrument.capacity / per:.12g}")
        if instrument.resolution:
            table["resolution"] = float(f"{instrument.resolution / per:.12g}")
        tables.append(table)
    return tables


def without_sheet_key(toml: str) -> str:
    """Return ``toml`` without the key that names a sheet: in the store there is only one."""
    if "sheet" not in tomllib.loads(toml):
        return toml
    import tomlkit

    document = tomlkit.parse(toml)
    del document["sheet"]
    return tomlkit.dumps(document)
