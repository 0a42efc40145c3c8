"""The few terms that a reader may not know, each explained once, where it first comes up."""

from dataclasses import dataclass

from breakwright.report.numbers import level_text
from breakwright.usecases.result import Answer

__all__ = ["Term", "answer_terms", "curve_terms", "group_terms", "ratio_terms"]


@dataclass(frozen=True, slots=True)
class Term:
    """``plain`` comes first; ``trade`` is the statistician's word for it, or ''."""

    plain: str
    trade: str
    meaning: str


def answer_terms(answer: Answer) -> tuple[Term, ...]:
    """Return the terms of the verdict."""
    level = level_text(answer.method.level)
    return (
        Term(
            f"{level} interval",
            "confidence interval",
            f"The ratios that these pieces leave possible. Made this way, such intervals hold the "
            f"true ratio in {level} of all experiments.",
        ),
    )


def group_terms(answer: Answer) -> tuple[Term, ...]:
    """Return the terms of the tables of groups, only those that come up."""
    terms = [
        Term("Median", "", "The load that half of all such pieces hold and half do not."),
    ]
    if any(g.at_least for g in answer.groups):
        terms.append(
            Term(
                "'At least'",
                "right-censored reading",
                "The piece was stronger than the reading: the scale ran out, the display was "
                "lost, or something else broke first. How much stronger, nobody knows.",
            )
        )
    if any(g.at_most for g in answer.groups):
        terms.append(
            Term(
                "'At most'",
                "left-censored reading",
                "The piece was weaker than the lowest load that could be read.",
            )
        )
    terms += [
        Term(
            "Scatter",
            "coefficient of variation",
            "How far the pieces of a group lie apart: the standard deviation as a share of the "
            "mean.",
        ),
        Term(
            "19 of 20 hold at least",
            "lower bound of the 5th percentile",
            "A load so low that, with the stated sureness, no more than one in twenty such pieces "
            "breaks below it. Few pieces push it far down.",
        ),
    ]
    return tuple(terms)


def ratio_terms(answer: Answer) -> tuple[Term, ...]:
    """Return the terms of the tables of ratios."""
    terms = [
        Term(
            "Sure it is stronger",
            "one minus the one-sided p-value",
            "How rarely two equal groups would look so different, in this direction, by luck.",
        ),
        Term(
            "Shape of scatter",
            "distribution family",
            "The curve that the strengths are taken to follow. Nobody knows the true one, so the "
            "answer is given with three; if they disagree, be careful.",
        ),
    ]
    if len(answer.comparisons) > 1:
        terms.append(
            Term(
                "Allowing for all comparisons",
                "Holm's correction",
                "Who looks often enough finds something by luck. The limits are widened for it.",
            )
        )
    return tuple(terms)


def curve_terms() -> tuple[Term, ...]:
    """Return the terms of the two charts of curves."""
    return (
        Term(
            "Steps",
            "Kaplan-Meier curve",
            "The share still holding, lowered at each break. An 'at least' piece counts as "
            "holding up to its reading and then leaves the count.",
        ),
        Term(
            "Straight-line chart",
            "probability plot",
            "The axes are stretched so that the fitted curve becomes a straight line; points far "
            "off the line say that the curve does not fit.",
        ),
    )
