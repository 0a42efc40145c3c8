"""What every HTML page is made with: the templates, and the colours of its charts in the dark."""

from typing import TYPE_CHECKING

from breakwright.report.charts.theme import DARK, LIGHT

if TYPE_CHECKING:
    from jinja2 import Environment

__all__ = ["dark_colours", "page_environment"]


def page_environment() -> "Environment":
    """Return the templates of the house, everything escaped that goes into them."""
    from jinja2 import Environment, PackageLoader, StrictUndefined

    return Environment(
        loader=PackageLoader("breakwright.report", "templates"),
        autoescape=True,
        trim_blocks=True,
        lstrip_blocks=True,
        undefined=StrictUndefined,
    )


def dark_colours() -> list[tuple[str, str]]:
    """Return each colour of the light charts with the one that stands for it in the dark."""
    names = ("background", "ink", "muted", "grid", "band")
    pairs = [(getattr(LIGHT, name), getattr(DARK, name)) for name in names]
    return pairs + list(zip(LIGHT.palette, DARK.palette, strict=True))
