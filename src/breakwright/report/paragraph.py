"""Text for a terminal that wraps between words but never at a space that must not break."""

import textwrap
from collections.abc import Iterator
from dataclasses import dataclass
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from rich.console import Console, ConsoleOptions
    from rich.text import Text

__all__ = ["Paragraph"]


@dataclass(frozen=True, slots=True)
class Paragraph:
    """One paragraph; ``mark`` stands before its first line and the others hang below the text.

    rich itself breaks a line at a non-breaking space, and '95 %' would fall apart.
    """

    text: str
    mark: str = ""
    style: str = ""

    def __rich_console__(self, console: "Console", options: "ConsoleOptions") -> "Iterator[Text]":
        from rich.text import Text

        lines = textwrap.wrap(
            self.text,
            width=max(20, options.max_width),
            initial_indent=self.mark,
            subsequent_indent=" " * len(self.mark),
            break_on_hyphens=False,
        )
        for line in lines or [""]:
            yield Text(line, style=self.style, no_wrap=True, overflow="fold")
