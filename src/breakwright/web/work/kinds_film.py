"""The kinds of work behind the pages of films."""

from breakwright.web.work.kinds import FILM, QUICK, Kind

__all__ = ["KINDS"]

_TASKS = "breakwright.web.work.tasks_film"
_REVIEW = "breakwright.web.work.tasks_film_review"

KINDS: dict[str, Kind] = {
    "film-still": Kind(QUICK, _TASKS, "still"),
    "film-propose": Kind(QUICK, _TASKS, "propose"),
    "film-read": Kind(FILM, _TASKS, "read"),
    "film-review": Kind(QUICK, _REVIEW, "review"),
    "film-chart": Kind(QUICK, _REVIEW, "chart"),
}
