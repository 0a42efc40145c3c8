"""Every kind of part that the house knows, by its plain name."""

from collections.abc import Mapping
from functools import cache
from types import MappingProxyType

from breakwright.strength.kinds_metal import KINDS as METAL_KINDS
from breakwright.strength.kinds_wood import KINDS as WOOD_KINDS
from breakwright.strength.mechanism import Kind

__all__ = ["kinds"]


@cache
def kinds() -> Mapping[str, Kind]:
    """Return all kinds of part, by name; a name that two kinds claim is a programming error."""
    found: dict[str, Kind] = {}
    for kind in (*WOOD_KINDS, *METAL_KINDS):
        if kind.name in found:
            raise ValueError(f"two kinds of part are called {kind.name!r}")
        found[kind.name] = kind
    return MappingProxyType(found)
