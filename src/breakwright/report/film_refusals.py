"""What of a film's reading must not be passed over: problems, said like those of any input."""

from collections.abc import Mapping
from types import MappingProxyType

from breakwright.model.errors import Problem
from breakwright.model.film import FilmDoubt, FilmReading

__all__ = ["film_problems"]

_WHY: Mapping[str, str] = MappingProxyType(
    {
        "no-contrast": "had no contrast",
        "lost": "did not show it where it was looked for",
        "no-digits": "showed no digits",
    }
)


def film_problems(reading: FilmReading, *, film: str) -> tuple[Problem, ...]:
    """Return what makes the reading one that must not be used as it is: a display on which
    nothing was read, numbers that jump by ten. ``film`` is the path, for messages."""
    problems = []
    for doubt in reading.doubts:
        if doubt.code == "never-read":
            problems.append(_never_read(doubt, film))
        elif doubt.code == "decimals-doubtful":
            problems.append(_decimals(doubt, film))
    return tuple(problems)


def _never_read(doubt: FilmDoubt, film: str) -> Problem:
    share = 1.0 if doubt.amount is None else doubt.amount
    why = _WHY.get(doubt.text or "", "gave no number")
    return Problem(
        "never-read",
        f"nothing was read on «{doubt.display}»: {100.0 * share:.0f} % of frames {why}",
        film,
        allowed="a digit row that is in the picture, sharp and lit",
        do="Mark the digit row more tightly, or film closer.",
    )


def _decimals(doubt: FilmDoubt, film: str) -> Problem:
    times = "" if doubt.amount is None else f" by {doubt.amount:g} times"
    return Problem(
        "decimals-doubtful",
        f"the numbers on «{doubt.display}» jump{times} at {doubt.start:.2f} s: the decimal point "
        "was lost, or the decimals that were given are wrong",
        film,
        read=doubt.text,
        allowed="as many decimals as the display shows",
        do="Check 'decimals' (or 'resolution') against the contact sheet, then read it again.",
    )
