"""A display on the command line: ``left scale: 412,300 640,302 639,380 411,377 @ 0.5``."""

import re
from collections.abc import Mapping
from types import MappingProxyType

from breakwright.files.display_asked import CORNERS_ALLOWED, DisplayAsked
from breakwright.files.findings import Findings
from breakwright.files.nearest import near_words

__all__ = ["DISPLAY_ALLOWED", "read_display_option"]

DISPLAY_ALLOWED = (
    '"left scale: 412,300 640,302 639,380 411,377 @ 0.5; unit=kgf resolution=0.05": a name, '
    f"{CORNERS_ALLOWED}; then, if need be, the time in s, and words key=value"
)
_NUMBER = r"[-+]?(?:\d+(?:\.\d*)?|\.\d+)"
_POINT = re.compile(rf"({_NUMBER}),({_NUMBER})")
_WHOLE = re.compile(
    rf"\s*(?P<name>[^;]+?)\s*:\s*(?P<points>(?:{_NUMBER},{_NUMBER}\s*){{1,9}})"
    rf"(?:@\s*(?P<time>\d+(?:\.\d*)?|\.\d+)\s*s?\s*)?(?:;\s*(?P<facts>.*))?\s*"
)
_FACT = re.compile(r"""([A-Za-z_]+)\s*=\s*("[^"]*"|'[^']*'|\S+)""")
# Key -> pattern of its value and what is allowed there.
_FACTS: Mapping[str, tuple[str, str]] = MappingProxyType(
    {
        "instrument": (r".+", 'a name: instrument="left scale"'),
        "unit": (r"\w+", "N, kN, kgf or lbf"),
        "decimals": (r"[0-6]", "how many digits follow the point: 0 to 6"),
        "resolution": (_NUMBER, "a number above 0"),
        "capacity": (_NUMBER, "a number above 0"),
        "refresh_s": (_NUMBER, "seconds between two values, above 0"),
        "digits": (r"[1-9]|1[0-2]", "the most digits it shows: 1 to 12"),
    }
)


def read_display_option(text: str, findings: Findings) -> DisplayAsked | None:
    """Return the display that ``text`` names; None where a problem was noted.

    >>> found = read_display_option("left: 1,2 9,2 9,8 1,8 @ 0.5; unit=kgf", Findings("--display"))
    >>> found.name, found.corners[2], found.time, found.unit
    ('left', (9.0, 8.0), 0.5, 'kgf')
    """
    whole = _WHOLE.fullmatch(text)
    points = _POINT.findall(whole["points"]) if whole else []
    if whole is None or len(points) != 4:
        message = (
            f"this display has {len(points)} corners, not four"
            if whole
            else "this does not name a display and its corners"
        )
        findings.problem(
            "display-unclear",
            message,
            read=text,
            allowed=DISPLAY_ALLOWED,
            do="Write it in this form, or let 'breakwright read FILM --propose' write a "
            "displays.toml.",
        )
        return None
    facts = _facts(whole["facts"] or "", text, findings)
    if facts is None:
        return None
    return DisplayAsked(
        name=whole["name"],
        corners=tuple((float(x), float(y)) for x, y in points),
        time=float(whole["time"] or 0.0),
        instrument=facts.get("instrument"),
        unit=facts.get("unit"),
        decimals=int(facts["decimals"]) if "decimals" in facts else None,
        resolution=_number(facts, "resolution"),
        capacity=_number(facts, "capacity"),
        refresh_s=_number(facts, "refresh_s"),
        digits=int(facts["digits"]) if "digits" in facts else None,
        file=findings.file,
    )


def _number(facts: Mapping[str, str], key: str) -> float | None:
    return float(facts[key]) if key in facts else None


def _facts(written: str, text: str, findings: Findings) -> dict[str, str] | None:
    said: dict[str, str] = {}
    left = _FACT.sub("", written).strip(" ,")
    if left:
        findings.problem(
            "display-unclear",
            f"'{left}' is no key=value",
            read=text,
            allowed=DISPLAY_ALLOWED,
            do="Write what is known of the display as key=value, parted by spaces.",
        )
        return None
    for key, value in _FACT.findall(written):
        if key not in _FACTS:
            near = near_words(key, _FACTS)
            findings.problem(
                "unknown-key",
                f"'{key}' is not known of a display",
                read=text,
                allowed=", ".join(_FACTS),
                do=f"Did you mean '{near[0]}'?" if near else "Take it out or correct its name.",
            )
            return None
        pattern, allowed = _FACTS[key]
        plain = value.strip("\"'") if value[:1] in "\"'" else value
        above = pattern is not _NUMBER or (
            re.fullmatch(pattern, plain) is not None and float(plain) > 0.0
        )
        if not re.fullmatch(pattern, plain) or not above:
            findings.problem(
                "wrong-type",
                f"'{key}' cannot have this value",
                read=f"{key}={value}",
                allowed=allowed,
                do="Correct the value.",
            )
            return None
        said[key] = plain
    return said
