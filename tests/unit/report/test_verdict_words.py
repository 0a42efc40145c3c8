"""Every verdict in words. The sentences are the project's own; what they must say and must never
say is taken from the needs of users ('no difference' is never claimed from a wide scatter)."""

import dataclasses
import re

import pytest

from breakwright.report.missing_words import missing_words
from breakwright.report.numbers import NBSP
from breakwright.report.verdict_words import short_verdict, verdict_words
from breakwright.usecases.result import Answer, VerdictKind

from . import samples


def words_of(answer: Answer) -> tuple[str, str, str]:
    words = verdict_words(answer, answer.comparisons[0])
    parts = (words.headline, words.support, " ".join(words.must_not))
    first, second, third = (part.replace(NBSP, " ") for part in parts)
    return first, second, third


@pytest.mark.parametrize(
    ("kind", "says"),
    [
        (
            VerdictKind.STRONGER_MATTERS,
            "«wedged» held 1.44 times as much as «plain» (95 % interval 1.31 to 1.62): stronger, "
            "by more than the 1.2 that matters.",
        ),
        (
            VerdictKind.STRONGER,
            "«wedged» held 1.23 times as much as «plain» (95 % interval 1.08 to 1.40): stronger; "
            "whether by more than the 1.2 that matters is not settled.",
        ),
        (
            VerdictKind.WEAKER,
            "«wedged» held 0.88 times as much as «plain» (95 % interval 0.79 to 0.97): weaker; "
            "whether by as much as matters is not settled.",
        ),
        (
            VerdictKind.WEAKER_MATTERS,
            "«wedged» held 0.58 times as much as «plain» (95 % interval 0.50 to 0.67): weaker, "
            "below the 0.83 at which it begins to matter.",
        ),
        (
            VerdictKind.NO_DIFFERENCE,
            "No difference that matters: «wedged» held 0.94 to 1.09 times as much as "
            "«plain» (95 % interval), inside the 0.83 to 1.2 that would not matter.",
        ),
        (
            VerdictKind.NOT_SETTLED,
            "Not settled whether «wedged» is stronger than «plain»: anything from 0.93 to 1.31 "
            "times is still possible (95 % interval).",
        ),
        (
            VerdictKind.ONLY_LOWER_LIMIT,
            "All 6 pieces of «wedged» outlasted the scale: at least 1.21 times as strong as "
            "«plain» (95 % confidence), so stronger by more than the 1.2 that matters; how much "
            "more, this test cannot say.",
        ),
        (
            VerdictKind.ONLY_UPPER_LIMIT,
            "All 5 pieces of «plain» outlasted the scale: «wedged» is at most 0.81 times as "
            "strong (95 % confidence), so weaker by more than matters; how much less, this test "
            "cannot say.",
        ),
        (
            VerdictKind.NO_ANSWER,
            "No answer possible for «wedged» against «plain»: every piece of both outlasted what "
            "could be read.",
        ),
    ],
)
def test_each_verdict_has_its_sentence(kind: VerdictKind, says: str) -> None:
    assert words_of(samples.of_kind(kind))[0] == says
    assert short_verdict(kind)


def test_how_many_more_pieces() -> None:
    assert words_of(samples.of_kind(VerdictKind.NOT_SETTLED))[1] == (
        "About 9 more pieces in each group would settle it four times in five, if the true ratio "
        "is near 1.10."
    )
    assert words_of(samples.unlimited())[1].startswith("More than 400 more pieces")


def test_an_open_interval_is_open_in_words() -> None:
    headline, _, must_not = words_of(samples.unlimited())
    assert "anything from 0.80 times up, without a limit" in headline
    assert "a difference without a limit is still possible" in must_not


@pytest.mark.parametrize("name", sorted(samples.ALL))
def test_no_difference_is_claimed_only_where_the_verdict_is_so(name: str) -> None:
    answer = samples.ALL[name]
    for comparison in answer.comparisons:
        words = verdict_words(answer, comparison)
        said = f"{words.headline} {words.support}".lower()
        claimed = "no difference" in said or "equal" in said
        assert claimed == (comparison.verdict.kind is VerdictKind.NO_DIFFERENCE)
        assert "because of" not in said
        assert "100 %" not in said.replace(NBSP, " ")
        assert not re.search(r"\b(nan|inf|None)\b", said)
        assert words.must_not


def test_no_difference_says_within_what() -> None:
    _, _, must_not = words_of(samples.of_kind(VerdictKind.NO_DIFFERENCE))
    assert "a difference within 0.94 to 1.09 times remains possible" in must_not


def test_several_groups_name_the_correction() -> None:
    _, support, _ = words_of(samples.three_groups())
    assert "for all 2 comparisons with «plain» together (Holm's correction)" in support
    assert "97.5 % interval" in words_of(samples.three_groups())[0]


def test_wrong_way_breaks_are_not_called_the_scale() -> None:
    answer = samples.all_capped()
    wrong = [
        dataclasses.replace(g, wrong_way=6) if g.name == "wedged" else g for g in answer.groups
    ]
    headline, _, _ = words_of(dataclasses.replace(answer, groups=tuple(wrong)))
    assert headline.startswith("All 6 pieces of «wedged» broke another way than the one that")


def test_a_limit_just_above_one_is_not_rounded_onto_it() -> None:
    assert "1.003 to 1.90" in words_of(samples.awkward_names())[0]


def test_missing_numbers_have_reasons() -> None:
    assert "code 'brand-new'" in missing_words("brand-new")
