"""Things tied together by the names they share, in parts that share none (union-find)."""

from collections.abc import Iterable, Iterator
from typing import Generic, TypeVar

__all__ = ["Parts"]

Thing = TypeVar("Thing")


class Parts(Generic[Thing]):
    """Grows by ``add``. Every name belongs to one part, known by its root.

    >>> parts = Parts()
    >>> _ = parts.add("a note on x", ["n1", "x"])
    >>> _ = parts.add("a note on y", ["n2", "y"])
    >>> parts.of("x")
    ('a note on x',)
    >>> _ = parts.add("x and y are one", ["n3", "x", "y"])
    >>> sorted(parts.of("n2"))
    ['a note on x', 'a note on y', 'x and y are one']
    """

    def __init__(self) -> None:
        self._above: dict[str, str] = {}
        self._things: dict[str, list[Thing]] = {}

    def add(self, thing: Thing, names: Iterable[str]) -> str:
        """Put ``thing`` into the part of all ``names``, at least one, which become one part;
        return its root, good until the next ``add``."""
        roots = list(dict.fromkeys(self.root(name) for name in names))
        # Into the largest, so that no thing is moved more than a few times.
        root = max(roots, key=lambda r: len(self._things.get(r, ())))
        into = self._things.setdefault(root, [])
        for other in roots:
            if other != root:
                self._above[other] = root
                into += self._things.pop(other, [])
        into.append(thing)
        return root

    def root(self, name: str) -> str:
        """Return the root of the part that ``name`` belongs to; a name never seen is its own."""
        above = self._above
        root = name
        while root in above:
            root = above[root]
        while name != root:
            above[name], name = root, above[name]
        return root

    def of(self, name: str) -> tuple[Thing, ...]:
        """Return what is in the part of ``name``, in no order."""
        return tuple(self._things.get(self.root(name), ()))

    def all(self) -> Iterator[Thing]:
        """Return everything, in no order."""
        for things in self._things.values():
            yield from things
