"""Every code that is known has words, and one that is not still shows all it has."""

import re
import string
from pathlib import Path

import pytest

from breakwright.model.notice import Notice, Weight
from breakwright.model.units import ForceUnit
from breakwright.report.notice_words import _TABLE, KNOWN_CODES, notice_words
from breakwright.report.numbers import NBSP

DOCS = Path(__file__).parents[3] / "docs"
SOURCE = Path(__file__).parents[3] / "src" / "breakwright"

DOCUMENTED = set(
    re.findall(
        r"^### `([a-z0-9-]+)`", (DOCS / "messages.md").read_text("utf-8"), flags=re.MULTILINE
    )
)


def test_every_code_with_words_has_a_paragraph():
    assert set(KNOWN_CODES) <= DOCUMENTED


@pytest.mark.parametrize("code", sorted(KNOWN_CODES))
def test_codes_asked_for_are_known(code: str) -> None:
    assert code in KNOWN_CODES


def test_every_code_that_the_program_raises_is_known() -> None:
    """Read out of the source, so that a new code cannot be forgotten here."""
    raised: set[str] = set()
    for path in SOURCE.rglob("*.py"):
        if "report" not in path.parts:
            raised |= set(
                re.findall(
                    r'(?:Notice|notice_of|noted|warn|\.warning|\.remark)\(\s*"([a-z-]+)"',
                    path.read_text(encoding="utf-8"),
                )
            )
    assert len(raised) > 20
    assert raised - KNOWN_CODES == set()


def _facts(template: str) -> dict[str, str | float | int | None]:
    """Facts of a kind that suits what the template does with them."""
    facts: dict[str, str | float | int | None] = {}
    for _, name, spec, _ in string.Formatter().parse(template):
        if name and name not in {"groups", "pieces", "one", "other"}:
            kind = (spec or "").partition("?")[0]
            facts[name] = "ash" if kind in ("", "quote") and name != "taken" else 3
    return facts


@pytest.mark.parametrize("code", sorted(KNOWN_CODES))
def test_each_sentence_is_whole(code: str) -> None:
    for template in _TABLE[code]:
        notice = Notice(code, Weight.WARNING, ("wedged", "plain"), ("W1",), _facts(template))
        text = notice_words(notice, ForceUnit.KN)
        assert text.endswith(".")
        assert text[0].isupper() or text[0] in "«" or text[0].isdigit()
        assert "{" not in text
        assert "something to say" not in text


def test_numbers_bring_their_noun_and_their_unit() -> None:
    notice = Notice(
        "hidden-ceiling",
        Weight.WARNING,
        ("wedged",),
        ("W3", "W5", "W9"),
        {"value_N": 4400.0, "count": 3, "taken": "at-least"},
    )
    text = notice_words(notice, ForceUnit.KN).replace(NBSP, " ")
    assert text.startswith("3 readings of «wedged» pile up within a hair of the same top value")
    assert "4.40 kN" in text


def test_one_and_many() -> None:
    one = notice_words(Notice("left-out", Weight.REMARK, facts={"count": 1}), ForceUnit.N)
    two = notice_words(Notice("left-out", Weight.REMARK, facts={"count": 2}), ForceUnit.N)
    assert one.startswith(f"1{NBSP}piece was left out")
    assert two.startswith(f"2{NBSP}pieces were left out")


def test_a_missing_instrument_is_the_scale() -> None:
    notice = Notice("never-checked", Weight.REMARK, facts={"instruments": None})
    assert notice_words(notice, ForceUnit.N).startswith("The scale was never checked")


def test_an_unknown_code_shows_its_code_and_facts() -> None:
    notice = Notice("from-the-future", Weight.REMARK, ("a",), ("A1",), {"depth": 3, "why": None})
    text = notice_words(notice, ForceUnit.N)
    for part in ("from-the-future", "«a»", "«A1»", "depth = 3", "why = not known"):
        assert part in text


def test_a_code_without_its_facts_shows_what_it_has() -> None:
    text = notice_words(Notice("wrong-way-independence", Weight.WARNING), ForceUnit.N)
    assert "wrong-way-independence" in text


def test_long_lists_of_names_are_cut() -> None:
    names = tuple(f"P{i}" for i in range(100))
    text = notice_words(Notice("nothing-learned", Weight.WARNING, (), names), ForceUnit.N)
    assert "«P11» and 88 more" in text
