"""A new ``study.toml`` from the few things that a person knows on the first day."""

import re
import unicodedata
from collections.abc import Collection
from dataclasses import dataclass

__all__ = ["NewScale", "NewStudy", "free_handle", "new_study_toml", "title_of"]

_LONGEST_TITLE = 60
_LONGEST_HANDLE = 40


@dataclass(frozen=True, slots=True)
class NewScale:
    """A scale at hand; loads in the study's unit, None: not known."""

    name: str
    capacity: float | None = None
    resolution: float | None = None


@dataclass(frozen=True, slots=True)
class NewStudy:
    """``counts`` is how a piece should break, ``worth`` the smallest ratio worth knowing;
    ``sharing`` ('same-moment', 'separate-peaks') is for two scales that bear the load together."""

    question: str
    groups: tuple[str, ...]
    reference: str
    counts: str | None = None
    worth: float | None = None
    unit: str = "N"
    scales: tuple[NewScale, ...] = ()
    sharing: str | None = None


def title_of(question: str) -> str:
    """Return a short title made from a question.

    >>> title_of("Does a wedge make a glued peg hold better in a coat rail? I doubt it.")
    'Does a wedge make a glued peg hold better in a coat rail?'
    """
    first = re.split(r"(?<=[?!.])\s+", " ".join(question.split()))[0]
    if len(first) <= _LONGEST_TITLE:
        return first
    cut = first[:_LONGEST_TITLE].rsplit(" ", 1)[0]
    return f"{cut.rstrip(',;:')}…"


def free_handle(title: str, taken: Collection[str]) -> str:
    """Return a short name for addresses, made from ``title``, that is not in ``taken``.

    >>> free_handle("Größe 4 × Peg?", {"grosse-4-peg"})
    'grosse-4-peg-2'
    """
    plain = unicodedata.normalize("NFKD", title.replace("ß", "ss")).encode("ascii", "ignore")
    words = re.findall(r"[a-z0-9]+", plain.decode().lower())
    handle = "-".join(words)[:_LONGEST_HANDLE].rstrip("-") or "study"
    free, number = handle, 1
    while free in taken:
        number += 1
        free = f"{handle}-{number}"
    return free


def new_study_toml(new: NewStudy) -> str:
    """Return the text of a ``study.toml`` with a line of explanation where one helps."""
    import tomlkit

    document = tomlkit.document()
    document["title"] = title_of(new.question)
    document["question"] = " ".join(new.question.split())
    document.add(tomlkit.nl())
    document["groups"] = list(new.groups)
    document["reference"] = new.reference
    document["reference"].comment("the group that the others are held against")
    if new.counts:
        document["counts"] = new.counts
        document["counts"].comment("how it should break; another way counts as 'at least'")
    if new.worth is not None:
        document["worth"] = new.worth
        document["worth"].comment("the smallest ratio worth knowing")
    document["unit"] = new.unit
    document["unit"].comment("of every load in this file that has no unit in its name")
    if new.sharing:
        document["sharing"] = new.sharing
    if new.scales:
        scales = tomlkit.aot()
        for scale in new.scales:
            table = tomlkit.table()
            table["name"] = scale.name
            if scale.capacity is not None:
                table["capacity"] = scale.capacity
            if scale.resolution is not None:
                table["resolution"] = scale.resolution
            scales.append(table)
        document.add(tomlkit.nl())
        document["instrument"] = scales
    made: str = tomlkit.dumps(document)
    return made
