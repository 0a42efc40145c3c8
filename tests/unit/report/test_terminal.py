"""The terminal view in 80 columns, without colour."""

import io

import pytest
from rich.console import Console

from breakwright.report.numbers import NBSP
from breakwright.report.terminal import answer_view, check_view, verdict_view

from . import samples


def shown(view: object, *, width: int = 80) -> str:
    out = io.StringIO()
    Console(file=out, width=width, color_system=None).print(view)
    return out.getvalue()


def flat(text: str) -> str:
    return " ".join(text.replace(NBSP, " ").split())


@pytest.mark.parametrize("name", sorted(samples.ALL))
def test_80_columns_do(name: str) -> None:
    text = shown(answer_view(samples.ALL[name]))
    assert max(map(len, text.splitlines())) <= 80
    assert "\x1b" not in text
    assert "Scatter" in text
    assert "Not a rating for lifting people or loads overhead." in text


def test_the_answer_holds_what_a_person_needs() -> None:
    text = flat(shown(answer_view(samples.full())))
    for part in (
        "Invented data",
        "stronger, by more than the 1.2 that matters.",
        "plain (reference) 11 0 0 1 459 (430 to 489) 8.9 %",
        "wedged 11 4 1 1 659 (591 to 734) 15 %",
        "1.44 times (95 % interval 1.31 to 1.62)",
        "more than 99.9 %",
        "Chance that one piece of «wedged» beats one of «plain»",
        "[hidden-ceiling]",
        "seed 20250301",
    ):
        assert part in text


def test_a_number_keeps_its_unit_on_its_line() -> None:
    for line in shown(answer_view(samples.full()), width=60).splitlines():
        assert not line.lstrip().startswith("%")


def test_an_all_capped_group_has_no_average() -> None:
    assert "at least 620 (98.4 % sure)" in flat(shown(answer_view(samples.all_capped()), width=120))


def test_check_explains_every_row() -> None:
    answer = samples.full()
    text = shown(check_view(answer.pieces, answer.notices, answer.unit))
    assert max(map(len, text.splitlines())) <= 80
    for piece in answer.pieces:
        assert piece.specimen in text
    said = flat(text)
    assert "at least 700 N" in said
    assert "22 pieces read, 2 of them left out with a reason." in said


def test_markup_in_a_sheet_stays_text() -> None:
    answer = samples.awkward_names()
    assert "<b>tapered</b>" in flat(shown(answer_view(answer), width=200))


def test_the_short_view_is_the_verdict_alone() -> None:
    assert flat(shown(verdict_view(samples.full()))).endswith("more than the 1.2 that matters.")
