"""``displays.toml``: where the displays of a film stand, and what is known of their numbers."""

import json
import math
import re
import tomllib
from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass
from pathlib import Path
from types import MappingProxyType
from typing import Any

from breakwright.files.display_asked import CORNERS_ALLOWED, DisplayAsked
from breakwright.files.findings import Findings
from breakwright.files.nearest import near_words
from breakwright.files.raw import read_text
from breakwright.files.toml_lines import key_line

__all__ = ["DisplaysFile", "displays_text", "read_displays", "read_displays_text"]

_CORNERS = "corners = [[412, 300], [640, 302], [639, 380], [411, 377]]: " + CORNERS_ALLOWED


@dataclass(frozen=True, slots=True)
class DisplaysFile:
    """``film`` and ``study`` are paths as written, seen from the file's folder; None: not said."""

    displays: tuple[DisplayAsked, ...]
    film: str | None = None
    study: str | None = None


@dataclass(frozen=True, slots=True)
class _Kind:
    """What a key must hold: ``fits`` says whether a value does, ``allowed`` says it in words."""

    fits: Callable[[Any], bool]
    allowed: str


def _is_number(value: Any) -> bool:
    return isinstance(value, int | float) and not isinstance(value, bool) and math.isfinite(value)


def _is_whole(value: Any) -> bool:
    return isinstance(value, int) and not isinstance(value, bool)


def _is_corners(value: Any) -> bool:
    return (
        isinstance(value, list)
        and len(value) == 4
        and all(isinstance(p, list) and len(p) == 2 and all(map(_is_number, p)) for p in value)
    )


_TEXT = _Kind(lambda v: isinstance(v, str) and bool(v.strip()), 'text in quotes: "left scale"')
_ABOVE_0 = _Kind(lambda v: _is_number(v) and v > 0.0, "a number above 0, without quotes")
_DISPLAY: Mapping[str, _Kind] = MappingProxyType(
    {
        "name": _TEXT,
        "corners": _Kind(_is_corners, _CORNERS),
        "time": _Kind(
            lambda v: _is_number(v) and v >= 0.0, "seconds from the film's first frame, 0 or more"
        ),
        "instrument": _TEXT,
        "unit": _TEXT,
        "decimals": _Kind(
            lambda v: _is_whole(v) and 0 <= v <= 6, "how many digits follow the point: 0 to 6"
        ),
        "resolution": _ABOVE_0,
        "capacity": _ABOVE_0,
        "refresh_s": _Kind(
            lambda v: _is_number(v) and 0.0 < v <= 60.0, "seconds between two values, up to 60"
        ),
        "digits": _Kind(
            lambda v: _is_whole(v) and 1 <= v <= 12, "the most digits it shows: 1 to 12"
        ),
    }
)
_TOP: Mapping[str, _Kind] = MappingProxyType(
    {
        "film": _TEXT,
        "study": _TEXT,
        "display": _Kind(
            lambda v: isinstance(v, list) and bool(v) and all(isinstance(d, dict) for d in v),
            "one table [[display]] for each display",
        ),
    }
)


def read_displays(path: Path) -> DisplaysFile:
    """Return what the file says. Raises InputRefused with every problem in it."""
    findings = Findings(str(path))
    text = read_text(path, findings)
    found = None if text is None else _read(text, findings)
    findings.refuse_if_any()
    assert found is not None
    return found


def read_displays_text(text: str, *, file: str) -> DisplaysFile:
    """Return what ``text`` says, as ``read_displays`` does; ``file`` names it in messages."""
    findings = Findings(file)
    found = _read(text, findings)
    findings.refuse_if_any()
    assert found is not None
    return found


def _read(text: str, findings: Findings) -> DisplaysFile | None:
    try:
        data = tomllib.loads(text)
    except (tomllib.TOMLDecodeError, RecursionError) as wrong:
        _refuse_syntax(wrong, text, findings)
        return None
    _check(data, _TOP, (), text, findings)
    if "display" not in data:
        findings.problem(
            "display-missing",
            "this file names no display",
            allowed='[[display]], and below it name = "left scale" and corners = [[x, y], …]',
            do="Add a table for each display, or let 'breakwright read FILM --propose' write one.",
        )
    tables = data.get("display")
    if not isinstance(tables, list) or not all(isinstance(table, dict) for table in tables):
        return None
    for number, table in enumerate(tables):
        _check(table, _DISPLAY, ("display", number), text, findings)
        for key in ("name", "corners"):
            if key not in table:
                findings.problem(
                    "missing-key",
                    f"'{key}' is missing",
                    line=key_line(text, ("display", number)),
                    name=f"display[{number + 1}].{key}",
                    allowed=_CORNERS if key == "corners" else f'{key} = "left scale"',
                    do=f"Add {key} to this table.",
                )
    if len(findings):
        return None
    return DisplaysFile(
        tuple(
            _asked(table, findings.file, key_line(text, ("display", number)))
            for number, table in enumerate(tables)
        ),
        film=data.get("film"),
        study=data.get("study"),
    )


def _check(
    table: Mapping[str, Any],
    known: Mapping[str, _Kind],
    path: tuple[str | int, ...],
    text: str,
    findings: Findings,
) -> None:
    for key, value in table.items():
        name = f"{path[0]}[{int(path[1]) + 1}].{key}" if path else key
        line = key_line(text, (*path, key))
        if key not in known:
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
        elif not known[key].fits(value):
            findings.problem(
                "wrong-type",
                f"'{name}' cannot have this value",
                line=line,
                name=name,
                read=str(value),
                allowed=known[key].allowed,
                do="Correct the value, or take the key out if it is not known.",
            )


def _asked(table: Mapping[str, Any], file: str, line: int | None) -> DisplayAsked:
    said = {key: value for key, value in table.items() if key not in ("name", "corners")}
    for key in ("time", "resolution", "capacity", "refresh_s"):
        if key in said:
            said[key] = float(said[key])
    return DisplayAsked(
        name=table["name"].strip(),
        corners=tuple((float(x), float(y)) for x, y in table["corners"]),
        file=file,
        line=line,
        **said,
    )


def _refuse_syntax(wrong: Exception, text: str, findings: Findings) -> None:
    place = re.search(r"\(at line (\d+), column (\d+)\)", str(wrong))
    line = int(place[1]) if place else None
    lines = text.splitlines()
    findings.problem(
        "toml-syntax",
        "this is not valid TOML: " + re.sub(r"\s*\(at .*\)$", "", str(wrong)),
        line=line,
        column=int(place[2]) if place else None,
        read=lines[line - 1] if line is not None and line <= len(lines) else None,
        allowed=f'key = value, text in quotes: name = "left scale", {_CORNERS.partition(":")[0]}',
        do="Correct this line (or the one above it).",
    )


def displays_text(displays: Iterable[DisplayAsked], *, film: str | None = None) -> str:
    """Return the text of a ``displays.toml`` that reads back as ``displays``."""
    lines = [] if film is None else [f"film = {_quoted(film)}"]
    for one in displays:
        points = ", ".join(f"[{x:.10g}, {y:.10g}]" for x, y in one.corners)
        lines += ["", "[[display]]", f"name = {_quoted(one.name)}", f"corners = [{points}]"]
        for key in tuple(_DISPLAY)[2:]:
            value = getattr(one, key)
            if value is not None:
                written = _quoted(value) if isinstance(value, str) else f"{value:.10g}"
                lines.append(f"{key} = {written}")
    return "\n".join(lines).lstrip("\n") + "\n"


def _quoted(text: str) -> str:
    # A JSON string is a TOML string but for DEL, which JSON leaves as it is.
    return json.dumps(text, ensure_ascii=False).replace("\x7f", "\\u007f")
