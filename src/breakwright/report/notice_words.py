"""Warnings and remarks in words: each code's sentence is filled from the notice's facts."""

from collections.abc import Mapping
from dataclasses import dataclass
from types import MappingProxyType

from breakwright.model.notice import Notice
from breakwright.model.units import ForceUnit
from breakwright.report.notice_table_answer import ANSWER_NOTICES
from breakwright.report.notice_table_before import BEFORE_NOTICES
from breakwright.report.notice_table_files import FILE_NOTICES
from breakwright.report.notice_table_outcomes import OUTCOME_NOTICES
from breakwright.report.notice_table_plan import PLAN_NOTICES
from breakwright.report.numbers import NBSP, load_format, p_text, percent_text

__all__ = ["KNOWN_CODES", "notice_words"]

# The sentences of a code, the fullest first: the first one whose facts are all there is used.
_TABLE: Mapping[str, tuple[str, ...]] = MappingProxyType(
    {
        code: (words,) if isinstance(words, str) else words
        for table in (
            ANSWER_NOTICES,
            OUTCOME_NOTICES,
            FILE_NOTICES,
            BEFORE_NOTICES,
            PLAN_NOTICES,
        )
        for code, words in table.items()
    }
)
KNOWN_CODES = frozenset(_TABLE)
_MOST_NAMES = 12


@dataclass(frozen=True, slots=True)
class _Fact:
    """One fact in a sentence. What may stand after its name in a template:

    ``{n:piece|pieces}`` the number with its noun; ``{n:/is|are}`` only the word that agrees;
    ``{x:load}`` a load (N) in the shown unit; ``{p:p}`` a p-value; ``{x:percent}`` a share;
    ``{name:quote}`` a name in guillemets; ``{name:quote?the scale}`` the same, or those words
    where there is none. A fact that is None and has no such words spoils the sentence.
    """

    key: str
    value: str | float | int | None
    unit: ForceUnit

    def __format__(self, spec: str) -> str:
        kind, asked, otherwise = spec.partition("?")
        value = self.value
        if value is None:
            if not asked:
                raise KeyError(self.key)
            return otherwise
        if isinstance(value, str):
            return f"«{value}»" if kind == "quote" else value
        if "|" in kind:
            one, many = kind.removeprefix("/").split("|")
            word = one if value == 1 else many
            return word if kind.startswith("/") else f"{_number(value)}{NBSP}{word}"
        match kind:
            case "load":
                return load_format([float(value)], self.unit).load(float(value))
            case "p":
                return p_text(float(value))
            case "percent":
                return percent_text(float(value))
        return _number(value)


def _number(value: float | int) -> str:
    if isinstance(value, int):
        return f"{value:,}".replace(",", "\u202f")
    return f"{value:.3g}"


class _Names(tuple[str, ...]):
    """Names in guillemets, joined; ``{groups:is|are}`` gives the word that agrees with them."""

    __slots__ = ()

    def __format__(self, spec: str) -> str:
        if "|" in spec:
            one, many = spec.split("|")
            return one if len(self) == 1 else many
        shown = [f"«{name}»" for name in self[:_MOST_NAMES]]
        if len(self) > _MOST_NAMES:
            shown.append(f"{len(self) - _MOST_NAMES} more")
        if not shown:
            return "some"
        return shown[0] if len(shown) == 1 else f"{', '.join(shown[:-1])} and {shown[-1]}"


def _unworded(notice: Notice, facts: Mapping[str, _Fact]) -> str:
    about = f" about {_Names(notice.groups)}" if notice.groups else ""
    told = "; ".join(f"{key} = {fact:?not known}" for key, fact in facts.items())
    pieces = f" Pieces: {_Names(notice.pieces)}." if notice.pieces else ""
    saying = f": {told}" if told else ""
    return f"The check '{notice.code}' has something to say{about}{saying}.{pieces}"


def notice_words(notice: Notice, unit: ForceUnit) -> str:
    """Return a notice as one or more sentences, its loads in ``unit``.

    A code without words, or one whose sentences all lack a fact they need, still shows its code
    and every fact it has.
    """
    facts = {key: _Fact(key, value, unit) for key, value in notice.facts.items()}
    # A notice about a comparison names the group first and the reference after it.
    fields = {
        "groups": _Names(notice.groups),
        "one": _Names(notice.groups[:1]),
        "other": _Names(notice.groups[1:2]),
        "pieces": _Names(notice.pieces),
        **facts,
    }
    for template in _TABLE.get(notice.code, ()):
        try:
            text = template.format_map(fields)
        except KeyError:
            continue
        return text[:1].upper() + text[1:]
    return _unworded(notice, facts)
