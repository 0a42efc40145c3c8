"""Marks as a ``displays.toml``, the form that ``breakwright read`` takes."""

from collections.abc import Mapping, Sequence

from breakwright.model.film import DisplayMark

__all__ = ["displays_table"]


def displays_table(
    film: str,
    marks: Sequence[DisplayMark],
    *,
    instruments: Mapping[str, str] | None = None,
    head: str = "",
) -> str:
    """Return the file's text. A display that ``instruments`` has an instrument of the study for
    takes unit, capacity, resolution and refresh from that."""
    lines = [head.rstrip(), f'film = "{film}"'] if head else [f'film = "{film}"']
    for mark in marks:
        corners = ", ".join(f"[{x:.1f}, {y:.1f}]" for x, y in mark.quad.corners)
        lines += ["", "[[display]]", f'name = "{mark.name}"', f"corners = [{corners}]"]
        lines.append(f"time = {mark.time:.3f}")
        instrument = (instruments or {}).get(mark.name)
        if instrument is not None:
            lines.append(f'instrument = "{instrument}"')
        else:
            lines += [
                f'unit = "{mark.unit}"',
                f"resolution = {mark.resolution}",
                f"capacity = {mark.capacity}",
                f"refresh_s = {mark.refresh}",
            ]
        lines += [f"decimals = {mark.decimals}", f"digits = {mark.digits}"]
    return "\n".join(lines) + "\n"
