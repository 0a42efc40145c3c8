"""Where 'breakwright listen' is seen: one moving line on a terminal, plain lines elsewhere."""

from collections.abc import Iterator
from contextlib import AbstractContextManager, contextmanager
from typing import Protocol

import click

from breakwright.bootstrap.listening import Phase, View
from breakwright.model.loadtext import number_text
from breakwright.model.units import ForceUnit, from_newtons

__all__ = ["MovingScreen", "PlainScreen", "Screen"]

_PHASES = {Phase.REST: "at rest", Phase.PULLING: "pulling", Phase.FALLEN: "fallen"}


class Screen(Protocol):
    """``target`` is what the next pull is for."""

    def show(self, view: View, *, unit: ForceUnit, target: str) -> None: ...

    def say(self, words: str) -> None: ...

    def aside(self) -> AbstractContextManager[None]:
        """Leave the terminal to questions for a while."""
        ...

    def close(self) -> None: ...


class PlainScreen:
    """Says what happens, a line each; numbers that only move are not shown."""

    def show(self, view: View, *, unit: ForceUnit, target: str) -> None:
        """There is nobody who watches."""

    def say(self, words: str) -> None:
        click.echo(words)

    @contextmanager
    def aside(self) -> Iterator[None]:
        yield

    def close(self) -> None:
        """Nothing moves that would have to be stopped."""


class MovingScreen:
    """A line that moves at the foot of the terminal; what is said stays above it."""

    def __init__(self) -> None:
        from rich.console import Console
        from rich.live import Live

        self._console = Console(highlight=False, markup=False, emoji=False)
        self._live = Live(console=self._console, auto_refresh=False, transient=True)
        self._live.start()

    def show(self, view: View, *, unit: ForceUnit, target: str) -> None:
        from rich.text import Text

        self._live.update(Text(_line(view, unit, target)), refresh=True)

    def say(self, words: str) -> None:
        self._console.print(words)

    @contextmanager
    def aside(self) -> Iterator[None]:
        self._live.stop()
        try:
            yield
        finally:
            self._live.start()

    def close(self) -> None:
        self._live.stop()


def _line(view: View, unit: ForceUnit, target: str) -> str:
    if view.gone:
        return f"  the cable is out; waiting   for {target}"
    if not view.lines:
        return f"  no line has come yet   for {target}"
    load = "no number" if view.load is None else _load(view.load, unit)
    parts = [f"  {load:>14}"]
    if view.phase is not Phase.REST:
        parts.append(f"peak {_load(view.peak, unit)}")
    elif view.peak > 0.0:
        parts.append(f"last peak {_load(view.peak, unit)}")
    parts.append(_PHASES[view.phase])
    if view.silent > 1.5:
        parts.append(f"no line for {view.silent:.0f} s")
    return "   ".join([*parts, f"for {target}"])


def _load(newtons: float, unit: ForceUnit) -> str:
    return f"{number_text(from_newtons(newtons, unit))} {unit.value}"
