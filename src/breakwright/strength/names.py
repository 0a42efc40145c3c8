"""Comparing words that people type with the names that tables know."""

import difflib
import re
import unicodedata
from collections.abc import Iterable

__all__ = ["plain", "same_or_near"]


def plain(text: str) -> str:
    """Return the form in which names are compared: case, hyphens and plurals do not count.

    >>> plain("Douglas-Firs"), plain("  sugar_maple "), plain("ash"), plain("Ashes")
    ('douglas fir', 'sugar maple', 'ash', 'ash')
    """
    spaced = re.sub(r"[\s_\-–,().]+", " ", unicodedata.normalize("NFKC", text).casefold()).strip()
    return " ".join(_singular(word) for word in spaced.split())


def same_or_near(name: str, known: Iterable[str]) -> tuple[str, ...]:
    """Return the known names that hold every word of ``name``, else those that look like it.

    >>> same_or_near("oak", ["northern red oak", "white oak", "ash"])
    ('northern red oak', 'white oak')
    >>> same_or_near("mapel", ["maple", "oak"])
    ('maple',)
    """
    names = list(dict.fromkeys(known))
    words = set(plain(name).split())
    whole = tuple(n for n in names if words and words <= set(plain(n).split()))
    if whole:
        return whole
    scored = sorted(((_likeness(words, n), -k) for k, n in enumerate(names)), reverse=True)
    return tuple(names[-k] for score, k in scored[:4] if score >= _NEAR)


_NEAR = 0.75


def _likeness(words: Iterable[str], name: str) -> float:
    """How like the name is, word by word: a slip in one word must not hide the other."""
    own = plain(name).split()
    best = [max(difflib.SequenceMatcher(None, w, o).ratio() for o in own) for w in words]
    return sum(best) / len(best) if best else 0.0


def _singular(word: str) -> str:
    if len(word) > 4 and word.endswith(("shes", "ches", "xes")):
        return word[:-2]
    if len(word) > 3 and word.endswith("s") and not word.endswith(("ss", "us", "is", "las")):
        return word[:-1]
    return word
