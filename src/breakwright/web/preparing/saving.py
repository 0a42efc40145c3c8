"""A change of the study's text kept as an event, on top of what others changed meanwhile."""

from collections.abc import Callable, Sequence

from breakwright.bootstrap.editing import study_table
from breakwright.bootstrap.prepare import FILE, plan_text
from breakwright.model.errors import ImpossibleValue, InputRefused, Problem
from breakwright.model.event import Body, StudyChanged
from breakwright.usecases.bench.state import Definition, StudyState
from breakwright.web.preparing.looking import part_problems
from breakwright.web.services import Services

__all__ = ["keep", "save_text"]


def keep(services: Services, state: StudyState, bodies: Sequence[Body]) -> tuple[Problem, ...]:
    """Keep what happened, all or none; return what speaks against it."""
    events = [services.event(state.id, body) for body in bodies]
    if not events:
        return ()
    try:
        services.record(events)
    except InputRefused as refused:
        return refused.problems
    return ()


def save_text(
    services: Services,
    state: StudyState,
    *,
    base: str,
    edit: Callable[[str], str],
    touches: Sequence[str] | None = None,
) -> tuple[Problem, ...]:
    """Keep the study's text as ``edit`` makes it of the definition ``base``; return what speaks
    against it (then nothing is kept).

    Where another person changed the text meanwhile, but none of the keys that this form
    ``touches`` (None: all), the change goes on top of theirs; else both are kept, and clash.
    """
    seen = next((d for d in state.definitions if d.event == base), state.heads[-1])
    under = _under(seen, state.heads[-1], touches)
    try:
        text = edit(under.toml)
    except ImpossibleValue as error:
        return (_problem(error),)
    if text == under.toml:
        return ()
    try:
        source = plan_text(text)
    except InputRefused as refused:
        return refused.problems
    if source.study.parts and (
        touches is None or "part" in touches or source.study.groups != _groups(under.toml)
    ):
        problems = part_problems(services, state.id, text)
        if problems:
            return problems
    return keep(services, state, [StudyChanged(text, under.event)])


def _under(seen: Definition, newest: Definition, touches: Sequence[str] | None) -> Definition:
    if seen.event == newest.event or touches is None:
        return seen
    try:
        before, now = study_table(seen.toml), study_table(newest.toml)
    except ImpossibleValue:
        return seen
    same = all(before.get(key) == now.get(key) for key in touches)
    return newest if same else seen


def _groups(text: str) -> tuple[str, ...]:
    try:
        return tuple(study_table(text).get("groups", ()))
    except (ImpossibleValue, TypeError):
        return ()


def _problem(error: ImpossibleValue) -> Problem:
    return Problem(
        "study-not-editable",
        str(error),
        FILE,
        do="Open 'The whole study as text' on the Prepare page and change it there.",
    )
