"""What a person typed into a form, and what is wrong with it, field by field."""

import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from typing import Annotated
from urllib.parse import parse_qsl

from fastapi import Depends, HTTPException, Request

__all__ = ["Form", "FormHere", "number_text", "read_number"]

# A form is typed by a person; the whole study.toml as text is the longest.
_LONGEST = 600_000
_MOST_FIELDS = 20_000
_NUMBER = re.compile(r"[+\-−]?(\d+([.,]\d*)?|[.,]\d+)", re.ASCII)


def read_number(text: str) -> float | int | str:
    """Return the number typed, or what is wrong with it. A comma before three digits may part
    thousands, so it is asked about.

    >>> read_number("1,5"), read_number(" 12 "), read_number("0,125")
    (1.5, 12, 0.125)
    >>> read_number("1,234")
    'Is this 1.234 or 1234? Write it with a point, or without the comma.'
    """
    plain = text.strip().replace("−", "-")
    if not _NUMBER.fullmatch(plain):
        return "This is not a number. Write it as 12 or 12.5, without its unit."
    whole, comma, after = plain.partition(",")
    if comma and len(after) == 3 and whole.lstrip("+-0"):
        joined = f"{whole}{after}"
        return f"Is this {whole}.{after} or {joined}? Write it with a point, or without the comma."
    plain = plain.replace(",", ".")
    return float(plain) if "." in plain else int(plain)


def number_text(value: object) -> str:
    """Return a number as a person would type it.

    >>> number_text(50.0), number_text(0.05), number_text(None)
    ('50', '0.05', '')
    """
    if value is None:
        return ""
    if isinstance(value, float):
        return f"{value:.10g}"
    return str(value)


@dataclass(slots=True)
class Form:
    """``typed`` holds the (last) text of each field, ``many`` all of a field that comes more than
    once; ``errors`` what is wrong, by field."""

    typed: dict[str, str] = field(default_factory=dict)
    many: dict[str, list[str]] = field(default_factory=dict)
    errors: dict[str, str] = field(default_factory=dict)

    @classmethod
    def of(cls, values: Mapping[str, object]) -> "Form":
        """Return a form that shows ``values``: numbers as typed, None as nothing."""
        return cls({name: number_text(value) for name, value in values.items()})

    @property
    def is_fine(self) -> bool:
        return not self.errors

    def refuse(self, name: str, words: str) -> None:
        self.errors.setdefault(name, words)

    def text(self, name: str, *, most: int = 400) -> str:
        """Return the text of one line, without spaces around it."""
        text = " ".join(self.typed.get(name, "").split())
        if len(text) > most:
            self.refuse(name, f"This is too long: {len(text)} characters, {most} at most.")
        return text

    def needed(self, name: str, words: str, *, most: int = 400) -> str:
        """Return the text; ``words`` say what is missing where there is none."""
        text = self.text(name, most=most)
        if not text:
            self.refuse(name, words)
        return text

    def lines(self, name: str) -> tuple[str, ...]:
        """Return the lines that say something, each without spaces around it."""
        lines = (" ".join(line.split()) for line in self.typed.get(name, "").splitlines())
        return tuple(line for line in lines if line)

    def choice(self, name: str, allowed: Sequence[str]) -> str | None:
        """Return the choice, None for none."""
        text = self.text(name)
        if text and text not in allowed:
            self.refuse(name, f"Choose one of: {', '.join(allowed)}.")
        return text or None

    def number(
        self, name: str, *, low: float | None = None, high: float | None = None
    ) -> float | int | None:
        """Return the number (ends of the range included), None where nothing is typed."""
        text = self.typed.get(name, "").strip()
        if not text:
            return None
        value = read_number(text)
        if isinstance(value, str):
            self.refuse(name, value)
            return None
        if (low is not None and value < low) or (high is not None and value > high):
            ends = (
                f"from {low:g} to {high:g}"
                if low is not None and high is not None
                else f"{low:g} or more"
                if low is not None
                else f"at most {high:g}"
            )
            self.refuse(name, f"{number_text(value)} is outside what is possible: {ends}.")
        return value

    def above(self, name: str, least: float) -> float | int | None:
        """Return the number, which must be above ``least``."""
        value = self.number(name)
        if value is not None and value <= least:
            self.refuse(name, f"This must be above {least:g}.")
        return value

    def whole(self, name: str, *, low: int, high: int) -> int | None:
        """Return the whole number."""
        value = self.number(name, low=low, high=high)
        if isinstance(value, float) and value.is_integer():
            value = int(value)
        if isinstance(value, float):
            self.refuse(name, "This must be a whole number.")
            return None
        return value

    def numbers(self, name: str) -> list[float | int]:
        """Return numbers that stand in one field, parted by spaces, semicolons or lines."""
        found: list[float | int] = []
        for text in re.split(r"[\s;]+", self.typed.get(name, "").strip()):
            if not text:
                continue
            value = read_number(text.rstrip(","))
            if isinstance(value, str):
                self.refuse(name, f"'{text}': {value} Put a space between two numbers.")
                return []
            found.append(value)
        return found


async def form_of(request: Request) -> Form:
    """Return the form that came with ``request``, in the form that browsers send."""
    body = bytearray()
    async for piece in request.stream():
        body += piece
        if len(body) > _LONGEST:
            raise HTTPException(413, "This form is too large.")
    try:
        pairs = parse_qsl(body.decode("ascii"), keep_blank_values=True, max_num_fields=_MOST_FIELDS)
    except ValueError:
        raise HTTPException(400, "This form could not be read; nothing was changed.") from None
    form = Form()
    for name, value in pairs:
        form.typed[name] = value.replace("\r\n", "\n").replace("\x00", "")
        form.many.setdefault(name, []).append(form.typed[name])
    return form


FormHere = Annotated[Form, Depends(form_of)]
