"""How the numbers were made, in one paragraph, with the works it rests on."""

from breakwright.report.comparison_tables import family_name
from breakwright.report.numbers import count_text, level_text
from breakwright.usecases.result import Answer, RatioMethod

__all__ = ["method_words", "references", "reproduce_words"]

_JENG_MEEKER = (
    "S.-L. Jeng and W. Q. Meeker (2000), Comparisons of approximate confidence interval "
    "procedures for type I censored data, Technometrics 42(2)."
)
_KAPLAN_MEIER = (
    "E. L. Kaplan and P. Meier (1958), Nonparametric estimation from incomplete observations, "
    "Journal of the American Statistical Association 53."
)
_HOLM = (
    "S. Holm (1979), A simple sequentially rejective multiple test procedure, Scandinavian "
    "Journal of Statistics 6."
)


def method_words(answer: Answer) -> str:
    """Return the method as one paragraph that names only what was used."""
    methods = {c.ratio.method for c in answer.comparisons}
    family = family_name(answer.method.family)
    parts = [
        "Every reading enters as the range of load that it leaves open: exact, 'at least', "
        "'at most' or between. A "
        f"{family} curve is fitted to each group by maximum likelihood, with its own "
        "median and its own scatter, and the ratio of the medians is tested by the signed root "
        "of the likelihood ratio."
    ]
    if RatioMethod.CALIBRATED in methods:
        parts.append(
            "What that root does on so few pieces is not taken from a table: for each ratio tried, "
            f"{count_text(answer.method.resamples, 'experiment', 'experiments')} like this one "
            "are simulated with that ratio, capped where these were capped, fitted again and "
            "compared, and the ratios that survive make the interval (after Jeng and Meeker)."
        )
    if RatioMethod.LIKELIHOOD in methods:
        parts.append(
            "Where the groups are so large that calibrating changes nothing, the plain "
            "likelihood-ratio interval is given."
        )
    if RatioMethod.SIGN in methods:
        parts.append(
            "Where a whole group outlasted the scale no curve can be fitted: its median is above "
            "its readings unless every piece was lucky, which has the chance one half to the "
            "power of their number, and that limit is set against the other group's."
        )
    parts.append(
        "The steps of the curves are Kaplan and Meier's estimate, which uses 'at least' readings "
        "without inventing strengths for them."
    )
    if len(answer.comparisons) > 1:
        parts.append(
            "With several groups the limits are widened by Holm's procedure, so that all "
            f"verdicts together are right with {level_text(answer.method.level)} confidence."
        )
    return " ".join(parts)


def references(answer: Answer) -> tuple[str, ...]:
    """Return the works that the method rests on."""
    works = [_JENG_MEEKER, _KAPLAN_MEIER]
    if len(answer.comparisons) > 1:
        works.append(_HOLM)
    return tuple(works)


def reproduce_words(answer: Answer) -> str:
    """Return what is needed to get the very same numbers again."""
    method = answer.method
    return (
        f"Breakwright {method.version} with seed {method.seed}, {method.resamples} simulated "
        f"experiments for each limit of the main comparison and {method.side_resamples} for "
        "those beside it. The same sheet, the same version and the same seed give the same "
        "numbers."
    )
