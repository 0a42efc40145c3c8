"""A file that cannot be read as a film, in words: what it is, what is allowed, what to do."""

from breakwright.model.errors import InputRefused, Problem

__all__ = ["FilmRefused", "film_problem"]

ALLOWED = "a video as a phone or a camera records it (MP4, MOV, MKV, WebM, AVI, 3GP)"


class FilmRefused(InputRefused):
    """The file is no film, or lacks what was asked of it."""


def film_problem(code: str, message: str, file: str, *, allowed: str = ALLOWED, do: str) -> Problem:
    """Return one problem of the film ``file``; ``code`` has a paragraph in the documentation."""
    return Problem(code=code, message=message, file=file, allowed=allowed, do=do)
