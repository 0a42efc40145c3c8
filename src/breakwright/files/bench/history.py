"""``history.jsonl``: every event of a study, one a line, in the order in which they arrived."""

import json
from collections.abc import Sequence

from breakwright.model.errors import ImpossibleValue, InputRefused, Problem
from breakwright.model.event import Event, Recorded
from breakwright.usecases.bench.event_form import event_form, read_event
from breakwright.usecases.bench.fold import fold
from breakwright.usecases.bench.state import StudyState

__all__ = ["HISTORY", "history_text", "read_history", "state_of"]

HISTORY = "history.jsonl"
_MOST_PROBLEMS = 20


def history_text(events: Sequence[Event]) -> str:
    """Return the events as lines of JSON. The same events give the same text."""
    return "".join(
        # Not sorted: the order of what was measured is the order of the tables' columns.
        json.dumps(event_form(event), ensure_ascii=False, separators=(",", ":")) + "\n"
        for event in events
    )


def read_history(text: str) -> tuple[Event, ...]:
    """Return the events of ``text``, all of one study. Raises InputRefused with every problem."""
    problems: list[Problem] = []
    events: list[Event] = []
    # A line end inside a text is written as \\n in JSON; other line ends are no line ends there.
    for number, line in enumerate(text.split("\n"), start=1):
        if not line.strip():
            continue
        try:
            events.append(read_event(json.loads(line), file=HISTORY))
        except (ValueError, RecursionError):
            problems.append(_refused(number, "this line is not JSON", line))
        except InputRefused as refused:
            problems += [_at(problem, number) for problem in refused.problems]
        if len(problems) >= _MOST_PROBLEMS:
            break
    problems = problems or _as_a_whole(events)
    if problems:
        raise InputRefused(problems)
    return tuple(events)


def state_of(events: Sequence[Event]) -> StudyState:
    """Return what ``events`` come to, each received as it was made."""
    return fold([Recorded(i, event.made, event) for i, event in enumerate(events, start=1)])


def _as_a_whole(events: Sequence[Event]) -> list[Problem]:
    if len({event.study for event in events}) > 1:
        return [_refused(None, "there are events of more than one study", None)]
    if len({event.id for event in events}) < len(events):
        return [_refused(None, "an event comes twice", None)]
    try:
        state_of(events)
    except (ImpossibleValue, IndexError):
        return [_refused(None, "no event makes this study: the beginning is missing", None)]
    return []


def _at(problem: Problem, line: int) -> Problem:
    return Problem(
        problem.code,
        problem.message,
        HISTORY,
        line=line,
        column_name=problem.column_name,
        read=problem.read,
        allowed=problem.allowed,
        do=_DO,
    )


_DO = (
    "Take the file as it was exported. If it is lost, delete it: the tables are then taken as a "
    "new study."
)


def _refused(line: int | None, message: str, read: str | None) -> Problem:
    return Problem(
        "history-unreadable",
        message,
        HISTORY,
        line=line,
        read=None if read is None else read[:80],
        allowed="the events of one study as 'export' wrote them, one a line",
        do=_DO,
    )
