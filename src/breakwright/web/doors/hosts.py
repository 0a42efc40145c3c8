"""By which names this server may be called. A page elsewhere can point a name of its own at this
machine (DNS rebinding); it cannot make the browser say one of these."""

import ipaddress
import re
from collections.abc import Iterable

__all__ = ["host_allowed", "host_name", "is_loopback"]

_HOST = re.compile(r"(?P<name>\[[0-9a-fA-F:.]+\]|[A-Za-z0-9._-]+)(:\d{1,5})?")


def host_name(host: str) -> str | None:
    """Return the name in a Host header, in lower case and without port; None for nonsense.

    >>> host_name("Bench.local:8321"), host_name("[::1]:8321"), host_name("a b")
    ('bench.local', '::1', None)
    """
    found = _HOST.fullmatch(host)
    return None if found is None else found["name"].strip("[]").lower().rstrip(".")


def is_loopback(name: str) -> bool:
    """Does ``name`` (or address) always mean this very machine?

    >>> is_loopback("localhost"), is_loopback("127.0.0.1"), is_loopback("localhost.example.org")
    (True, True, False)
    """
    if name == "localhost":
        return True
    try:
        address = ipaddress.ip_address(name)
    except ValueError:
        return False
    mapped = getattr(address, "ipv4_mapped", None)
    return bool((mapped or address).is_loopback)


def host_allowed(host: str, names: Iterable[str]) -> bool:
    """May a request say it is meant for ``host``? ``names`` are allowed besides loopback."""
    name = host_name(host)
    return name is not None and (is_loopback(name) or name in names)
