"""What a person typed at the rig, from the form of a page without scripts to an entry."""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Annotated

from fastapi import Depends, Request

from breakwright.bootstrap.breaking import RigSide
from breakwright.model.event import Entry
from breakwright.model.trial import Ending

__all__ = ["ASK_HOW", "ASK_WHY", "FieldsHere", "Typed", "entry_of", "typed_of", "words_of"]

# What the buttons that ask something first send as ``end``; the others send an Ending.
ASK_HOW = "other"
ASK_WHY = "unfair"


async def _fields(request: Request) -> dict[str, str]:
    form = await request.form()
    return {name: value for name, value in form.items() if isinstance(value, str)}


FieldsHere = Annotated[dict[str, str], Depends(_fields)]


@dataclass(frozen=True, slots=True)
class Typed:
    """The fields as typed, to be shown again where something is to be asked first.

    ``end`` is an Ending's word, ``ASK_HOW`` or ``ASK_WHY``; ``failure`` and ``reason`` answer
    these two.
    """

    loads: tuple[str, ...]
    unit: str
    id: str = ""
    piece: str = ""
    end: str = Ending.BROKE.value
    failure: str = ""
    reason: str = ""
    decimal: str = ""
    scale: str = ""
    together: str = ""
    rate: str = ""
    note: str = ""
    person: str = ""

    @property
    def is_empty(self) -> bool:
        return not any(self.loads)


def words_of(fields: Mapping[str, str], name: str) -> str:
    """Return the field's text on one line, without spaces around it."""
    return " ".join(fields.get(name, "").split())


def typed_of(fields: Mapping[str, str], side: RigSide) -> Typed:
    """Return what the form holds. An earlier answer on a button goes before one being typed."""
    end = words_of(fields, "end") or Ending.BROKE.value
    if words_of(fields, "failure_is"):
        end = ASK_HOW
    elif words_of(fields, "reason_is"):
        end = ASK_WHY
    return Typed(
        loads=tuple(words_of(fields, f"load{i}") for i in range(len(side.displays))),
        unit=words_of(fields, "unit") or side.unit.value,
        id=words_of(fields, "id"),
        piece=words_of(fields, "piece"),
        end=end,
        failure=words_of(fields, "failure_is") or words_of(fields, "failure"),
        reason=words_of(fields, "reason_is") or words_of(fields, "reason"),
        decimal=words_of(fields, "decimal"),
        scale=words_of(fields, "scale"),
        together=words_of(fields, "together"),
        rate=words_of(fields, "rate"),
        note=fields.get("note", "").strip(),
        person=words_of(fields, "person"),
    )


def entry_of(typed: Typed, *, counts: str | None, date: str | None, order: int | None) -> Entry:
    """Return the entry. A break without another word is the one that counts."""
    ended = Ending.BROKE
    failure = typed.failure or None
    if typed.end in {ending.value for ending in Ending}:
        ended = Ending(typed.end)
        if ended is Ending.BROKE and failure is None:
            failure = counts
    return Entry(
        loads=typed.loads,
        unit=typed.unit,
        ended=ended,
        failure=failure,
        note=typed.note or None,
        decimal=typed.decimal or None,
        scale=typed.scale or None,
        together=typed.together or None,
        rate=typed.rate or None,
        date=date,
        order=order,
    )
