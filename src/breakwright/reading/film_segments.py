"""Seven-segment patterns: what a slow display can show while it goes from one number to another.

A liquid crystal that is slow to clear shows the union of the old and the new segments; one that
is slow to darken, or a row caught half refreshed, shows less. Whatever stands there for a moment
keeps what both numbers have and adds nothing that neither has.
"""

from functools import lru_cache

__all__ = ["lies_between", "union"]

# Segments a (top), b, c, d (bottom), e, f, g (middle), clockwise from the top. 6, 7 and 9 come in
# two shapes each.
_SHAPES = {
    "0": ("abcdef",),
    "1": ("bc", "ef"),
    "2": ("abdeg",),
    "3": ("abcdg",),
    "4": ("bcfg",),
    "5": ("acdfg",),
    "6": ("acdefg", "cdefg"),
    "7": ("abc", "abcf"),
    "8": ("abcdefg",),
    "9": ("abcdfg", "abcfg"),
    "-": ("g",),
    "L": ("def",),
    "E": ("adefg",),
    "r": ("eg",),
    "o": ("cdeg",),
    "H": ("bcefg",),
    " ": ("",),
}
_SETS = {sign: tuple(frozenset(shape) for shape in shapes) for sign, shapes in _SHAPES.items()}
_READ_AS = {_SETS[sign][0]: sign for sign in "0123456789"}


@lru_cache(maxsize=65536)
def lies_between(seen: str, old: str, new: str) -> bool:
    """Whether ``seen`` is a row that can stand there while ``old`` becomes ``new``: each place
    keeps the segments that both have and shows none that neither has.

    >>> lies_between("239.9", "234.9", "235.1"), lies_between("236.9", "234.9", "235.1")
    (True, False)
    """
    rows = [_right_aligned(text) for text in (seen, old, new)]
    width = max(map(len, rows))
    places = zip(*(row.rjust(width) for row in rows), strict=True)
    return all(_place_between(*place) for place in places)


@lru_cache(maxsize=65536)
def union(old: str, new: str) -> str | None:
    """Return the number that the segments of ``old`` and ``new`` together look like, None where
    they look like none (the places are counted from the right, the point is that of ``new``).

    >>> union("234.9", "235.1")
    '239.9'
    >>> union("21", "22") is None
    True
    """
    first, second = _right_aligned(old), _right_aligned(new)
    width = max(len(first), len(second))
    signs = []
    for a, b in zip(first.rjust(width), second.rjust(width), strict=True):
        if a == b or " " in (a, b):
            signs.append(a if b == " " else b)
            continue
        both = _READ_AS.get(_SETS[a][0] | _SETS[b][0]) if a in _SETS and b in _SETS else None
        if both is None:
            return None
        signs.append(both)
    text = "".join(signs)
    decimals = len(new) - 1 - new.index(".") if "." in new else 0
    return f"{text[:-decimals]}.{text[-decimals:]}" if decimals else text


def _right_aligned(text: str) -> str:
    return text.replace(".", "")


def _place_between(seen: str, old: str, new: str) -> bool:
    if seen in (old, new):
        return True
    if not {seen, old, new} <= _SETS.keys():
        return False
    return any(
        (a & b) <= shape <= (a | b) for shape in _SETS[seen] for a in _SETS[old] for b in _SETS[new]
    )
