"""Labels to pencil on pieces: short, hard to misread, and silent about the group."""

from itertools import pairwise, product

import numpy as np

__all__ = ["LETTERS", "MIXED_UP", "make_labels", "misreadings"]

# Signs that pencil, sawdust or a piece held upside down turn into each other (common practice,
# no source). No two letters in use stand in one of these sets.
MIXED_UP: tuple[frozenset[str], ...] = tuple(
    frozenset(signs)
    for signs in (
        "O0QDCGU6",
        "I1LJ7",
        "S5",
        "B83R",
        "Z27",
        "MWN",
        "UVY",
        "EF",
        "KX",
        "PRF",
        "A4",
        "69G",
        "49",
        "HN",
        "T7Y",
    )
)
LETTERS = "ACEHJKMPTV"


def misreadings(label: str) -> frozenset[str]:
    """Everything that a label may be read as when one of its signs is mixed up.

    >>> sorted(misreadings("AK"))
    ['4K', 'AX']
    """
    found = set()
    for place, sign in enumerate(label):
        for signs in MIXED_UP:
            if sign in signs:
                found |= {label[:place] + other + label[place + 1 :] for other in signs - {sign}}
    return frozenset(found)


def make_labels(count: int, *, seed: int) -> tuple[str, ...]:
    """``count`` different labels in random order: the order tells nothing, the label no group.

    Two letters while they suffice (90 labels), then three; the same letter never twice in a row,
    which is easily written once too often or too seldom.

    >>> make_labels(3, seed=1) == make_labels(3, seed=1)
    True
    """
    if count < 0:
        raise ValueError(f"{count} labels")
    length = 2
    while len(LETTERS) * (len(LETTERS) - 1) ** (length - 1) < count:
        length += 1
    pool = [
        "".join(signs)
        for signs in product(LETTERS, repeat=length)
        if all(a != b for a, b in pairwise(signs))
    ]
    rng = np.random.default_rng(np.random.SeedSequence([seed, 43]))
    return tuple(pool[k] for k in rng.permutation(len(pool))[:count])
