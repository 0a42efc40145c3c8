"""What goes to standard error when something is wrong."""

from collections.abc import Iterable

import click

from breakwright.model.errors import Problem

__all__ = ["say_problems", "say_trouble"]


def say_trouble(sentence: str) -> None:
    click.echo(f"breakwright: {sentence}.", err=True)


def say_problems(problems: Iterable[Problem]) -> None:
    from breakwright.report.problem_words import problems_text

    click.echo(problems_text(problems), err=True)
