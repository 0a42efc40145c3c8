"""From a chart's specification to the bytes of an SVG or a PNG, without a network."""

import json
import re
from html import escape

from breakwright.report.charts.figure import Figure

__all__ = ["png", "svg"]


def _version() -> str:
    import altair as alt

    return ".".join(alt.SCHEMA_VERSION.split(".")[:2])


def svg(figure: Figure) -> str:
    """Return the figure as SVG with its title and description inside, for screen readers."""
    import vl_convert

    drawn: str = vl_convert.vegalite_to_svg(
        json.dumps(figure.spec), vl_version=_version(), allowed_base_urls=[]
    )
    head, tag, rest = drawn.partition("<svg ")
    rest = re.sub(r"<[a-z]+ [^<>]*>", _without_roles, rest)
    inside = f"<title>{escape(figure.title)}</title><desc>{escape(figure.alt)}</desc>"
    attributes, close, body = rest.partition(">")
    name = escape(f"{figure.title}: {figure.alt}")
    return f'{head}{tag}role="img" aria-label="{name}" {attributes}{close}{inside}{body}'


def _without_roles(tag: re.Match[str]) -> str:
    """Drop the roles that the drawing library gives to parts: the whole is one picture."""
    return re.sub(r' (?:role|aria-[a-z]+)="[^"]*"', "", tag.group())


def png(figure: Figure, *, scale: float) -> bytes:
    """Return the figure as PNG, ``scale`` px of the picture for each px of its size."""
    import vl_convert

    drawn: bytes = vl_convert.vegalite_to_png(
        json.dumps(figure.spec), vl_version=_version(), scale=scale, allowed_base_urls=[]
    )
    return drawn
