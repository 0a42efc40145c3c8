"""Write the kinds of part, with their keys and ways to break, into docs/study.md.

    python scripts/kinds_table.py

The text between the two marks is made anew from the catalogue; a test holds the page to it.
"""

from pathlib import Path

from breakwright.strength.catalogue import kinds
from breakwright.strength.mechanism import Key, Kind

PAGE = Path(__file__).parents[1] / "docs" / "study.md"
START, END = "<!-- kinds: made by scripts/kinds_table.py -->\n", "<!-- end of kinds -->"


def key_words(key: Key) -> str:
    left_out = "" if key.default is None else f"; {key.default:g} if left out"
    return f"`{key.name}` ({key.meaning}, {key.low:g} to {key.high:g}{left_out})"


def kind_words(kind: Kind) -> str:
    lines = [f"### `{kind.name}`", "", f"{kind.meaning[:1].upper()}{kind.meaning[1:]}.", ""]
    if kind.keys:
        lines.append(f"- Numbers: {'; '.join(key_words(key) for key in kind.keys)}.")
    words = {name: allowed for name, allowed in kind.words.items() if "material_class" not in name}
    if words:
        told = (f"`{n}`" + (f" ({', '.join(a)})" if a else "") for n, a in words.items())
        lines.append(f"- Words: {'; '.join(told)}.")
    ways: dict[str, set[str]] = {}
    for way in kind.mechanisms:
        ways.setdefault(way.name, set()).add(way.trust.value)
    if ways:
        told = (f"{name} ({' or '.join(sorted(trust))})" for name, trust in ways.items())
        lines.append(f"- Breaks by: {'; '.join(told)}.")
    return "\n".join([*lines, ""])


def kinds_text() -> str:
    """Return the text that belongs between the marks."""
    return "\n".join(kind_words(kind) for kind in kinds().values())


def page(text: str) -> str:
    """Return the page with the part between the marks made anew."""
    before, _, rest = text.partition(START)
    _, _, after = rest.partition(END)
    return f"{before}{START}\n{kinds_text()}\n{END}{after}"


if __name__ == "__main__":
    PAGE.write_text(page(PAGE.read_text("utf-8")), "utf-8")
