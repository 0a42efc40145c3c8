"""The keys that every part has, whatever its kind: name, count, share, own tests; and how a
number with a spread is written."""

import math
from collections.abc import Mapping
from typing import Any, Protocol

__all__ = ["OwnKeys", "Refuse"]

_CV_MOST = 2.0
_SHARE_SLACK = 0.01
_MOST_PIECES = 1000


class Refuse(Protocol):
    """Notes a problem with one key of the table."""

    def __call__(
        self,
        key: str,
        message: str,
        read: object,
        allowed: str,
        *,
        code: str = ...,
        do: str = ...,
    ) -> None: ...


class OwnKeys:
    """Each method reads one key; a value that cannot be is noted, and a harmless one stands in."""

    def __init__(self, raw: Mapping[str, Any], refuse: Refuse) -> None:
        self._raw = raw
        self._refuse = refuse

    def word(self, key: str) -> str | None:
        value = self._raw.get(key)
        if value is None:
            return None
        if not isinstance(value, str):
            self._refuse(
                key,
                f"'{key}' must be text",
                value,
                'text in quotes, such as "beam"',
                code="wrong-type",
            )
            return None
        if not value.strip():
            self._refuse(key, f"'{key}' is empty", value, "a word or a few")
            return None
        return value.strip()

    def flag(self, key: str) -> bool:
        value = self._raw.get(key, False)
        if not isinstance(value, bool):
            self._refuse(
                key,
                f"'{key}' must be true or false",
                value,
                "true or false, without quotes",
                code="wrong-type",
            )
            return False
        return value

    def count(self) -> int:
        value = self._raw.get("count", 1)
        if isinstance(value, bool) or not isinstance(value, int):
            self._refuse(
                "count",
                "'count' must be a whole number",
                value,
                "how many of this part share the load, such as 4",
                code="wrong-type",
            )
            return 1
        if not 1 <= value <= _MOST_PIECES:
            self._refuse("count", "so many cannot share the load", value, f"1 to {_MOST_PIECES}")
            return 1
        return value

    def share(self, count: int) -> tuple[float, float] | None:
        """Return the share that one of ``count`` pieces bears: a number or [least, most]."""
        value = self._raw.get("share")
        if value is None:
            return None
        ends = value if isinstance(value, list) else [value, value]
        if len(ends) != 2 or not all(_is_number(end) for end in ends):
            self._refuse(
                "share",
                "'share' must be one number, or the least and the most in brackets",
                value,
                "0.5, or [0.46, 0.54]",
                code="wrong-type",
            )
            return None
        low, high = float(ends[0]), float(ends[1])
        if not 0.0 < low <= high <= 1.0:
            self._refuse(
                "share",
                "a share is more than 0 and at most 1, the least before the most",
                value,
                "0.5 for a half, or [0.46, 0.54]",
                do="Write 54 % as 0.54.",
            )
            return None
        if count > 1 and not count * low <= 1.0 + _SHARE_SLACK <= count * high + 2 * _SHARE_SLACK:
            most = f"{count * low:.3g}" if count * low > 1.0 else f"{count * high:.3g}"
            self._refuse(
                "share",
                f"the shares do not add up: {count} pieces with this share bear "
                f"{'at least' if count * low > 1.0 else 'at most'} {most} of the load",
                value,
                f"shares around {1.0 / count:.3g}, so that {count} of them can bear the whole load",
                code="shares-do-not-add-up",
                do="Correct 'share' or 'count'. Parts that each bear another share are tables of "
                "their own, with count left out.",
            )
            return None
        return low, high

    def loads(self, key: str, newtons: float) -> tuple[float, ...]:
        """Return loads in N; ``newtons`` is what one of the study's unit has."""
        value = self._raw.get(key, [])
        if not isinstance(value, list) or not all(_is_number(load) for load in value):
            self._refuse(
                key,
                f"'{key}' must be a list of loads",
                value,
                "loads in the study's unit, such as [41.5, 38.0, 44.2]",
                code="wrong-type",
            )
            return ()
        if any(not 0.0 < load < 1e9 for load in value):
            self._refuse(key, "a load at which a piece broke is above 0", value, "loads above 0")
            return ()
        return tuple(float(load) * newtons for load in value)

    def number(self, key: str, value: object) -> tuple[float | None, float | None]:
        """Return a number and its coefficient of variation, each None where it is not given."""
        if isinstance(value, Mapping):
            return self._with_spread(key, value)
        if not _is_number(value):
            self._refuse(
                key,
                f"'{key}' must be a number or a word",
                value,
                "18, or { value = 18, cv = 0.02 }, or a word in quotes",
                code="wrong-type",
            )
            return None, None
        return _as_float(value), None

    def _with_spread(self, key: str, value: Mapping[str, Any]) -> tuple[float | None, float | None]:
        strangers = sorted(set(value) - {"value", "cv"})
        if strangers or "value" not in value:
            self._refuse(
                key,
                "a number with a spread holds 'value' and 'cv'",
                ", ".join(value),
                "{ value = 18, cv = 0.02 }",
                code="unknown-key" if strangers else "missing-key",
                do="Write it in this form; cv 0.02 means 2 %.",
            )
            return None, None
        number, cv = value["value"], value.get("cv", 0.0)
        if not _is_number(number) or not _is_number(cv):
            self._refuse(
                key,
                "'value' and 'cv' are numbers",
                dict(value),
                "{ value = 18, cv = 0.02 }",
                code="wrong-type",
            )
            return None, None
        if not 0.0 <= cv <= _CV_MOST:
            self._refuse(
                key,
                "a spread (coefficient of variation) lies between 0 and 2",
                cv,
                "0.15 for 15 %",
                do="Write 15 % as 0.15.",
            )
            return None, None
        return _as_float(number), float(cv)


def _is_number(value: object) -> bool:
    return isinstance(value, int | float) and not isinstance(value, bool) and math.isfinite(value)


def _as_float(value: object) -> float:
    assert isinstance(value, int | float)
    return float(value)
