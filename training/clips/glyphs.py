"""Which segments of a seven-segment place make up a character, and what a row of places shows."""

from dataclasses import dataclass

__all__ = ["SEGMENTS", "USUAL", "Row", "Variants", "lit", "row_of"]

# a top, b upper right, c lower right, d bottom, e lower left, f upper left, g middle, p point.
SEGMENTS = "abcdefgp"

_SHAPES = {
    "0": "abcdef",
    "O": "abcdef",
    "1": "bc",
    "2": "abged",
    "3": "abgcd",
    "4": "fgbc",
    "5": "afgcd",
    "6": "afgecd",
    "7": "abc",
    "8": "abcdefg",
    "9": "abcdfg",
    "-": "g",
    "E": "afged",
    "L": "fed",
    "r": "eg",
    "o": "cdeg",
    "H": "fbgec",
    " ": "",
}


@dataclass(frozen=True, slots=True)
class Variants:
    """How this maker draws what makers disagree on: a 6 and a 9 with or without their tails, a 7
    with or without its left hook."""

    six_tail: bool = True
    nine_tail: bool = True
    seven_hook: bool = False


USUAL = Variants()


@dataclass(frozen=True, slots=True)
class Row:
    """The lit segments of each place, from the left; ``places[k]`` is a subset of SEGMENTS."""

    places: tuple[frozenset[str], ...]


def lit(character: str, variants: Variants = USUAL) -> frozenset[str]:
    """Return the segments of ``character``.

    >>> "".join(sorted(lit("7", Variants(seven_hook=True))))
    'abcf'
    """
    shape = _SHAPES[character]
    if character == "6" and not variants.six_tail:
        shape = shape.replace("a", "")
    if character == "9" and not variants.nine_tail:
        shape = shape.replace("d", "")
    if character == "7" and variants.seven_hook:
        shape += "f"
    return frozenset(shape)


def row_of(text: str, places: int, variants: Variants = USUAL) -> Row:
    """Return ``text`` set flush right in ``places``; a point belongs to the place before it.

    >>> ["".join(sorted(p)) for p in row_of("1.7", 3).places]
    ['', 'bcp', 'abc']
    """
    sets: list[frozenset[str]] = []
    for character in text:
        if character == ".":
            sets[-1] = sets[-1] | {"p"}
        else:
            sets.append(lit(character, variants))
    if len(sets) > places:
        raise ValueError(f"{text!r} needs {len(sets)} places, the display has {places}")
    return Row((frozenset(),) * (places - len(sets)) + tuple(sets))
