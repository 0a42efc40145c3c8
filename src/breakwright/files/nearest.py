"""Which known words a mistyped one is near to."""

import difflib
import unicodedata
from collections.abc import Iterable, Sequence

__all__ = ["is_one_slip", "listed", "look_alike_key", "near_words"]

_LISTED = 12


def near_words(word: str, known: Iterable[str]) -> tuple[str, ...]:
    """Return up to three of the known words that are near, the nearest first.

    >>> near_words("Wegded", ["glued", "wedged", "screwed"])
    ('wedged',)
    """
    by_key = {name.casefold(): name for name in known}
    found = difflib.get_close_matches(word.casefold(), list(by_key), n=3, cutoff=0.6)
    return tuple(by_key[key] for key in found)


def listed(words: Sequence[str]) -> str:
    """Return words for a sentence: all of a few, some of many.

    >>> listed(["a", "b"]), listed([])
    ("'a', 'b'", 'none')
    """
    shown = ", ".join(f"'{word}'" for word in words[:_LISTED])
    if len(words) > _LISTED:
        return f"{shown} and {len(words) - _LISTED} more"
    return shown or "none"


def look_alike_key(text: str) -> str:
    """Return the same key for texts that a reader would hardly tell apart.

    Case, spaces, hyphens, underscores, invisible characters and the way accents are stored do
    not count.

    >>> look_alike_key("Wedged tenon") == look_alike_key("wedged-TENON\\u200b")
    True
    """
    return "".join(
        c
        for c in unicodedata.normalize("NFKC", text).casefold()
        if not c.isspace() and c not in "-_" and unicodedata.category(c) != "Cf"
    )


def is_one_slip(word: str, known: str) -> bool:
    """Is ``word`` one slip of the finger away: a letter more, less, changed or swapped?

    In words of up to four letters a changed letter is not a slip: 'gate' is not meant for 'date'.

    >>> [is_one_slip(w, "failure") for w in ("failures", "faliure", "failur", "future")]
    [True, True, True, False]
    >>> is_one_slip("viod", "void"), is_one_slip("gate", "date")
    (True, False)
    """
    if word == known or abs(len(word) - len(known)) > 1:
        return False
    if len(word) == len(known):
        differ = [i for i, (a, b) in enumerate(zip(word, known, strict=True)) if a != b]
        if len(differ) == 1:
            return len(known) > 4
        return (
            len(differ) == 2
            and differ[1] == differ[0] + 1
            and word[differ[0]] == known[differ[1]]
            and word[differ[1]] == known[differ[0]]
        )
    longer, shorter = (word, known) if len(word) > len(known) else (known, word)
    return any(longer[:i] + longer[i + 1 :] == shorter for i in range(len(longer)))
