"""The report as text: whole, offline, the same each time."""

import re
from html.parser import HTMLParser

import pytest

from breakwright.model.study import RECORD_KEYS
from breakwright.report.notebook import NotebookAnswer
from breakwright.report.numbers import NBSP
from breakwright.report.page import answer_page
from breakwright.report.verdict_words import verdict_words
from breakwright.usecases.result import Answer

from . import samples


class Outline(HTMLParser):
    """Headings, ids and text of a page, and whether every element was closed."""

    VOID = frozenset({"meta", "br", "path", "rect", "line"})

    def __init__(self) -> None:
        super().__init__()
        self.headings: list[int] = []
        self.ids: list[str] = []
        self.fetches: list[str] = []
        self.open: list[str] = []
        self.text: list[str] = []

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        found = dict(attrs)
        if tag in {"h1", "h2", "h3", "h4"}:
            self.headings.append(int(tag[1]))
        if found.get("id"):
            self.ids.append(found["id"] or "")
        link = found.get("src") or found.get("href") or ""
        if link and not link.startswith("#"):
            self.fetches.append(link)
        if tag in {"script", "link", "iframe", "object", "embed"}:
            self.fetches.append(tag)
        if tag not in self.VOID:
            self.open.append(tag)

    def handle_endtag(self, tag: str) -> None:
        if tag not in self.VOID:
            assert self.open.pop() == tag

    def handle_data(self, data: str) -> None:
        self.text.append(data)


def outline(page: str) -> Outline:
    parsed = Outline()
    parsed.feed(page)
    parsed.close()
    return parsed


def text_of(page: str) -> str:
    return " ".join(" ".join(outline(page).text).replace(NBSP, " ").split())


@pytest.mark.parametrize("name", sorted(samples.ALL))
def test_the_page_is_whole_and_fetches_nothing(name: str) -> None:
    page = answer_page(samples.ALL[name])
    parsed = outline(page)
    assert parsed.open == []
    assert parsed.fetches == []
    assert len(parsed.ids) == len(set(parsed.ids))
    without_names = re.sub(r'xmlns(:xlink)?="http://www\.w3\.org/[^"]*"', "", page)
    assert "http://" not in without_names
    assert "https://" not in without_names
    assert "url(" not in without_names
    assert "@import" not in without_names
    assert parsed.headings[0] == 1
    assert parsed.headings.count(1) == 1
    steps = zip(parsed.headings, parsed.headings[1:], strict=False)
    assert all(after - before <= 1 for before, after in steps)
    assert not re.search(r"\b(nan|None|inf)\b", " ".join(parsed.text))


def test_the_same_answer_gives_the_same_page() -> None:
    assert answer_page(samples.full()) == answer_page(samples.full())


def test_what_the_page_must_hold() -> None:
    answer = samples.full()
    text = text_of(answer_page(answer))
    words = verdict_words(answer, answer.comparisons[0])
    for part in (
        words.headline.replace(NBSP, " "),
        *(line.replace(NBSP, " ") for line in words.must_not),
        "Invented data.",
        "cracked before the test",
        "display went dark before the first load",
        "breaks of another kind taken as strengths",
        "left-out pieces put back",
        "Weibull",
        "2025-03-02",
        "mass_g, block",
        "right-censored reading",
        "coefficient of variation",
        "lower bound of the 5th percentile",
        "Technometrics 42(2)",
        "Kaplan and P. Meier (1958)",
        "seed 20250301",
        "Not a rating for lifting people or loads overhead.",
        "licensed practice",
        "ash, one plank, 2024",
    ):
        assert part in text, part
    for key in answer.lacking:
        assert RECORD_KEYS[key] in text


def test_real_data_are_not_called_invented() -> None:
    assert "Invented data" not in answer_page(samples.no_answer())


def test_names_from_a_sheet_are_text() -> None:
    page = answer_page(samples.awkward_names())
    assert "<script" not in page
    assert "<b>" not in page
    assert "&lt;script&gt;alert(1)&lt;/script&gt; &amp; friends" in page


def test_a_long_sheet_shows_the_first_400_rows_and_says_so() -> None:
    page = answer_page(samples.large())
    table = page[page.index('id="cap-pieces"') :]
    assert table[: table.index("</table>")].count("<tr>") == 401
    assert "The first 400 of 3000 pieces are shown" in page


def test_several_groups_cite_holm() -> None:
    assert "S. Holm (1979)" in answer_page(samples.three_groups())
    assert "S. Holm (1979)" not in answer_page(samples.full())


def test_a_notebook_shows_the_verdict_and_a_table() -> None:
    answer = samples.awkward_names()
    shown = NotebookAnswer(answer)
    assert isinstance(shown, Answer)
    assert shown.comparisons == answer.comparisons
    html = shown._repr_html_()
    assert "<table>" in html
    assert "&lt;b&gt;tapered" in html
    assert "<b>" not in html
    assert verdict_words(answer, answer.comparisons[0]).headline in str(shown)
    assert repr(shown).startswith("<answer about plain, drawbored")
